import {
  ALL_KINDS,
  aKind,
  type Kind,
  kindInfo,
  parseQuantity,
  type Quantity,
  unitOf,
} from '../quantity/index.js';
import { brief, cited } from './cited.js';
import { listed } from './nearest.js';

/** Where a value has to lie, by the place of its kind in the book's list. Ends that are open are infinite. */
export interface Range {
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** Whether the ends themselves are inside. */
  readonly lowIn: boolean;
  readonly highIn: boolean;
  /** `below 1 MΩ`. */
  readonly words: string;
  /** The kinds that it can be of, by their places. */
  readonly kinds: readonly number[];
}

export type Side = 'below' | 'above' | 'at-most' | 'at-least';

/** Why a text is no range; `isAbsent` where it is one, of a kind that the book has nothing of. */
interface NoRange {
  readonly ok: false;
  readonly message: string;
  readonly hint: string | null;
  readonly isAbsent?: boolean;
}

export type RangeResult = { readonly ok: true; readonly range: Range } | NoRange;

/** The kinds of a book, and the place of the one that is due where only one is. */
export interface Due {
  readonly kinds: readonly Kind[];
  readonly only: number | null;
}

/** A value read as each of the kinds that it may be of: `2 bar` is gauge, absolute and a difference. */
type Readings = ReadonlyMap<number, Quantity>;

/** `below 1 MΩ`, `at-least 2 bar`. */
export function oneSided(side: Side, text: string, { kinds, only }: Due): RangeResult {
  const read = readValue(text, { kinds, only });
  if (!read.ok) return read;
  const isLow = side === 'above' || side === 'at-least';
  const words = `${side.replace('-', ' ')} ${brief(text)}`;
  const ends = [...read.values].map(
    ([kind, { si }]): End => (isLow ? [kind, si, Infinity] : [kind, -Infinity, si]),
  );
  return { ok: true, range: rangeOf(ends, kinds.length, side === 'at-least', side === 'at-most', words) };
}

/** `30 and 35 mm`: both ends are inside; the first may go without its unit. */
export function between(text: string, due: Due): RangeResult {
  const [first, second, ...more] = text.trim().split(/\s+(?:and|to)\s+|\s*(?:…|\.\.\.?)\s*/);
  if (first === undefined || second === undefined || more.length > 0 || first === '' || second === '')
    return { ok: false, message: `${cited(text)} is no range.`, hint: 'Write one such as `30 and 35 mm`.' };
  const high = readValue(second, due);
  if (!high.ok) return high;
  const unit = /[^\d\s.¼-¾⅐-⅞/±+−-].*$/.exec(second)?.[0] ?? '';
  const low = readValue(/^[-+−]?[\d.,/ ]+$/.test(first) ? `${first} ${unit}` : first, due);
  if (!low.ok) return low;
  const both = [...low.values].flatMap(([kind, { si }]): End[] => {
    const other = high.values.get(kind);
    return other === undefined ? [] : [[kind, Math.min(si, other.si), Math.max(si, other.si)]];
  });
  if (both.length === 0)
    return {
      ok: false,
      message: `${cited(first)} and ${cited(second)} are not of one kind: ${aKind(kindOf(low.values))} and ${aKind(kindOf(high.values))}.`,
      hint: null,
    };
  return {
    ok: true,
    range: rangeOf(both, due.kinds.length, true, true, brief(`between ${first} and ${second}`)),
  };
}

/** `318 Ah`: what prints as that with as many digits. */
export function about(text: string, due: Due): RangeResult {
  const read = readValue(text, due);
  if (!read.ok) return read;
  const ends = [...read.values].map(([kind, value]): End => {
    const factor = Math.abs(unitOf(value.unit)?.factor ?? 0);
    const half = value.form === 'gauge' ? value.si * 0.005 : (digitOf(value) * factor) / 2;
    // A hair more, so that a value that was written with just these digits is inside.
    const room = half * (1 + 1e-9);
    return [kind, value.si - room, value.si + room];
  });
  return { ok: true, range: rangeOf(ends, due.kinds.length, true, true, text.trim()) };
}

/** Fractions are written reduced: 1/4 in may have been read to sixteenths. */
function digitOf({ form, resolution }: Quantity): number {
  return form === 'fraction' || form === 'compound' ? resolution / 4 : resolution;
}

type End = readonly [kind: number, low: number, high: number];

function rangeOf(ends: readonly End[], kinds: number, lowIn: boolean, highIn: boolean, words: string): Range {
  const low = new Float64Array(kinds).fill(Number.NaN);
  const high = new Float64Array(kinds).fill(Number.NaN);
  for (const [kind, from, to] of ends) {
    low[kind] = from;
    high[kind] = to;
  }
  return { low, high, lowIn, highIn, words, kinds: ends.map(([kind]) => kind) };
}

/** Whether a value lies in a range. A value that is of no kind of the range does not. */
export function isIn({ low, high, lowIn, highIn }: Range, kind: number, si: number): boolean {
  const from = low[kind] as number;
  const to = high[kind] as number;
  return (lowIn ? si >= from : si > from) && (highIn ? si <= to : si < to);
}

/** Whether the ± of a value reaches across an end of a range. */
export function straddles({ low, high }: Range, kind: number, si: number, spread: number): boolean {
  const across = (end: number) => si - spread < end && si + spread > end;
  return across(low[kind] as number) || across(high[kind] as number);
}

type ValueResult = { readonly ok: true; readonly values: Readings } | NoRange;

/** Reads a value as each kind of the book that its unit fits; or says why it can be none of them. */
export function readValue(text: string, { kinds, only }: Due): ValueResult {
  const due = only === null ? undefined : kinds[only];
  if (due !== undefined && only !== null) {
    const result = parseQuantity(text, due);
    if (result.ok) return { ok: true, values: new Map([[only, result.quantity]]) };
    return { ok: false, message: result.problem.message, hint: result.problem.hint ?? null };
  }
  const plain = parseQuantity(text);
  const values = new Map<number, Quantity>();
  for (const [place, kind] of kinds.entries()) {
    if (plain.ok && unitOf(plain.quantity.unit)?.kinds.includes(kind) !== true) continue;
    if (!plain.ok && !MAY_FIT.has(plain.problem.code)) continue;
    const result = parseQuantity(text, kind);
    if (result.ok) values.set(place, result.quantity);
  }
  if (values.size > 0) return { ok: true, values };
  if (plain.ok)
    return {
      ok: false,
      message: `${cited(text)} is ${aKind(plain.quantity.kind)}, and nothing in this book is one.`,
      hint: kindsThere(kinds),
      isAbsent: true,
    };
  if (plain.problem.code === 'no-unit')
    return { ok: false, message: `${cited(text)} has no unit.`, hint: unitsThere(kinds) };
  return { ok: false, message: plain.problem.message, hint: plain.problem.hint ?? unitsThere(kinds) };
}

/** What is wrong without a kind may be right with one: `2 bar`, `1.265`, `5"`. */
const MAY_FIT: ReadonlySet<string> = new Set(['ambiguous-unit', 'no-unit']);

function unitsThere(kinds: readonly Kind[]): string | null {
  if (kinds.length === 0) return null;
  const some = kinds.slice(0, 6).map((kind) => kindInfo(kind).units[0] ?? '');
  return `Units here are ${listed([...new Set(some.filter((unit) => unit !== '' && unit !== '1'))])}${kinds.length > 6 ? ' and others' : ''}.`;
}

function kindOf(values: Readings): Kind {
  return ([...values.values()][0] as Quantity).kind;
}

/** The kinds that there are, as a sentence. */
export function kindsThere(kinds: readonly Kind[]): string {
  if (kinds.length === 0) return 'There are no numbers here.';
  return `Kinds here are ${listed(kinds.map((kind) => kindInfo(kind).title))}.`;
}

/** A kind by its name or its title; null where there is none such. */
export function kindNamed(text: string): Kind | null {
  const plain = text.trim().toLowerCase();
  return ALL_KINDS.find((kind) => kind === plain || kindInfo(kind).title === plain) ?? null;
}
