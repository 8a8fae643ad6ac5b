/**
 * The algebra of kinds: what adding, multiplying and comparing kinds of quantity gives, or why it may not be
 * done. A part of a formula may stand for one of several kinds until its surroundings settle it: newton times
 * metre is a torque or an energy until it is added to one of them or declared to be one.
 */
import { ALL_KINDS, aKind, type Dimension, differenceKind, type Kind, kindRow, natureOf } from '../kinds.js';
import { orList } from '../problem.js';

/** What a part of a formula may be; `kinds` is empty where no kind has its dimension. */
export interface Type {
  readonly dimension: Dimension;
  readonly kinds: readonly Kind[];
}

/** A type, or one sentence that says why there is none. */
export type Typed = { readonly ok: true; readonly type: Type } | { readonly ok: false; readonly why: string };

const NUMBER: Dimension = [0, 0, 0, 0, 0, 0];

/** The type of a number written without a unit: a ratio, a count, or what else is written so. */
export const BARE_NUMBER: Type = Object.freeze({
  dimension: NUMBER,
  kinds: ['ratio', 'count', ...ALL_KINDS.filter((kind) => kindRow(kind).bare !== undefined)].filter(
    (kind, index, all) => all.indexOf(kind) === index,
  ) as Kind[],
});

/** The type of a value of a known kind. */
export function typeOf(...kinds: readonly [Kind, ...Kind[]]): Type {
  return { dimension: kindRow(kinds[0]).dimension, kinds };
}

/** A type in words: `a torque or an energy`. */
export function typeInWords({ kinds, dimension }: Type): string {
  if (kinds.includes('ratio')) return 'a plain number';
  if (kinds.length > 0) return orList(kinds.slice(0, 3).map(aKind));
  const bases = ['m', 'kg', 's', 'A', 'K', 'cd'];
  const powers = dimension.map((power, i) =>
    power === 0 ? '' : power === 1 ? bases[i] : `${bases[i]}^${power}`,
  );
  return `a quantity in ${powers.filter((text) => text !== '').join('·')}`;
}

function ok(dimension: Dimension, kinds: readonly Kind[]): Typed {
  return { ok: true, type: { dimension, kinds: [...new Set(kinds)] } };
}

function no(why: string): Typed {
  return { ok: false, why };
}

function sameDimension(a: Dimension, b: Dimension): boolean {
  return a.every((power, i) => power === b[i]);
}

/** Kinds of a dimension that can come out of a multiplication; the plain ratio first. */
function kindsOfDimension(dimension: Dimension): readonly Kind[] {
  const kinds = ALL_KINDS.filter(
    (kind) =>
      kind !== 'temperature' &&
      natureOf(kind) !== 'level' &&
      sameDimension(kindRow(kind).dimension, dimension),
  );
  return kinds.includes('ratio') ? ['ratio', ...kinds] : kinds;
}

function isPlain({ kinds }: Type): boolean {
  return kinds.some((kind) => natureOf(kind) === 'plain');
}

/** The kind of `a + b` or `a - b`, for two kinds; `undefined` where they do not add. */
function sumKind(a: Kind, b: Kind, minus: boolean): Kind | undefined {
  if (natureOf(a) === 'level' || natureOf(b) === 'level') return undefined;
  if (natureOf(a) === 'point') {
    if (a === b) return minus ? differenceKind(a) : undefined;
    return differenceKind(a) === b ? a : undefined;
  }
  if (a === b) return a;
  return !minus && natureOf(b) === 'point' && differenceKind(b) === a ? b : undefined;
}

/** The type of a sum or a difference. */
export function sumType(a: Type, b: Type, minus: boolean): Typed {
  const kinds = a.kinds.flatMap((left) => b.kinds.map((right) => sumKind(left, right, minus)));
  const found = kinds.filter((kind) => kind !== undefined);
  if (found.length > 0) return ok(a.dimension, found);
  const unnamed = a.kinds.length === 0 || b.kinds.length === 0;
  if (unnamed && sameDimension(a.dimension, b.dimension)) return ok(a.dimension, []);
  return no(whyNoSum(a, b, minus));
}

function whyNoSum(a: Type, b: Type, minus: boolean): string {
  const one =
    a.kinds.length === 1 && b.kinds.length === 1 && a.kinds[0] === b.kinds[0] ? a.kinds[0] : undefined;
  if (one !== undefined && natureOf(one) === 'level') {
    return `Values of ${kindRow(one).title} are compared or averaged, not added or subtracted.`;
  }
  if (one !== undefined) {
    return `Two values of ${kindRow(one).title} cannot be added; for their average write mean(…, …).`;
  }
  return `${upper(typeInWords(b))} cannot be ${minus ? 'taken from' : 'added to'} ${typeInWords(a)}.`;
}

function upper(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Products whose kind is known more closely than their dimension tells. */
const PRODUCTS: ReadonlyMap<string, readonly Kind[]> = new Map<string, readonly Kind[]>([
  ['apparent-power * power-factor', ['power']],
  ['power-factor * apparent-power', ['power']],
  ['power / power-factor', ['apparent-power']],
  ['power / apparent-power', ['power-factor', 'ratio']],
  ['torque * rotational-speed', ['power']],
  ['rotational-speed * torque', ['power']],
  ['torque * angle', ['energy']],
  ['angle * torque', ['energy']],
]);

/** The type of a product or a quotient. */
export function productType(a: Type, b: Type, divide: boolean): Typed {
  const left = scalable(a);
  const right = scalable(b);
  if (!left.ok) return left;
  if (!right.ok) return right;
  const sign = divide ? -1 : 1;
  const dimension = a.dimension.map(
    (power, i) => power + sign * (b.dimension[i] ?? 0),
  ) as unknown as Dimension;
  if (isPlain(a) && isPlain(b)) {
    return ok(dimension, [...left.type.kinds, ...right.type.kinds, ...(divide ? (['ratio'] as const) : [])]);
  }
  if (isPlain(b)) return ok(dimension, left.type.kinds);
  if (isPlain(a) && !divide) return ok(dimension, right.type.kinds);
  const special = left.type.kinds.flatMap((one) =>
    right.type.kinds.flatMap((other) => PRODUCTS.get(`${one} ${divide ? '/' : '*'} ${other}`) ?? []),
  );
  const certain = left.type.kinds.length === 1 && right.type.kinds.length === 1 && special.length > 0;
  return ok(dimension, certain ? special : [...kindsOfDimension(dimension), ...special]);
}

/** What of a type can be multiplied: no temperatures on a scale, no levels. */
export function scalable(type: Type): Typed {
  const kinds = type.kinds.filter((kind) => kind !== 'temperature' && natureOf(kind) !== 'level');
  if (kinds.length > 0 || type.kinds.length === 0) return ok(type.dimension, kinds);
  if (type.kinds.includes('temperature')) {
    return no('A temperature cannot be multiplied, divided or negated; only a temperature difference can.');
  }
  return no(`${upper(typeInWords(type))} cannot be multiplied, divided or negated.`);
}

/** The type of a whole power. */
export function powerType(base: Type, exponent: number): Typed {
  const scaled = scalable(base);
  if (!scaled.ok || exponent === 1 || isPlain(base)) return scaled;
  const dimension = base.dimension.map((power) => power * exponent) as unknown as Dimension;
  return ok(dimension, kindsOfDimension(dimension));
}

/** The type of a square root. */
export function rootType(base: Type): Typed {
  const scaled = scalable(base);
  if (!scaled.ok || isPlain(base)) return scaled;
  const dimension = base.dimension.map((power) => power / 2) as unknown as Dimension;
  return ok(dimension, kindsOfDimension(dimension));
}

/** The type that two values have in common, so that they can be compared. */
export function commonType(a: Type, b: Type): Typed {
  const kinds = a.kinds.filter((kind) => b.kinds.includes(kind));
  if (kinds.length > 0) return ok(a.dimension, kinds);
  const unnamed = a.kinds.length === 0 || b.kinds.length === 0;
  if (unnamed && sameDimension(a.dimension, b.dimension)) return ok(a.dimension, [...a.kinds, ...b.kinds]);
  return no(`${upper(typeInWords(a))} cannot be compared with ${typeInWords(b)}.`);
}

/** Kinds that a formula gives only where they are asked for, since a plainer one has their dimension. */
const SPECIAL: ReadonlySet<Kind> = new Set<Kind>([
  'fuel-per-distance',
  'trim-moment',
  'immersion',
  'luminous-flux',
]);

/** Settles what a whole formula gives: the kind that is due, or the only one it can be. */
export function settle(
  type: Type,
  due: Kind | undefined,
): { ok: true; kind: Kind } | { ok: false; why: string } {
  const { kinds } = type;
  if (due !== undefined) {
    if (kinds.includes(due)) return { ok: true, kind: due };
    return { ok: false, why: `The formula gives ${typeInWords(type)}, and ${aKind(due)} is due.` };
  }
  const common = kinds.filter((kind) => !SPECIAL.has(kind));
  if (common.length === 1 && common[0] !== undefined) return { ok: true, kind: common[0] };
  const only = kinds.includes('ratio') ? 'ratio' : kinds.length === 1 ? kinds[0] : undefined;
  if (only !== undefined) return { ok: true, kind: only };
  const why =
    kinds.length === 0 ? `The formula gives ${typeInWords(type)}, which has no name here.` : undefined;
  return { ok: false, why: why ?? `The formula may give ${typeInWords(type)}: say which by \`quantity\`.` };
}
