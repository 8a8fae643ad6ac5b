import { fromSi, type Kind, type Quantity, siResolution } from '../quantity/index.js';
import type { Standing } from './model.js';
import type { Values } from './values.js';

/**
 * Values on their way through a reckoning that is more than one formula, such as a plan. Each knows its kind,
 * so that watts are never added to volt-amperes; how it moves with each input, so that an input that comes in
 * twice counts as the one it is; and what it rests on.
 *
 * Uncertainty is carried on by first order (JCGM 100:2008, 5.1.2): the half-width of a result is the root of
 * the sum of the squares of each input's half-width times the derivative by it.
 */

/** An input with an uncertainty of its own; told from others by identity. */
export interface Origin {
  /** Half-width in SI; null where it is not known. */
  readonly half: number | null;
  /** Place value of the last digit as written, in SI; 0 where nothing bounds it. */
  readonly resolution: number;
}

/** A value of a kind, in SI. */
export interface Uncertain<K extends Kind> {
  readonly kind: K;
  readonly si: number;
  /** Derivatives by the inputs. */
  readonly slopes: ReadonlyMap<Origin, number>;
  /** Refs of the specs, points and derived values below it. */
  readonly rests: ReadonlySet<string>;
}

const NO_SLOPES: ReadonlyMap<Origin, number> = new Map();
const NO_REFS: ReadonlySet<string> = new Set();

/** A number that is what it is: a day has 24 h. */
export function exactly<K extends Kind>(kind: K, si: number): Uncertain<K> {
  return { kind, si, slopes: NO_SLOPES, rests: NO_REFS };
}

/** A quantity as an input of its own. Two calls give two inputs, which are taken as independent. */
export function fromQuantity<K extends Kind>(kind: K, quantity: Quantity): Uncertain<K> {
  const origin: Origin = { half: quantity.siUncertainty, resolution: siResolution(quantity) };
  return { kind, si: quantity.si, slopes: new Map([[origin, 1]]), rests: NO_REFS };
}

/** The sum of values of one kind. */
export function sumOf<K extends Kind>(kind: K, terms: readonly Uncertain<NoInfer<K>>[]): Uncertain<K> {
  return linear(
    kind,
    terms.reduce((sum, term) => sum + term.si, 0),
    terms.map((term) => [term, 1]),
  );
}

/** The difference of two values of one kind. */
export function minus<K extends Kind>(a: Uncertain<K>, b: Uncertain<NoInfer<K>>): Uncertain<K> {
  return linear(a.kind, a.si - b.si, [
    [a, 1],
    [b, -1],
  ]);
}

/** A value so many times. */
export function timesNumber<K extends Kind>(a: Uncertain<K>, factor: number): Uncertain<K> {
  return linear(a.kind, a.si * factor, [[a, factor]]);
}

/** The product of two values; `kind` says what it is. */
export function product<K extends Kind>(kind: K, a: Uncertain<Kind>, b: Uncertain<Kind>): Uncertain<K> {
  return linear(kind, a.si * b.si, [
    [a, b.si],
    [b, a.si],
  ]);
}

/** The quotient of two values; `kind` says what it is. Not finite where the second is nought. */
export function quotient<K extends Kind>(kind: K, a: Uncertain<Kind>, b: Uncertain<Kind>): Uncertain<K> {
  return linear(kind, a.si / b.si, [
    [a, 1 / b.si],
    [b, -a.si / (b.si * b.si)],
  ]);
}

/** The smaller of two values, with what both rest on: the other one would have to be larger still. */
export function smaller<K extends Kind>(a: Uncertain<K>, b: Uncertain<NoInfer<K>>): Uncertain<K> {
  const least = b.si < a.si ? b : a;
  return { ...least, rests: joined([a, b]) };
}

/** The larger of two values, with what both rest on. */
export function larger<K extends Kind>(a: Uncertain<K>, b: Uncertain<NoInfer<K>>): Uncertain<K> {
  const most = b.si > a.si ? b : a;
  return { ...most, rests: joined([a, b]) };
}

/** The same value, resting on more. */
export function restingOn<K extends Kind>(a: Uncertain<K>, refs: Iterable<string>): Uncertain<K> {
  return { ...a, rests: new Set([...a.rests, ...refs]) };
}

/** Share of a value by which an input is moved to find a derivative. */
const STEP = 1e-6;

/** Share of a result below which a change is the rounding of the machine. */
const ROUNDING = 1e-12;

/**
 * A function of many values whose derivatives have no handy form: they are taken by central differences, as
 * JCGM 100:2008, 5.1.3 note 2 allows.
 */
export function through<K extends Kind>(
  kind: K,
  inputs: readonly Uncertain<Kind>[],
  of: (si: readonly number[]) => number,
): Uncertain<K> {
  const at = inputs.map((input) => input.si);
  const here = of(at);
  const moved = (index: number, by: number) => of(at.map((si, other) => (other === index ? si + by : si)));
  const parts = inputs.map((input, index): [Uncertain<Kind>, number] => {
    if (input.slopes.size === 0) return [input, 0];
    const step = Math.abs(input.si) * STEP || STEP;
    const change = moved(index, step) - moved(index, -step);
    // What is no more than the rounding of the machine is no slope: the input does not come in.
    return [input, Math.abs(change) <= Math.abs(here) * ROUNDING ? 0 : change / (2 * step)];
  });
  return linear(kind, here, parts);
}

/** A value with the chain rule applied to its parts. */
function linear<K extends Kind>(
  kind: K,
  si: number,
  parts: readonly (readonly [Uncertain<Kind>, number])[],
): Uncertain<K> {
  const slopes = new Map<Origin, number>();
  for (const [part, factor] of parts)
    for (const [origin, slope] of part.slopes) slopes.set(origin, (slopes.get(origin) ?? 0) + slope * factor);
  return { kind, si, slopes, rests: joined(parts.map(([part]) => part)) };
}

function joined(parts: readonly Uncertain<Kind>[]): ReadonlySet<string> {
  const refs = new Set<string>();
  for (const part of parts) for (const ref of part.rests) refs.add(ref);
  return refs;
}

/** The half-width of a value in SI; null where an input that matters has none known. */
export function halfWidth(value: Uncertain<Kind>): number | null {
  const matter = [...value.slopes].filter(([, slope]) => slope !== 0);
  return matter.some(([{ half }]) => half === null) ? null : knownHalf(value);
}

/** The half-width that comes from the inputs of which one is known: the least that it can be. */
function knownHalf(value: Uncertain<Kind>): number {
  return Math.hypot(...[...value.slopes].map(([{ half }, slope]) => (half ?? 0) * slope));
}

/** How a value compares with a limit. */
export type Fit = 'works' | 'fails' | 'undecided';

/**
 * Whether a value is at most a limit, by interval (JCGM 106:2012, clause 8, with the half-width as guard
 * band): `works` where the whole interval of the difference is, `fails` where none of it is. An input of
 * unknown half-width is not certain, but nothing can be held back by it: the interval is then as wide as the
 * others make it.
 */
export function atMost<K extends Kind>(value: Uncertain<K>, limit: Uncertain<NoInfer<K>>): Fit {
  const room = minus(limit, value);
  const half = knownHalf(room);
  // Sums and conversions round in the last bits; on the limit means on it.
  const rounding = 1e-9 * Math.max(Math.abs(limit.si), Math.abs(value.si));
  if (room.si - half >= -rounding) return 'works';
  return room.si + half < -rounding ? 'fails' : 'undecided';
}

const FITS: readonly Fit[] = ['works', 'undecided', 'fails'];

/** The worst of several; all together work only where each does. */
export function worstFit(fits: readonly Fit[]): Fit {
  return FITS[Math.max(0, ...fits.map((fit) => FITS.indexOf(fit)))] ?? 'works';
}

/** The best of several: where one way will do. */
export function bestFit(fits: readonly Fit[]): Fit {
  return FITS[Math.min(...fits.map((fit) => FITS.indexOf(fit)))] ?? 'fails';
}

/** Something that a figure rests on, with its standing: null for what is no spec. */
export interface Rest {
  readonly ref: string;
  readonly standing: Standing | null;
}

/** A figure to be shown: the value with its uncertainty, and what it rests on. */
export interface Figure<K extends Kind = Kind> {
  readonly kind: K;
  readonly quantity: Quantity;
  readonly restsOn: readonly Rest[];
}

/** A value as a figure, in a unit. */
export function figureOf<K extends Kind>(value: Uncertain<K>, unit: string, values: Values): Figure<K> {
  const { kind, si, rests } = value;
  const siUncertainty = halfWidth(value);
  const carried = coarseness(value);
  const shown = fromSi(kind, { si, siUncertainty, siResolution: carried }, unit);
  const place = siUncertainty === null || siUncertainty === 0 ? placeOf(shown.value, shown.resolution) : 0;
  // Places of digits are in the unit; a scale of SI to unit that both have cancels out.
  const scale = shown.value === 0 ? 0 : si / shown.value;
  return {
    kind,
    quantity: fromSi(kind, { si, siUncertainty, siResolution: place * scale }, unit),
    restsOn: restsOf(rests, values),
  };
}

/**
 * Place of the last digit that is shown of a value without a known uncertainty. It has the digits of what went
 * in, but two at least where they are not noughts: 2.5 would otherwise come down to 3 among whole numbers. What nothing bounds, since all of
 * it is laid down, has three, without noughts at the end.
 */
function placeOf(value: number, carried: number): number {
  const steps = value / carried;
  if (value === 0 || Math.abs(steps - Math.round(steps)) < 1e-9) return carried;
  const digits = (count: number) => 10 ** (Math.floor(Math.log10(Math.abs(value)) + 1e-9) + 1 - count);
  if (carried > 0) return Math.min(carried, digits(2));
  const thirdPlace = Math.round(value / digits(3));
  const noughts = [100, 10].find((many) => thirdPlace % many === 0) ?? 1;
  return digits(3) * noughts;
}

/** Place of the last digit, carried on the way uncertainty is. */
function coarseness(value: Uncertain<Kind>): number {
  return Math.hypot(...[...value.slopes].map(([origin, slope]) => origin.resolution * slope));
}

/** Refs with their standings, in order of name. */
export function restsOf(refs: Iterable<string>, values: Values): readonly Rest[] {
  return [...new Set(refs)].sort().map((ref) => ({ ref, standing: values.standing(ref) }));
}
