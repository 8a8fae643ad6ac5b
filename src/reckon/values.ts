import type { Claim, Derived, Reading, System, Uncertainty } from '../check/model.js';
import {
  evaluate,
  type Formula,
  fromSi,
  type Kind,
  linearise,
  type Quantity,
  type Slope,
  siResolution,
  substitute,
} from '../quantity/index.js';
import type { SpecState, Standing, Timeline } from './model.js';

/**
 * The values in force: what a point, a spec or a derived value comes to on a day, and what it rests on.
 *
 * A point's value is its last reading. A spec's is what is stated, until that is contradicted; then it is the
 * value of the evidence. A derived value is worked out from those, with its uncertainty by first order
 * (JCGM 100:2008, clause 5): formulas are unfolded down to points and specs before they are reckoned, so that
 * one reading that comes in by several ways counts as the one it is.
 */
export interface ValueInForce {
  readonly ref: string;
  readonly kind: Kind;
  readonly si: number;
  /** Half-width in SI; null where it is not known. */
  readonly siUncertainty: number | null;
  readonly siResolution: number;
  /** Specs, points and derived values below it, itself included; each once. */
  readonly restsOn: readonly string[];
  /** Day of the newest reading or statement in it; null where it is only claimed. */
  readonly date: string | null;
}

/** Looks values in force up by `system.name`. */
export interface Values {
  readonly of: (ref: string) => ValueInForce | undefined;
  /** Reckons a formula whose names are full refs. */
  readonly evaluate: (formula: Formula) => ReturnType<typeof evaluate>;
  /** A formula with derived values unfolded down to points and specs. */
  readonly unfold: (formula: Formula) => Formula;
  /** The same, with every spec under its own name: `unfold` gives one that a reading contradicts that reading's. */
  readonly plain: (formula: Formula) => Formula;
  /** Standing of a spec; null for anything else. */
  readonly standing: (ref: string) => Standing | null;
}

/**
 * @param given values to be used whatever the book says, by ref: what is supposed.
 */
export function valuesInForce(
  systems: ReadonlyMap<string, System>,
  specs: ReadonlyMap<string, SpecState>,
  timelines: ReadonlyMap<string, Timeline>,
  given: ReadonlyMap<string, Quantity> = new Map(),
): Values {
  const derived = new Map(
    [...systems.values()].flatMap((system) =>
      [...system.derived.values()].map((value) => [value.ref, value] as const),
    ),
  );
  const leaf = (ref: string) => leafValue(ref, specs, timelines, given);
  const formulaOf = (ref: string) => (given.has(ref) ? null : (derived.get(ref)?.formula ?? null));
  const unfold = unfolder(formulaOf, (ref) => aliasOf(ref, specs, timelines, given));
  const plain = unfolder(formulaOf, (ref) => ref);
  const reckonFormula = (formula: Formula) => evaluate(substitute(formula, unfold), (name) => leaf(name));
  const known = new Map<string, ValueInForce | undefined>();
  const of = (ref: string): ValueInForce | undefined => {
    if (known.has(ref)) return known.get(ref);
    const value =
      derived.has(ref) && !given.has(ref)
        ? derivedValue(derived.get(ref) as Derived, derived, unfold, leaf)
        : leaf(ref);
    known.set(ref, value);
    return value;
  };
  return {
    of,
    evaluate: reckonFormula,
    unfold: (formula) => substitute(formula, unfold),
    plain: (formula) => substitute(formula, plain),
    standing: (ref) => specs.get(ref)?.standing ?? null,
  };
}

/**
 * Unfolds names: a derived value into its formula, down to what is none, and that into the name it goes by.
 * Each is unfolded once.
 */
function unfolder(
  formulaOf: (ref: string) => Formula | null,
  goesBy: (ref: string) => string,
): (ref: string) => Formula | string {
  const unfolded = new Map<string, Formula | string>();
  const unfold = (ref: string): Formula | string => {
    const known = unfolded.get(ref);
    if (known !== undefined) return known;
    const formula = formulaOf(ref);
    // Set before going down: a circle, which the checker reports, then ends at the name itself.
    unfolded.set(ref, goesBy(ref));
    if (formula !== null) unfolded.set(ref, substitute(formula, unfold));
    return unfolded.get(ref) ?? ref;
  };
  return unfold;
}

/** A contradicted spec whose evidence is the last reading of its point is that reading, not another like it. */
function aliasOf(
  ref: string,
  specs: ReadonlyMap<string, SpecState>,
  timelines: ReadonlyMap<string, Timeline>,
  given: ReadonlyMap<string, Quantity>,
): string {
  const state = specs.get(ref);
  const point = state?.spec.point ?? null;
  if (
    state === undefined ||
    state.standing !== 'contradicted' ||
    point === null ||
    given.has(ref) ||
    given.has(point)
  )
    return ref;
  const last = timelines.get(point)?.last?.reading;
  const { deciding } = state;
  const same =
    deciding?.from === 'reading' &&
    last !== undefined &&
    deciding.entry === last.entry &&
    deciding.value.type === 'quantity' &&
    deciding.value.quantity === last.quantity;
  return same ? point : ref;
}

function leafValue(
  ref: string,
  specs: ReadonlyMap<string, SpecState>,
  timelines: ReadonlyMap<string, Timeline>,
  given: ReadonlyMap<string, Quantity>,
): ValueInForce | undefined {
  const supposed = given.get(ref);
  if (supposed !== undefined) return fromQuantity(ref, supposed, supposed.siUncertainty, null);
  const last = timelines.get(ref)?.last;
  if (last != null) return fromReading(ref, last.reading);
  const state = specs.get(ref);
  return state === undefined ? undefined : fromSpec(ref, state);
}

function fromReading(ref: string, reading: Reading): ValueInForce {
  return fromQuantity(ref, reading.quantity, reading.uncertainty.si, reading.date);
}

function fromSpec(ref: string, { holds, standing, deciding }: SpecState): ValueInForce | undefined {
  if (holds.type === 'text') return undefined;
  const found = standing === 'contradicted' && deciding !== null;
  return fromQuantity(
    ref,
    holds.quantity,
    found ? deciding.uncertainty.si : holds.quantity.siUncertainty,
    found ? deciding.date : null,
  );
}

function fromQuantity(
  ref: string,
  quantity: Quantity,
  siUncertainty: number | null,
  date: string | null,
): ValueInForce {
  return {
    ref,
    kind: quantity.kind,
    si: quantity.si,
    siUncertainty,
    siResolution: siResolution(quantity),
    restsOn: [ref],
    date,
  };
}

function derivedValue(
  derived: Derived,
  all: ReadonlyMap<string, Derived>,
  unfold: (ref: string) => Formula | string,
  leaf: (ref: string) => ValueInForce | undefined,
): ValueInForce | undefined {
  if (derived.formula === null) return undefined;
  const formula = substitute(derived.formula, unfold);
  const line = linearise(formula, leaf);
  if (line === undefined) return undefined;
  const dates = formula.names.flatMap((name) => leaf(name)?.date ?? []);
  return {
    ref: derived.ref,
    kind: derived.kind,
    si: line.si,
    siUncertainty: spread(line.slopes, derived.correlated),
    siResolution: Math.hypot(...line.slopes.map(({ slope, siResolution }) => slope * siResolution)),
    restsOn: [...new Set([...below(derived.ref, all), ...formula.names])],
    date: dates.sort().at(-1) ?? null,
  };
}

/** A derived value and all that it is made of, through others, each once. */
function below(ref: string, derived: ReadonlyMap<string, Derived>): ReadonlySet<string> {
  const found = new Set([ref]);
  for (const name of found) for (const used of derived.get(name)?.uses ?? []) found.add(used);
  return found;
}

/**
 * The half-width of what hangs on several inputs, by first order with stated correlations
 * (JCGM 100:2008, 5.2.2, equation 16): the sum of squares of the single contributions, and twice the product
 * of every two that go together times how far they do. Null where an input that matters has none known.
 */
function spread(slopes: readonly Slope[], correlated: Derived['correlated']): number | null {
  const parts = slopes
    .filter(({ slope }) => slope !== 0)
    .map(({ from, slope, siUncertainty }) => ({
      from,
      part: siUncertainty === null ? null : slope * siUncertainty,
    }));
  if (parts.some(({ part }) => part === null)) return null;
  const of = (ref: string) => parts.find(({ from }) => from === ref)?.part ?? 0;
  const alone = parts.reduce((sum, { part }) => sum + (part ?? 0) ** 2, 0);
  const together = correlated.reduce((sum, { between: [a, b], by }) => sum + 2 * by * of(a) * of(b), 0);
  return Math.sqrt(Math.max(0, alone + together));
}

/** A value in force as a claim with its uncertainty, to be shown in a unit. */
export function shownInUnit(
  value: ValueInForce,
  unit: string,
): { readonly claim: Claim; readonly uncertainty: Uncertainty } {
  const quantity = fromSi(value.kind, value, unit);
  return {
    claim: { type: 'quantity', quantity },
    uncertainty: { si: value.siUncertainty, from: value.siUncertainty === null ? 'unknown' : 'written' },
  };
}
