import { unitsFor } from '../quantity/index.js';
import type { Due } from './kind-due.js';
import { choice, type Offer, type Offers } from './offer.js';

/** Units behind a number that is being typed. */

/** A comparison, a number, maybe with how far it may be off; then the beginning of a unit. */
const NUMBER_THEN_UNIT = /^([<>=≤≥\s]*[-+−]?\d[\d.,/ ]*(?:\s*(?:±|\+\/-)\s*[\d.,]*\d)?)(\s*)([^\s\d±]*)$/;

/**
 * Units that fit behind a number, commonest first; null where no number stands before the cursor.
 *
 * @param before what stands before the cursor in the value.
 * @param currency that of the book.
 */
export function unitsAfter(before: string, offset: number, due: Due, currency: string | null): Offers | null {
  const typed = NUMBER_THEN_UNIT.exec(before);
  if (typed === null) return null;
  const [, number = '', blank = '', word = ''] = typed;
  const gap = blank === '' && !number.endsWith(' ') ? ' ' : '';
  const offers = unitsOf(due, currency).map(
    (unit, rank): Offer => ({ ...unitOffer(unit, rank), insert: `${gap}${unit}` }),
  );
  return { start: offset - word.length, end: offset, offers };
}

/** A unit by itself, as the field `unit` holds it. */
export function unitOffer(unit: string, rank: number): Offer {
  return { ...choice(unit), sort: 'unit', rank };
}

function unitsOf(due: Due, currency: string | null): readonly string[] {
  if (due === 'interval') return ['days', 'weeks', 'months', 'years'];
  if (due === 'money') return currency === null ? [] : [currency];
  return unitsFor(due).filter((unit) => unit !== '1');
}
