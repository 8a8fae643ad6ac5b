/**
 * Reading a quantity as people of the trade write it.
 *
 * A value is a number and a unit, with `±` and a half-width where it is known: `318 ± 6 Ah`,
 * `12.71 V ± 0.5 %`, `(2.1 ± 0.1) m`, `5 ft 3 1/4 in`, `2/0 AWG`, `pH 8.1`. Look-alike characters (two
 * kinds of µ and Ω, minus signs, no-break spaces, raised digits) are read as what they look like. A comma in
 * a number is refused, since half the world reads it one way and half the other.
 */
import { aKind, type Kind, natureOf } from './kinds.js';
import { matchAt, placeOf, type ScannedNumber, scanNumber, skipBlanks } from './number.js';
import { type Failure, fail, quoted, type Span } from './problem.js';
import { type Form, makeQuantity, type Quantity } from './quantity.js';
import { type ResolvedUnit, resolveUnit } from './resolve.js';
import { slipSaid, withBetter } from './slips.js';
import { ambiguityOf, knownUnit, type Unit, unitsSpelt } from './units.js';

/** What became of a text. */
export type QuantityResult = { readonly ok: true; readonly quantity: Quantity } | Failure;

/** No quantity anybody writes is longer. */
const MAX_LENGTH = 120;
const CACHE_SIZE = 8192;
const CACHED_LENGTH = 48;

const cache = new Map<string, QuantityResult>();

/**
 * Reads a quantity.
 *
 * @param text  what was written; a number (as YAML may give) is taken without a unit
 * @param kind  the kind that is due; without it the unit says the kind
 * @returns the quantity, or what is wrong and where in the text
 */
export function parseQuantity(text: string | number, kind?: Kind): QuantityResult {
  if (typeof text === 'number') return parseQuantity(String(text), kind);
  if (text.length > CACHED_LENGTH) return readQuantity(text, kind);
  const key = kind === undefined ? text : `${text}\u0000${kind}`;
  const known = cache.get(key);
  if (known !== undefined) return known;
  const result = Object.freeze(readQuantity(text, kind));
  // Results are immutable and depend on nothing else, so the cache may be dropped whole at any time.
  if (cache.size >= CACHE_SIZE) cache.clear();
  cache.set(key, result);
  return result;
}

/**
 * Whether a text is meant as a quantity: a number followed by a unit, well spelt or nearly, and nothing
 * else. Tells a spec's value (`400 Ah`) from its free text (`TL-200 x 2`, `12 V fridge`).
 */
export function looksLikeQuantity(text: string): boolean {
  if (text.length > MAX_LENGTH || !/^\s*(?:[-+−–(]?\s*[\d.¼-¾⅐-⅞]|AWG\s*\d|pH\s*\d)/.test(text)) return false;
  const result = parseQuantity(text);
  if (result.ok) return true;
  const { code, choices } = result.problem;
  if (code === 'ambiguous-unit' || code === 'bad-uncertainty' || code === 'bad-compound') return true;
  if (/±|\+\/-/.test(text)) return true;
  if (code === 'comma') return /^\s*[-+−–]?[\d.,]+\s*\S{1,8}\s*$/.test(text);
  return code === 'unknown-unit' && choices.length > 0;
}

function readQuantity(text: string, kind: Kind | undefined): QuantityResult {
  if (text.length > MAX_LENGTH) {
    return fail(
      'too-long',
      { offset: MAX_LENGTH, length: text.length - MAX_LENGTH },
      'This is too long for a value.',
      {
        hint: 'A value is a number and a unit.',
      },
    );
  }
  const result = readPlain(text, kind) ?? readAny(text, kind);
  if (result.ok) return result;
  return { ok: false, problem: withBetter(result.problem, slipSaid(text, kind)) };
}

/** The shape of nearly every value: `12.71 V`, `318 ± 6 Ah`. */
const PLAIN = /^(-?)(\d{1,15}(?:\.\d{1,15})?)(?: ± (\d{1,15}(?:\.\d{1,15})?))? ?([A-Za-z°%Ωµ][^±]*)$/;

/** The short way for a value of that shape with nothing wrong in it; all else goes the long way. */
function readPlain(text: string, kind: Kind | undefined): QuantityResult | undefined {
  const match = PLAIN.exec(text);
  if (!match) return undefined;
  const [, sign, digits = '', half, unitText = ''] = match;
  const unit = plainUnit(unitText, kind);
  if (unit === undefined) return undefined;
  const number = Number(digits);
  const value = sign === '-' && number !== 0 ? -number : number;
  const uncertainty = half === undefined ? null : Number(half);
  if (uncertainty === 0) return undefined;
  const resolution = placeOf(digits);
  const parts = {
    written: text,
    kind: kind ?? unit.kinds[0],
    value,
    unit,
    resolution,
    uncertainty,
  };
  return { ok: true, quantity: makeQuantity({ ...parts, form: 'decimal' }) };
}

/** The only unit of a spelling, if it fits without a doubt. */
function plainUnit(text: string, kind: Kind | undefined): Unit | undefined {
  const spelt = unitsSpelt(text);
  const unit = spelt[0];
  if (unit === undefined || spelt.length > 1 || unit.symbol === 'AWG') return undefined;
  if (kind === undefined ? unit.kinds.length > 1 : !unit.kinds.includes(kind)) return undefined;
  return ambiguityOf(text, kind) === undefined ? unit : undefined;
}

/** Reads a value of any shape, or says what is wrong with it. */
function readAny(text: string, kind: Kind | undefined): QuantityResult {
  const start = skipBlanks(text, 0);
  const end = text.trimEnd().length;
  if (start >= end) return fail('empty', { offset: 0, length: text.length }, 'A value is missing.');
  const gauge = readGauge(text, kind);
  if (gauge) return gauge;
  const halves = splitAtPlusMinus(text, start, end);
  const left = readSide(halves.text, halves.left, kind);
  if (!left.ok) return left;
  const done =
    halves.right === undefined
      ? finishWithout(left, kind)
      : finishWith(halves.text, left, halves.right, kind);
  if (!done.ok) return done;
  return { ok: true, quantity: makeQuantity({ ...done, written: text }) };
}

interface Range {
  readonly start: number;
  readonly end: number;
}

interface Halves {
  readonly text: string;
  readonly left: Range;
  readonly right?: Range;
}

const PLUS_MINUS = /±|\+\s?\/\s?[-−–]|\+-/;

function splitAtPlusMinus(text: string, start: number, end: number): Halves {
  const sign = PLUS_MINUS.exec(text);
  if (!sign) return { text, left: { start, end } };
  // The brackets of `(318 ± 6) Ah` only group; blanks in their place keep every position.
  const open = /^\s*\(([^()]*)\)/.exec(text);
  const plain = open
    ? ` ${text.slice(1, open[0].length - 1).replace('(', ' ')} ${text.slice(open[0].length)}`
    : text;
  const after = sign.index + sign[0].length;
  return {
    text: plain,
    left: { start: skipBlanks(plain, 0), end: plain.slice(0, sign.index).trimEnd().length },
    right: { start: skipBlanks(plain, after), end },
  };
}

/** One side of the ±: a number, and the unit if it has one. */
interface Side {
  readonly ok: true;
  readonly value: number;
  readonly resolution: number;
  readonly form: Form;
  readonly unit: ResolvedUnit | undefined;
  readonly span: Span;
  readonly negative: boolean;
}

const SIGN = /[-−–+]\s?/y;
const PREFIX_UNIT = /pH(?=[\s\d])\s*/y;

function readSide(text: string, { start, end }: Range, kind: Kind | undefined): Side | Failure {
  const prefix = matchAt(PREFIX_UNIT, text, start);
  let at = start + (prefix?.[0].length ?? 0);
  const sign = matchAt(SIGN, text, at);
  at += sign?.[0].length ?? 0;
  const number = scanNumber(text, at);
  if (!number.ok) return number;
  const negative = sign !== null && !sign[0].startsWith('+');
  const unitStart = skipBlanks(text, number.end);
  const unitText = prefix && unitStart >= end ? 'pH' : text.slice(unitStart, end);
  const span = { offset: unitStart, length: end - unitStart };
  const side = { ok: true as const, value: signed(number.value, negative), negative, span };
  if (unitText === '')
    return { ...side, ...shapeOf(number), unit: undefined, span: { offset: at, length: end - at } };
  if (unitsSpelt(unitText).length === 0) {
    const compound = readCompound(text, number, { start: unitStart, end }, kind);
    if (compound)
      return compound.ok ? { ...side, ...compound, value: signed(compound.value, negative) } : compound;
  }
  const unit = resolveUnit(unitText, span, kind);
  if (unit.ok && isOddFraction(number, unit.unit)) {
    const written = text.slice(at, number.end);
    const hint = 'Write the number with a decimal point, or the one value that is meant.';
    const message = `${quoted(written)} of a ${unit.unit.symbol} is not a usual fraction; it may be two values.`;
    return fail('bad-number', { offset: at, length: number.end - at }, message, { hint });
  }
  return unit.ok ? { ...side, ...shapeOf(number), unit } : unit;
}

/** Sixteenths are of inches; `12/24 V` is two voltages. */
function isOddFraction({ form, resolution }: ScannedNumber, unit: Unit): boolean {
  return form === 'fraction' && resolution < 0.0999 && (unit.system === 'metric' || unit.system === 'any');
}

function signed(value: number, negative: boolean): number {
  return negative && value !== 0 ? -value : value;
}

function shapeOf({ resolution, form }: ScannedNumber): { readonly resolution: number; readonly form: Form } {
  return { resolution, form };
}

/** Which unit may follow which in one value, and how many of it make one of the unit before. */
const FOLLOWS: ReadonlyMap<string, readonly [next: string, ratio: number]> = new Map([
  ['yd', ['ft', 3]],
  ['ft', ['in', 12]],
  ['stone', ['lb', 14]],
  ['lb', ['oz', 16]],
  ['d', ['h', 24]],
  ['h', ['min', 60]],
  ['min', ['s', 60]],
  ['°', ['′', 60]],
  ['′', ['″', 60]],
]);

interface Compound {
  readonly ok: true;
  readonly value: number;
  readonly resolution: number;
  readonly form: 'compound';
  readonly unit: ResolvedUnit;
}

/** Reads `5 ft 3 1/4 in`, of which the first number is read already; nothing if the text has no such shape. */
function readCompound(
  text: string,
  first: ScannedNumber,
  { start, end }: Range,
  kind: Kind | undefined,
): Compound | Failure | undefined {
  const digit = /[\d¼-¾⅐-⅞]/.exec(text.slice(start, end));
  if (!digit) return undefined;
  const split = start + digit.index;
  const unitText = text.slice(start, split).trimEnd();
  if (unitsSpelt(unitText).length === 0) return undefined;
  const upper = resolveUnit(unitText, { offset: start, length: unitText.length }, kind);
  if (!upper.ok) return upper;
  if (!FOLLOWS.has(upper.unit.symbol)) return sideBySide(text, unitText, { start: split, end });
  const rest = readSide(text, { start: split, end }, upper.kind);
  if (!rest.ok) return rest;
  return joinCompound(first, upper, rest, { offset: split, length: end - split });
}

/** Two values in one text; nothing where the digit only belongs to a word such as `m4`. */
function sideBySide(text: string, unitText: string, { start, end }: Range): Failure | undefined {
  if (/[^\s'"]$/.test(text.slice(0, start))) return undefined;
  const message = `After ${quoted(unitText)} the value ends; a second number is not expected.`;
  return fail('two-values', { offset: start, length: end - start }, message);
}

function joinCompound(first: ScannedNumber, upper: ResolvedUnit, rest: Side, span: Span): Compound | Failure {
  const follows = FOLLOWS.get(upper.unit.symbol);
  const unit = rest.unit ?? (follows && { ok: true, unit: knownUnit(follows[0]), kind: upper.kind });
  const next = unit && largestOf(unit.unit, upper.unit);
  if (!follows || !unit || !next) {
    const only = follows ? `Only ${follows[0]} can follow ${upper.unit.symbol}` : 'One value has one unit';
    return fail('bad-compound', span, `${only} in one value.`);
  }
  const inLower = rest.value * (unit.unit.factor / knownUnit(follows[0]).factor);
  if (first.form === 'fraction' || !Number.isInteger(first.value) || inLower >= follows[1]) {
    return fail(
      'bad-compound',
      span,
      `Whole ${upper.unit.symbol} are due first, then less than ${follows[1]} ${follows[0]}.`,
    );
  }
  const value = first.value * Math.round(upper.unit.factor / unit.unit.factor) + rest.value;
  return { ok: true, value, resolution: rest.resolution, form: 'compound', unit };
}

/** Whether a lower unit comes after an upper one, directly or with one between (`1 d 2 h 3 min`). */
function largestOf(lower: Unit, upper: Unit): boolean {
  for (let step = FOLLOWS.get(upper.symbol); step; step = FOLLOWS.get(step[0])) {
    if (step[0] === lower.symbol) return true;
  }
  return false;
}

interface Finished {
  readonly ok: true;
  readonly kind: Kind;
  readonly unit: Unit;
  readonly value: number;
  readonly resolution: number;
  readonly form: Form;
  readonly uncertainty: number | null;
}

function finishWithout(left: Side, kind: Kind | undefined): Finished | Failure {
  const unit = left.unit ?? resolveUnit('', left.span, kind);
  if (!unit.ok) return unit;
  return finished(left, unit, null);
}

function finished(side: Side, { unit, kind }: ResolvedUnit, uncertainty: number | null): Finished {
  return {
    ok: true,
    kind,
    unit,
    value: side.value,
    resolution: side.resolution,
    form: side.form,
    uncertainty,
  };
}

function finishWith(text: string, left: Side, range: Range, kind: Kind | undefined): Finished | Failure {
  const span = { offset: range.start, length: range.end - range.start };
  if (range.start >= range.end) return fail('bad-uncertainty', span, 'After ± a number is due.');
  const right = readUncertainty(text, range, left, kind);
  if (!right.ok) return right;
  const main = left.unit ?? (right.shared ? right.unit : undefined) ?? resolveUnit('', left.span, kind);
  if (main === undefined || !main.ok) return main ?? fail('no-unit', left.span, 'The number has no unit.');
  if (right.unit?.unit.symbol === '%' && (main.kind === 'temperature' || natureOf(main.kind) === 'level')) {
    const why = `A share of ${aKind(main.kind)} means nothing, since its zero is only agreed upon.`;
    const hint = `Write the uncertainty in ${main.kind === 'temperature' ? 'K' : main.unit.symbol}.`;
    return fail('bad-uncertainty', span, why, { hint });
  }
  const half = halfWidth(left, right, main);
  if (!(half > 0) || !Number.isFinite(half)) {
    return fail(
      'bad-uncertainty',
      span,
      'An uncertainty is more than nought; one that is not known is left out.',
    );
  }
  return finished(left, main, half);
}

/** The side after the ±; `shared` when its unit is the unit of both. */
type Uncertainty = Side & { readonly shared: boolean };

function readUncertainty(
  text: string,
  range: Range,
  left: Side,
  kind: Kind | undefined,
): Uncertainty | Failure {
  if (left.unit === undefined) {
    const right = readSide(text, range, kind);
    return right.ok ? { ...right, shared: true } : right;
  }
  const own = left.unit.kind;
  const right = readSide(text, range, undefined);
  if (right.ok && (right.unit === undefined || right.unit.unit.symbol === '%'))
    return { ...right, shared: false };
  const due = own === 'temperature' ? 'temperature-difference' : own;
  const again = readSide(text, range, due);
  return again.ok ? { ...again, shared: false } : again;
}

function halfWidth(left: Side, right: Uncertainty, main: ResolvedUnit): number {
  if (right.negative) return Number.NaN;
  const own = right.unit?.unit;
  if (own === undefined || own === main.unit) return right.value;
  // A share of the value, unless the value itself is in per cent: then points of it.
  if (own.symbol === '%' && !main.unit.kinds.includes('ratio') && main.kind !== 'moisture') {
    return (Math.abs(left.value) * right.value) / 100;
  }
  return right.value * (own.factor / main.unit.factor);
}

const GAUGE = /^\s*(?:AWG\s*(\d+(?:\/0)?)|(\d+(?:\/0)?)\s*(?:AWG|awg))\s*$/;

/** Reads a wire gauge: `12 AWG`, `AWG 12`, `2/0 AWG`, `00 AWG`; nothing if the text is not one. */
function readGauge(text: string, kind: Kind | undefined): QuantityResult | undefined {
  const match = /awg/i.test(text) ? GAUGE.exec(text) : null;
  if (!match) return undefined;
  const span = { offset: 0, length: text.length };
  if (kind !== undefined && kind !== 'area') {
    const message = `A wire gauge is an area of conductor, and ${aKind(kind)} is due.`;
    return fail('wrong-kind', span, message);
  }
  const value = gaugeNumber(match[1] ?? match[2] ?? '');
  if (value === undefined) {
    return fail('bad-gauge', span, `There is no wire gauge ${quoted(match[1] ?? match[2] ?? '')}.`, {
      hint: 'AWG sizes go from 4/0 (0000) through 0 and 1 to 40.',
    });
  }
  const unit = knownUnit('AWG');
  const parts = {
    written: text,
    kind: 'area',
    value,
    unit,
    resolution: 1,
    uncertainty: null,
    form: 'gauge',
  } as const;
  return { ok: true, quantity: makeQuantity(parts) };
}

/** The number in the AWG formula: 0 for 1/0, -3 for 4/0 or 0000. */
function gaugeNumber(text: string): number | undefined {
  if (/^0{1,4}$/.test(text)) return 1 - text.length || 0;
  const aught = /^([1-4])\/0$/.exec(text);
  if (aught) return 1 - Number(aught[1]) || 0;
  return /^[1-9]\d?$/.test(text) && Number(text) <= 40 ? Number(text) : undefined;
}
