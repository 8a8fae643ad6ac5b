import type { CheckedBook, Claim, Spec } from '../check/model.js';
import { fromSi, type Quantity, type Verdict } from '../quantity/index.js';
import type { LimitState, Reckoning, Standing } from './model.js';
import type { PowerVerdict } from './power/model.js';
import { reckon } from './reckon.js';
import { limitOf } from './timelines.js';
import type { ValueInForce } from './values.js';

/** One thing that would be otherwise. */
export interface Difference<T> {
  readonly id: string;
  readonly from: T;
  readonly to: T;
}

/** What would change if some values were others than the book knows. Only what changes is in it. */
export interface Supposition {
  readonly supposed: readonly {
    readonly ref: string;
    readonly from: Quantity | null;
    readonly to: Quantity;
  }[];
  readonly standings: readonly Difference<Standing>[];
  /** Derived values, in the unit in which they are shown. */
  readonly values: readonly Difference<Quantity | null>[];
  readonly decisions: readonly Difference<Verdict>[];
  /** Cases of the power plan that stop or start to work, with the first reason why. */
  readonly cases: readonly (Difference<PowerVerdict> & { readonly because: string })[];
  /** Points whose value would come to lie otherwise against their limits. */
  readonly limits: readonly Difference<LimitState>[];
  /** Items, open ones, and parts that rest on what is supposed to be otherwise. */
  readonly items: readonly string[];
  readonly parts: readonly string[];
}

/** Whether nothing would change. */
export function changesNothing(supposition: Supposition): boolean {
  const { supposed: _supposed, ...changes } = supposition;
  return Object.values(changes).every((list) => list.length === 0);
}

/**
 * What the book would come to with other values for some specs or points. What is supposed to be as it is
 * already is no supposition, so that supposing the present values changes nothing.
 *
 * @param supposed by ref of a spec that states a number, or of a point; of the right kind.
 * @param before the book as it is, reckoned as of the same day, where that is at hand.
 */
export function suppose(
  book: CheckedBook,
  asOf: string,
  supposed: ReadonlyMap<string, Quantity>,
  before: Reckoning = reckon(book, asOf),
): Supposition {
  const other = new Map([...supposed].filter(([ref, value]) => isOther(value, before.values.of(ref))));
  if (other.size === 0) return NOTHING;
  const after = reckon(withClaims(book, other), asOf, other);
  const affected = before.affected([...other.keys()]);
  return {
    supposed: [...other].map(([ref, to]) => ({ ref, from: shownValue(before, ref, to.unit), to })),
    standings: differences(before.specs, after.specs, (state) => state.standing),
    values: derivedDifferences(before, after),
    decisions: differences(before.decisions, after.decisions, (state) => state.holding?.verdict ?? null),
    cases: caseDifferences(before, after),
    limits: limitDifferences(before, after, other),
    items: affected
      .filter(({ sort, id }) => sort === 'item' && before.items.get(id)?.status !== 'done')
      .map(({ id }) => id),
    parts: affected.filter(({ sort }) => sort === 'part').map(({ id }) => id),
  };
}

/** A value that states no ± leaves open how well it is known, and is then no other than the same value with one. */
function isOther(value: Quantity, present: ValueInForce | undefined): boolean {
  if (value.si !== present?.si) return true;
  return value.siUncertainty !== null && value.siUncertainty !== present.siUncertainty;
}

const NOTHING: Supposition = {
  supposed: [],
  standings: [],
  values: [],
  decisions: [],
  cases: [],
  limits: [],
  items: [],
  parts: [],
};

/** A spec that is supposed to be another is held against the evidence with the value supposed. */
function withClaims(book: CheckedBook, supposed: ReadonlyMap<string, Quantity>): CheckedBook {
  const systems = new Map(
    [...book.systems].map(([id, system]) => {
      if (![...supposed.keys()].some((ref) => ref.startsWith(`${id}.`))) return [id, system] as const;
      const specs = new Map(
        [...system.specs].map(([name, spec]) => [name, withClaim(spec, supposed.get(spec.ref))] as const),
      );
      return [id, { ...system, specs }] as const;
    }),
  );
  return { ...book, systems };
}

function withClaim(spec: Spec, to: Quantity | undefined): Spec {
  if (to === undefined || spec.claim.type === 'text') return spec;
  const claim: Claim = { type: 'quantity', quantity: to };
  const { band } = spec;
  // The allowance moves with the value: a share stays the same share, an amount the same amount.
  const { share, amount } = spec.allowance;
  const half = share * Math.abs(to.si) + amount;
  if (band === null) return { ...spec, claim };
  return {
    ...spec,
    claim,
    band: {
      ...band,
      low: band.low === null ? null : to.si - half,
      high: band.high === null ? null : to.si + half,
    },
  };
}

function differences<T, V>(
  before: ReadonlyMap<string, T>,
  after: ReadonlyMap<string, T>,
  of: (state: T) => V | null,
): readonly Difference<V>[] {
  return [...before].flatMap(([id, state]) => {
    const now = after.get(id);
    const [from, to] = [of(state), now === undefined ? null : of(now)];
    return from === null || to === null || from === to ? [] : [{ id, from, to }];
  });
}

function derivedDifferences(before: Reckoning, after: Reckoning): Supposition['values'] {
  const derived = [...before.book.systems.values()].flatMap((system) => [...system.derived.values()]);
  return derived.flatMap(({ ref, unit }) => {
    const [was, is] = [before.values.of(ref), after.values.of(ref)];
    if (was?.si === is?.si && was?.siUncertainty === is?.siUncertainty) return [];
    return [{ id: ref, from: shownValue(before, ref, unit), to: shownValue(after, ref, unit) }];
  });
}

function shownValue({ values }: Reckoning, ref: string, unit: string): Quantity | null {
  const value = values.of(ref);
  return value === undefined ? null : fromSi(value.kind, value, unit);
}

function caseDifferences(before: Reckoning, after: Reckoning): Supposition['cases'] {
  const then = new Map(after.power?.cases.map((one) => [one.id, one]));
  return (before.power?.cases ?? []).flatMap(({ id, verdict: from }) => {
    const now = then.get(id);
    if (now === undefined || now.verdict === from) return [];
    return [{ id, from, to: now.verdict, because: now.reasons[0]?.text ?? '' }];
  });
}

function limitDifferences(
  before: Reckoning,
  after: Reckoning,
  supposed: ReadonlyMap<string, Quantity>,
): Supposition['limits'] {
  return [...before.timelines.values()].flatMap(({ point }) => {
    if (!supposed.has(point.ref)) return [];
    const [was, is] = [before.values.of(point.ref), after.values.of(point.ref)];
    if (is === undefined) return [];
    const from = was === undefined ? 'no-limit' : limitOf(point, was);
    const to = limitOf(point, is);
    return from === to ? [] : [{ id: point.ref, from, to }];
  });
}
