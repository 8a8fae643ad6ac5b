/** Tolerances and accuracies: a share of the value, an amount, or a sum of such. */
import { aKind, differenceKind, type Kind, natureOf } from './kinds.js';
import { parseQuantity, type QuantityResult } from './parse.js';
import { type Failure, fail } from './problem.js';
import { kindInfo, knownUnit } from './units.js';

/** A half-width: `share` of the value (0.05 is 5 %) plus `amount` in the SI unit of the kind. */
export interface Within {
  readonly written: string;
  readonly share: number;
  /** In SI; of a temperature in K. */
  readonly amount: number;
}

/** What became of a text. */
export type WithinResult = { readonly ok: true; readonly within: Within } | Failure;

const MAX_LENGTH = 120;

/**
 * Reads a half-width for values of a kind: `5 %`, `10 Ah`, `0.5 % + 0.02 V`, with or without `±` before it.
 * Where the kind itself is in per cent (moisture, humidity, ratio) `2 %` is two points, not a share; a share
 * is then written `2 % of value`.
 */
export function parseWithin(text: string, kind: Kind): WithinResult {
  const whole = { offset: 0, length: text.length };
  if (text.length > MAX_LENGTH) return fail('too-long', whole, 'This is too long for a tolerance.');
  let share = 0;
  let amount = 0;
  let offset = 0;
  for (const piece of text.replace(/^(\s*)±/, '$1 ').split('+')) {
    const part = readPart(piece, kind);
    if (!part.ok) return shifted(part, offset);
    share += part.share;
    amount += part.amount;
    offset += piece.length + 1;
  }
  if (!(share + amount > 0)) return fail('bad-uncertainty', whole, 'A tolerance is more than nought.');
  return Object.freeze({ ok: true, within: Object.freeze({ written: text, share, amount }) });
}

type Part = { readonly ok: true; readonly share: number; readonly amount: number } | Failure;

const OF_VALUE = /\s+of\s+(?:the\s+)?(?:value|reading)\s*$/;
const IN_PERCENT: ReadonlySet<Kind> = new Set<Kind>(['ratio', 'moisture', 'relative-humidity']);

function readPart(piece: string, kind: Kind): Part {
  const own = piece.replace(OF_VALUE, '');
  if (/[%‰]\s*$/.test(own) && (kind === 'temperature' || natureOf(kind) === 'level'))
    return noShare(piece, kind);
  const relative = own !== piece || !IN_PERCENT.has(kind);
  const ratio = relative && /[%‰]\s*$/.test(own) ? parseQuantity(own, 'ratio') : undefined;
  const result = ratio ?? parseQuantity(own, differenceKind(kind));
  if (!result.ok) return result;
  const problem = checkPart(result, piece);
  if (problem) return problem;
  const { si } = result.quantity;
  return ratio ? { ok: true, share: si, amount: 0 } : { ok: true, share: 0, amount: si };
}

function noShare(piece: string, kind: Kind): Failure {
  const why = `A share of ${aKind(kind)} means nothing, since its zero is only agreed upon.`;
  const hint = `Write it in ${kind === 'temperature' ? 'K' : kindInfo(kind).units[0]}.`;
  return fail('bad-uncertainty', { offset: 0, length: piece.length }, why, { hint });
}

function checkPart(result: QuantityResult & { ok: true }, piece: string): Failure | undefined {
  const { si, uncertainty, unit } = result.quantity;
  const span = { offset: 0, length: piece.length };
  if (uncertainty !== null) return fail('bad-uncertainty', span, 'A tolerance has no ± of its own.');
  if (knownUnit(unit).symbol === 'AWG')
    return fail('bad-uncertainty', span, 'A tolerance cannot be a wire gauge.');
  return si < 0 ? fail('bad-uncertainty', span, 'A tolerance is not negative.') : undefined;
}

function shifted(failure: Failure, by: number): Failure {
  const { problem } = failure;
  return Object.freeze({ ok: false, problem: Object.freeze({ ...problem, offset: problem.offset + by }) });
}

/** The half-width at an SI value of the kind, in SI. */
export function halfWidthAt(within: Within, si: number): number {
  return within.share * Math.abs(si) + within.amount;
}
