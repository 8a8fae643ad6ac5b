/** Finding a value with its unit inside a formula. */
import type { Kind } from '../kinds.js';
import { matchAt, type ScannedNumber, scanDecimal, scanNumber, skipBlanks } from '../number.js';
import { parseQuantity } from '../parse.js';
import { type Failure, fail, quoted } from '../problem.js';
import type { Quantity } from '../quantity.js';
import { resolveUnit } from '../resolve.js';
import { ambiguityOf, type Unit, unitsSpelt } from '../units.js';

/** A value in a formula; a plain number has no `kinds`. */
export interface Literal {
  readonly ok: true;
  readonly end: number;
  readonly value: number;
  /** 0 where the value is exact, as every value is that states no ±. */
  readonly uncertainty: number;
  readonly kinds: readonly Kind[] | undefined;
}

const FRACTION = /\d+(?:[ -]+\d+)?\/\d+/y;
const LONGEST_UNIT = 24;
const GAUGE = /\d{1,4}(?:\/0)?\s?AWG(?![\p{L}\d])/uy;
const PLUS_MINUS = /\s*(?:±|\+\/-)\s*/y;
const NEXT_PART = /\s*(?=[\d¼-¾⅐-⅞])/y;
const WORD = /[\p{L}°%'"]\S{0,30}/uy;

/**
 * Reads a literal at a place: `0.5`, `320 Ah`, `318 ± 6 Ah`, `27 1/2 in`, `5 ft 3 in`, `2/0 AWG`.
 * The longest spelling of a unit wins; a slash in a unit has no blanks about it (`3 kg/m3`), or it divides.
 */
export function readLiteral(
  text: string,
  at: number,
  negative: boolean,
  isName: (word: string) => boolean,
): Literal | Failure {
  const gauge = matchAt(GAUGE, text, at);
  if (gauge) return fromText(text, at, at + gauge[0].length, ['area'], negative);
  const number = numberWithUnit(text, at);
  if (!number.ok) return number;
  const half = readHalf(text, number.end);
  if (half !== undefined && !half.ok) return half;
  const unitStart = skipBlanks(text, half?.end ?? number.end);
  const unit = longestUnit(text, unitStart);
  if (unit === undefined) {
    const end = half?.end ?? number.end;
    if (half !== undefined)
      return fail('no-unit', { offset: at, length: end - at }, 'A value with ± needs its unit.');
    return withoutUnit(text, end, number.value, isName);
  }
  if (!unit.ok) return unit;
  const end = half === undefined ? tailOf(text, unit.end) : unit.end;
  return fromText(text, at, end, kindsInFormula(unit.unit), negative);
}

/** In a formula °C and °F are temperatures; a difference is written in K. */
function kindsInFormula(unit: Unit): readonly Kind[] {
  return unit.offset !== 0 ? ['temperature'] : unit.kinds;
}

function fromText(
  text: string,
  at: number,
  end: number,
  kinds: readonly Kind[],
  negative: boolean,
): Literal | Failure {
  const result = parseQuantity(`${negative ? '-' : ''}${text.slice(at, end)}`, kinds[0]);
  if (!result.ok) {
    const offset = at + Math.max(0, result.problem.offset - (negative ? 1 : 0));
    return { ok: false, problem: { ...result.problem, offset } };
  }
  const { si, siUncertainty }: Quantity = result.quantity;
  return { ok: true, end, value: si, uncertainty: siUncertainty ?? 0, kinds };
}

function withoutUnit(
  text: string,
  end: number,
  value: number,
  isName: (word: string) => boolean,
): Literal | Failure {
  const offset = skipBlanks(text, end);
  const word = matchAt(WORD, text, offset)?.[0];
  if (word === undefined || /^(?:and|between)(?![\p{L}\d.-])/u.test(word)) {
    return { ok: true, end, value, uncertainty: 0, kinds: undefined };
  }
  const name = /^[\p{L}\d./·°%²³-]+/u.exec(word)?.[0] ?? word;
  const span = { offset, length: name.length };
  const unknown = isName(name) ? undefined : resolveUnit(name, span, undefined);
  if (unknown !== undefined && !unknown.ok) return unknown;
  const hint = 'To multiply write `*`.';
  return fail('bad-formula', span, `A sign is missing before ${quoted(name)}.`, { hint });
}

/** A number; a fraction only where a unit follows, since `1/2` elsewhere is a division like any other. */
function numberWithUnit(text: string, at: number): ScannedNumber | Failure {
  const number = scanNumber(text, at);
  const fraction = matchAt(FRACTION, text, at);
  const plain = fraction ? scanDecimal(text, at) : undefined;
  if (fraction === null || plain === undefined) return number;
  const unit = longestUnit(text, skipBlanks(text, at + fraction[0].length));
  // `3-1/2 in` is three and a half inches in a value, and a subtraction here.
  return unit === undefined || fraction[0].includes('-') ? plain : number;
}

function readHalf(text: string, at: number): ScannedNumber | Failure | undefined {
  const sign = matchAt(PLUS_MINUS, text, at);
  return sign ? scanNumber(text, at + sign[0].length) : undefined;
}

/** Where a literal ends that goes on after its first unit: `± 6 Ah` or the inches after the feet. */
function tailOf(text: string, unitEnd: number): number {
  const half = readHalf(text, unitEnd);
  const next = matchAt(NEXT_PART, text, unitEnd);
  const number = half ?? (next ? scanNumber(text, unitEnd + next[0].length) : undefined);
  if (number === undefined || !number.ok) return unitEnd;
  const unit = longestUnit(text, skipBlanks(text, number.end));
  if (unit?.ok) return unit.end;
  return half === undefined ? unitEnd : number.end;
}

type FoundUnit = { readonly ok: true; readonly unit: Unit; readonly end: number } | Failure;

/** The unit with the longest spelling that begins at a place. */
function longestUnit(text: string, at: number): FoundUnit | undefined {
  const rest = /^[^+*^<>=≤≥,±]*/.exec(text.slice(at, at + LONGEST_UNIT))?.[0] ?? '';
  for (let length = rest.length; length > 0; length--) {
    const spelling = rest.slice(0, length);
    if (!endsWell(text, at + length) || /\s$|\s\/|\/\s/.test(spelling)) continue;
    const unit = unitsSpelt(spelling)[0];
    if (ambiguityOf(spelling, undefined)) {
      const problem = resolveUnit(spelling, { offset: at, length }, undefined);
      if (!problem.ok) return problem;
    }
    if (unit !== undefined) return { ok: true, unit, end: at + length };
  }
  return undefined;
}

/** Whether a word can end here. */
function endsWell(text: string, end: number): boolean {
  return !(/[\p{L}\d]/u.test(text[end - 1] ?? '') && /[\p{L}\d²³]/u.test(text[end] ?? ''));
}
