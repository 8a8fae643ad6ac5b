import type { Instrument } from '../check/model.js';
import { addInterval } from './calendar.js';

/**
 * Whether an instrument had gone too long without being compared on a day when it was used. Only the last
 * comparison is on record: of a day before it, nothing is known and nothing is said.
 *
 * @param instrument undefined where the book does not have it.
 * @param date the day, `YYYY-MM-DD`.
 * @returns the day on which the comparison was due, or null.
 */
export function checkOverdueSince(instrument: Instrument | undefined, date: string): string | null {
  if (instrument === undefined || instrument.checked === null || instrument.againEvery === null) return null;
  const due = addInterval(instrument.checked, instrument.againEvery);
  return due < date ? due : null;
}
