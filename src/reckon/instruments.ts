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

/**
 * What is against the instrument of something measured: an instrument that had itself not been compared in time
 * decides all the same, and it is said.
 *
 * @returns `by an instrument whose own check was overdue since 2026-04-28: clamp meter`, or null for nothing.
 */
export function instrumentCaveat(
  instruments: ReadonlyMap<string, Instrument>,
  taken: { readonly with: string | null; readonly date: string },
): string | null {
  const instrument = taken.with === null ? undefined : instruments.get(taken.with);
  const since = checkOverdueSince(instrument, taken.date);
  if (since === null || instrument === undefined) return null;
  return `by an instrument whose own check was overdue since ${since}: ${instrument.name}`;
}
