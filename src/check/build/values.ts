import {
  ALL_KINDS,
  type Interval,
  isKind,
  type Kind,
  type Money,
  parseInterval,
  parseMoney,
  parseQuantity,
  type Quantity,
  type QuantityProblem,
} from '../../quantity/index.js';
import type { Code } from '../codes.js';
import * as m from '../messages.js';
import type { Claim, Place } from '../model.js';
import { nearest } from '../nearest.js';
import { impossible } from '../plausible.js';
import type { Pointing, Report, Said } from '../problem.js';

/** Reading single values of a file: each returns the value, or reports what is wrong and returns null. */

type Path = Place['path'];

const CODE_OF: Readonly<Record<QuantityProblem['code'], Code>> = {
  empty: 'not-a-quantity',
  'too-long': 'not-a-quantity',
  'bad-number': 'bad-number',
  comma: 'bad-number',
  'no-unit': 'no-unit',
  'unknown-unit': 'unknown-unit',
  'ambiguous-unit': 'ambiguous-unit',
  'wrong-kind': 'wrong-kind',
  'bad-uncertainty': 'bad-number',
  'bad-compound': 'bad-number',
  'bad-gauge': 'bad-number',
  'bad-period': 'bad-interval',
  'bad-money': 'bad-money',
  'bad-formula': 'bad-formula',
  'unknown-name': 'unknown-name',
  'bad-requirement': 'bad-requirement',
  'two-values': 'not-a-quantity',
};

/** What the quantity module found, as a problem of the checker; `as` where the field gives it another name. */
export function saidOf(problem: QuantityProblem, as?: Code): Said {
  const code = as ?? CODE_OF[problem.code];
  return { code, message: problem.message, hint: problem.hint ?? HINTS[code] ?? null };
}

/** How to mend what the quantity module leaves at saying what is wrong. */
const HINTS: Readonly<Partial<Record<Code, string>>> = {
  'bad-number': 'Write a number and its unit, such as `12.71 V`, `318 ± 6 Ah` or `27 1/2 in`.',
  'not-a-quantity': 'Write a number and its unit, such as `12.71 V`, `318 ± 6 Ah` or `27 1/2 in`.',
  'unknown-unit': 'The reference of the format lists the units.',
};

/** What is wrong with an allowance: a slip in its unit is said as such, all else as neither share nor amount. */
export function withinSaid(problem: QuantityProblem, written: string): Said {
  const aboutUnit = ['unknown-unit', 'ambiguous-unit', 'wrong-kind'].includes(problem.code);
  return aboutUnit ? saidOf(problem, 'bad-within') : m.badWithin(written);
}

function reportProblem(
  problem: QuantityProblem,
  written: unknown,
  path: Path,
  report: Report,
  { as, kind = null }: { readonly as?: Code; readonly kind?: Kind | null } = {},
): void {
  const { offset, length } = problem;
  // What is missing behind the value has no letters of its own to point at.
  const inside = typeof written === 'string' && length < written.length && offset < written.length;
  const marked = inside ? written.slice(offset, offset + length) : '';
  const wordsOnly = problem.code === 'bad-number' && typeof written === 'string' && !/\d/.test(written);
  report(
    saidOf(problem, wordsOnly ? 'not-a-quantity' : as),
    path,
    inside
      ? { slice: { offset, length }, ...unitMend(problem, marked, kind), ...commaMend(problem, marked) }
      : {},
  );
}

/** A comma that can be nothing but a decimal mark becomes a point: with three figures behind it, it could part thousands. */
function commaMend({ code, choices }: QuantityProblem, written: string): Pointing {
  if (code !== 'comma' || choices.length !== 1 || !/^\d+,(?:\d{1,2}|\d{4,})$/.test(written)) return {};
  const text = written.replace(',', '.');
  return { mend: { title: `Write \`${text}\``, text } };
}

/** Letters that stand for a power of ten: alone, nobody knows whether they are that or a unit. */
const PREFIX = /^[GKMTcdhkmnpuµ]$/;
/** No unit in the wrong case is longer; of each letter there are two. */
const MOST_LETTERS = 8;

/**
 * A unit in the wrong case is put right where only one way to write these letters is a unit that fits. An M at
 * the front is no slip of case: it is a thousand million times the m.
 */
function unitMend({ code }: QuantityProblem, written: string, kind: Kind | null): Pointing {
  if (code !== 'unknown-unit' || /^M./.test(written) || PREFIX.test(written)) return {};
  if (!/^[A-Za-z]+$/.test(written) || written.length > MOST_LETTERS) return {};
  const read = caseVariants(written).map((unit) => parseQuantity(`1 ${unit}`, kind ?? undefined));
  const units = new Set(read.flatMap((result) => (result.ok ? [result.quantity.unit] : [])));
  const isDoubtful = read.some((result) => !result.ok && result.problem.code === 'ambiguous-unit');
  const [unit] = units;
  if (unit === undefined || units.size > 1 || isDoubtful) return {};
  return { mend: { title: `Write \`${unit}\``, text: unit } };
}

/** All ways to write a word in small and capital letters. */
function caseVariants(word: string): readonly string[] {
  return Array.from(word).reduce<readonly string[]>(
    (begun, letter) => begun.flatMap((front) => [front + letter.toLowerCase(), front + letter.toUpperCase()]),
    [''],
  );
}

/** A quantity of a kind, or of whatever kind its unit has by itself. */
export function quantityOf(
  written: string | number,
  kind: Kind | null,
  path: Path,
  report: Report,
): Quantity | null {
  const result = kind === null ? parseQuantity(written) : parseQuantity(written, kind);
  const untrue = result.ok ? impossible(result.quantity) : null;
  if (untrue !== null) {
    report(untrue, path);
    return null;
  }
  if (result.ok) return result.quantity;
  reportProblem(result.problem, written, path, report, { kind });
  return null;
}

/** A field that may be left out. */
export function optionalQuantity(
  written: string | number | undefined,
  kind: Kind,
  path: Path,
  report: Report,
): Quantity | null {
  return written === undefined ? null : quantityOf(written, kind, path, report);
}

/** A quantity of the kind asked for, or a plain text where no kind is asked for and it is no quantity. */
export function claimOf(
  written: string | number,
  kind: Kind | 'text' | null,
  path: Path,
  report: Report,
): Claim | null {
  if (kind === 'text') return { type: 'text', text: String(written) };
  if (kind !== null) {
    const quantity = quantityOf(written, kind, path, report);
    return quantity === null ? null : { type: 'quantity', quantity };
  }
  if (typeof written === 'number') {
    const quantity = quantityOf(written, null, path, report);
    return quantity === null ? null : { type: 'quantity', quantity };
  }
  const result = parseQuantity(written);
  return result.ok ? { type: 'quantity', quantity: result.quantity } : { type: 'text', text: written };
}

/** A claim as it was written. */
export function writtenOf(claim: Claim): string {
  return claim.type === 'text' ? claim.text : claim.quantity.written;
}

export function kindOf(written: string, path: Path, report: Report): Kind | null {
  if (isKind(written)) return written;
  const several = ALL_KINDS.filter((kind) => kind.split('-').includes(written));
  if (several.length > 1) {
    report(m.kindOpen(written, several), path);
    return null;
  }
  // Many write the unit where its kind is due.
  const asUnit = parseQuantity(`1 ${written}`);
  report(
    asUnit.ok
      ? m.unitForKind(written, asUnit.quantity.kind)
      : m.unknownKind(written, nearest(written, ALL_KINDS)),
    path,
  );
  return null;
}

export function intervalOf(
  written: string | number | undefined,
  path: Path,
  report: Report,
): Interval | null {
  if (written === undefined) return null;
  const result = parseInterval(String(written));
  if (result.ok) return result.interval;
  reportProblem(result.problem, written, path, report, { as: 'bad-interval' });
  return null;
}

export function moneyOf(written: string | number | undefined, path: Path, report: Report): Money | null {
  if (written === undefined) return null;
  const result = parseMoney(String(written));
  if (result.ok) return result.money;
  reportProblem(result.problem, written, path, report, { as: 'bad-money' });
  return null;
}

const DAYS_IN_MONTH = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** Whether the calendar has such a day (Gregorian, as ISO 8601 has it). */
export function isDay(date: string): boolean {
  const year = Number(date.slice(0, 4));
  const month = Number(date.slice(5, 7));
  const day = Number(date.slice(8, 10));
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  const days = month === 2 && leap ? 29 : DAYS_IN_MONTH[month - 1];
  return days !== undefined && day >= 1 && day <= days && year >= 1;
}

/** Reports a day that the calendar does not have. */
export function dayOf(date: string | undefined, path: Path, report: Report): string | null {
  if (date === undefined) return null;
  if (isDay(date)) return date;
  report(m.badDate(date), path);
  return null;
}

/** A title made from a name: `rest-voltage` becomes `Rest voltage`. */
export function titleFrom(name: string): string {
  const words = name.replaceAll('-', ' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}
