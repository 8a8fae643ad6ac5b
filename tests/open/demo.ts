import type { Reckoning } from '../../src/reckon/model.js';
import { reckon } from '../../src/reckon/reckon.js';
import { DEMO, loadBook } from '../site/demo.js';

/** The demo book as of a day after its last entry. */
export const AS_OF = '2026-11-20';

export async function demo(asOf = AS_OF): Promise<Reckoning> {
  return reckon(await loadBook(DEMO), asOf);
}
