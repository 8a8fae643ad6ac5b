import { differencesOf, isSame } from '../seal/compare.js';
import { sealsIn } from '../seal/store.js';
import { findBook } from './book-root.js';
import { paintFor } from './colour.js';
import type { Given } from './command.js';
import type { Effects } from './effects.js';
import { EXIT } from './refusal.js';
import { namedSeal } from './seal-named.js';
import { differenceLines } from './seal-report.js';

/** `ribband seal --since OLD`: what came, went and was changed between two seals. No difference is wrong in itself. */
export async function sealSince(given: Given, effects: Effects): Promise<number> {
  const root = findBook(given.operands[0], effects);
  const kept = sealsIn(root);
  const old = namedSeal(given.value('since'), root, kept, null, effects);
  const now = namedSeal(given.value('seal'), root, kept, null, effects);
  for (const { file, opened } of [old, now]) {
    if (typeof opened !== 'string') continue;
    effects.out(`${file} is no whole seal: ${opened}.\n`);
    return EXIT.problems;
  }
  if (typeof old.opened === 'string' || typeof now.opened === 'string') return EXIT.problems;
  const differences = differencesOf(old.opened.seal, now.opened.seal);
  const days = `${old.file} (${old.opened.seal.made}) and ${now.file} (${now.opened.seal.made})`;
  const paint = paintFor(effects.outIsTerminal, effects.env);
  const text = isSame(differences)
    ? [`Nothing differs between ${days}.`]
    : [`Between ${days}:`, ...differenceLines(differences, paint)];
  effects.out(`${text.join('\n')}\n`);
  return EXIT.clean;
}
