/** Requirements on one value, and whether a value meets them. */
import type { Kind } from '../kinds.js';
import { parseQuantity } from '../parse.js';
import { type Failure, fail } from '../problem.js';
import type { Quantity } from '../quantity.js';

/** An allowed band in SI; `null` where it has no such end. An open end is not itself allowed. */
export interface Band {
  readonly low: number | null;
  readonly high: number | null;
  readonly lowOpen: boolean;
  readonly highOpen: boolean;
}

/** A requirement that was read. */
export interface Requirement {
  readonly written: string;
  readonly kind: Kind;
  readonly band: Band;
}

/** What became of a text. */
export type RequirementResult = { readonly ok: true; readonly requirement: Requirement } | Failure;

/** Whether a value meets a requirement. */
export type Judgement = 'conforms' | 'fails' | 'undecided';

const MAX_LENGTH = 200;
const LIMIT = /^(\s*(<=|>=|<|>|=|≤|≥)\s*)(.+)$/s;

/**
 * Reads a requirement on a value of a kind: `>= 320 Ah`, `>= 13.8 V and <= 14.4 V`,
 * `between 13.8 V and 14.4 V`, `= 4`, or a value with its tolerance, `14.1 ± 0.3 V`.
 */
export function parseRequirement(text: string, kind: Kind): RequirementResult {
  const whole = { offset: 0, length: text.length };
  if (text.length > MAX_LENGTH) return fail('too-long', whole, 'This is too long for a requirement.');
  if (text.trim() === '') return fail('empty', whole, 'A requirement is missing.');
  let band: Band = { low: null, high: null, lowOpen: false, highOpen: false };
  const limits = pieces(text);
  if (/^\s*between\b/.test(text) && limits.length !== 2)
    return fail('bad-requirement', whole, 'Behind `between` two values are due, joined by `and`.');
  for (const piece of limits) {
    const limit = readLimit(piece, kind);
    if (!limit.ok) return limit;
    band = narrow(band, limit.band);
  }
  if (isEmpty(band)) return fail('bad-requirement', whole, 'No value can meet this requirement.');
  const requirement = Object.freeze({ written: text, kind, band: Object.freeze(band) });
  return Object.freeze({ ok: true, requirement });
}

/** A stretch of the text with the sign that stands before it, or is meant by `between`. */
interface Piece {
  readonly text: string;
  readonly offset: number;
  readonly relation: string;
}

function pieces(text: string): Piece[] {
  const between = /^\s*between\s+/.exec(text);
  const found: Piece[] = [];
  let offset = between?.[0].length ?? 0;
  for (const part of text.slice(offset).split(/(\s+and\s+)/)) {
    const limit = LIMIT.exec(part);
    const implied = between ? (found.length === 0 ? '>=' : '<=') : '';
    const relation = between ? implied : (limit?.[2] ?? '');
    const skipped = between ? 0 : (limit?.[1]?.length ?? 0);
    if (!/^\s+and\s+$/.test(part))
      found.push({ text: part.slice(skipped), offset: offset + skipped, relation });
    offset += part.length;
  }
  return found;
}

function readLimit({ text, offset, relation }: Piece, kind: Kind): { ok: true; band: Band } | Failure {
  const result = parseQuantity(text, kind);
  if (!result.ok) {
    return {
      ok: false,
      problem: Object.freeze({ ...result.problem, offset: result.problem.offset + offset }),
    };
  }
  const { quantity } = result;
  const span = { offset, length: text.length };
  if (relation === '' && quantity.siUncertainty === null) {
    const hint = `Write \`>= ${text.trim()}\`, \`<= ${text.trim()}\` or between two values.`;
    return fail('bad-requirement', span, 'A requirement says from where or up to where a value may be.', {
      hint,
    });
  }
  if (relation !== '' && quantity.siUncertainty !== null) {
    return fail('bad-requirement', span, 'A limit is exact and has no ±.');
  }
  return { ok: true, band: bandOf(relation, quantity) };
}

function bandOf(relation: string, { si, siUncertainty }: Quantity): Band {
  const closed = { low: null, high: null, lowOpen: false, highOpen: false };
  switch (relation) {
    case '>=':
    case '≥':
      return { ...closed, low: si };
    case '>':
      return { ...closed, low: si, lowOpen: true };
    case '<=':
    case '≤':
      return { ...closed, high: si };
    case '<':
      return { ...closed, high: si, highOpen: true };
    default:
      return { ...closed, low: si - (siUncertainty ?? 0), high: si + (siUncertainty ?? 0) };
  }
}

/** The band that lies in both. */
function narrow(a: Band, b: Band): Band {
  const low = b.low !== null && (a.low === null || b.low > a.low || (b.low === a.low && b.lowOpen)) ? b : a;
  const high =
    b.high !== null && (a.high === null || b.high < a.high || (b.high === a.high && b.highOpen)) ? b : a;
  return { low: low.low, lowOpen: low.lowOpen, high: high.high, highOpen: high.highOpen };
}

function isEmpty({ low, high, lowOpen, highOpen }: Band): boolean {
  if (low === null || high === null) return false;
  return low > high || (low === high && (lowOpen || highOpen));
}

/**
 * Whether a value meets a band, by interval.
 *
 * JCGM 106:2012, clause 8: with a decision rule that allows for uncertainty, a value is accepted only inside
 * limits drawn in from the tolerance limits by a guard band (guarded acceptance, 8.3.2), and rejected only
 * outside limits drawn out by one (guarded rejection, 8.3.3). Here the guard band is the half-width itself:
 * `conforms` when the whole of value ± half-width lies in the band, `fails` when none of it does, and
 * `undecided` in between, where a better measurement is wanted. An unknown half-width is not nought, but
 * nothing can be drawn in by it: the value is then judged alone (simple acceptance, 8.2), and whoever shows
 * the judgement says so.
 *
 * @param value  in SI, with its half-width or `null`
 * @param band   in SI; ends are closed unless said to be open
 */
export function judge(
  value: { readonly si: number; readonly siUncertainty: number | null },
  band: {
    readonly low: number | null;
    readonly high: number | null;
    readonly lowOpen?: boolean;
    readonly highOpen?: boolean;
  },
): Judgement {
  const half = value.siUncertainty ?? 0;
  const above =
    band.low === null ? 'conforms' : side(value.si - band.low, half, band.low, band.lowOpen === true);
  const below =
    band.high === null ? 'conforms' : side(band.high - value.si, half, band.high, band.highOpen === true);
  if (above === 'fails' || below === 'fails') return 'fails';
  return above === 'undecided' || below === 'undecided' ? 'undecided' : 'conforms';
}

/** One end of the band: `inside` is how far the value lies within it. */
function side(inside: number, half: number, limit: number, open: boolean): Judgement {
  // Conversions between units round in the last bit; on the limit means on it.
  const rounding = 1e-12 * Math.max(Math.abs(limit), half);
  const least = snap(inside - half, rounding);
  const most = snap(inside + half, rounding);
  if (open ? least > 0 : least >= 0) return 'conforms';
  return (open ? most <= 0 : most < 0) ? 'fails' : 'undecided';
}

function snap(value: number, rounding: number): number {
  return Math.abs(value) <= rounding ? 0 : value;
}
