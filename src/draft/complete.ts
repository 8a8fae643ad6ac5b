import { slug } from '../check/rules/dates.js';
import { oneLine } from './yaml.js';

/** From what somebody typed with cold hands to what stands in an entry. */

const NUMBER = String.raw`[-+−]?(?:\d+(?:[.,]\d+)?|[.,]\d+)`;
const FRACTION = String.raw`(?:\d+[ -])?\d+\/\d+`;
/** A number, maybe a fraction, maybe with how far it may be off; and no unit. */
const BARE = new RegExp(String.raw`^(?:${NUMBER}|${FRACTION})(?:\s*(?:±|\+\/-|\+-)\s*${NUMBER})?$`);

/**
 * A value as it stands in an entry. The question has named the unit, so that a bare number is of that unit.
 * The keys of many phones have a comma and no point: a comma alone between digits is one, except before
 * exactly three of them, where it may part thousands and is left for the checker to ask about.
 *
 * @param unit `1` or empty for a plain number.
 * @example completed('12,7', 'V') // '12.7 V'
 */
export function completed(typed: string, unit: string): string {
  const text = oneLine(typed);
  if (!BARE.test(text)) return text;
  const pointed = text.replaceAll(/(\d*),(\d+)(?!\d)/g, (whole, before: string, after: string) =>
    after.length === 3 && before !== '' && before !== '0' ? whole : `${before}.${after}`,
  );
  const plain = pointed.replaceAll('−', '-').replaceAll(/\s*(?:±|\+\/-|\+-)\s*/g, ' ± ');
  return unit === '' || unit === '1' ? plain : `${plain} ${unit}`;
}

/**
 * The unit of a value as written, for the next one like it; empty where there is none.
 *
 * @example unitOfWritten('19 °C') // '°C'
 */
export function unitOfWritten(written: string): string {
  return /\d\s*([^\d\s±][^\d±]*?)\s*$/.exec(written)?.[1] ?? '';
}

/**
 * A name for something new, made from the words that say what it is, and of which there is none yet.
 *
 * @example nameFrom('Fit the new bank', []) // 'fit-the-new-bank'
 */
export function nameFrom(what: string, taken: readonly string[]): string {
  const stem = slug(what).slice(0, 40).replace(/-+$/, '');
  const isTaken = new Set(taken);
  for (let number = 1; ; number += 1) {
    const name = number === 1 ? stem : `${stem}-${number}`;
    if (!isTaken.has(name)) return name;
  }
}

/** Where a picture lies in the book: in the folder of its year, named by its day and by what it shows. */
export function photoFile(date: string, alt: string, taken: readonly string[]): string {
  const folder = `photos/${date.slice(0, 4)}/`;
  const names = taken.map((file) => file.slice(file.lastIndexOf('/') + 1).replace(/\.[^.]*$/, ''));
  return `${folder}${nameFrom(`${date} ${alt}`, names)}.jpg`;
}
