import type { Basis } from '../check/model.js';
import type { ItemState, PartState, SpecState, Standing } from './model.js';
import { toCents } from './parts.js';
import { type Dependent, dependentsOf, type RelianceGraph, unsettled } from './reliance.js';

/** An amount of money in one currency. */
export interface Amount {
  readonly currency: string;
  readonly amount: number;
}

/** What rests on one spec that is not verified. */
export interface Exposure {
  readonly spec: string;
  readonly standing: Standing;
  readonly dependents: readonly Dependent[];
  /** Money in parts that rest on it, ordered or fitted and not given back; each part once, by currency. */
  readonly money: readonly Amount[];
  /** Hours of work that rest on it: the sizes of items among the dependents, done and to do; each item once. */
  readonly hours: number;
  /** The lowest basis that would settle it; null where it is settled, and against the claim. */
  readonly settledBy: Basis | null;
  /** What to do next about it, in a sentence. */
  readonly next: string;
}

/** What is counted: parts, items and the currency that the book reckons in first. */
export interface Countables {
  readonly parts: ReadonlyMap<string, PartState>;
  readonly items: ReadonlyMap<string, ItemState>;
  readonly currency: string | null;
  /** Of what no sum is given, since some of its parts are not in the book that is shown. */
  readonly noTotalsOf: readonly ('cost' | 'hours')[];
}

/**
 * The specs that are not verified, with what rests on each: the one with most at stake first. Money comes
 * before hours and hours before the number of dependents; amounts in the book's own currency are compared
 * first, and amounts in others only among themselves, since money is never added across currencies.
 */
export function exposures(
  specs: ReadonlyMap<string, SpecState>,
  graph: RelianceGraph,
  derived: ReadonlySet<string>,
  countables: Countables,
): readonly Exposure[] {
  return unsettled(specs.values())
    .map((state) => exposureOf(state, dependentsOf(state.spec.ref, graph, derived), countables))
    .sort((a, b) => byStake(a, b, countables.currency));
}

function exposureOf(state: SpecState, dependents: readonly Dependent[], countables: Countables): Exposure {
  return {
    spec: state.spec.ref,
    standing: state.standing,
    dependents,
    ...atStake(dependents, countables),
    settledBy: state.standing === 'contradicted' ? null : state.spec.needs,
    next: nextStep(state, dependents.length),
  };
}

/** Money and hours in some dependents: each part and each item once, by however many ways it is reached. */
export function atStake(
  dependents: readonly Dependent[],
  { parts, items, noTotalsOf }: Omit<Countables, 'currency'>,
): Pick<Exposure, 'money' | 'hours'> {
  const ids = (sort: Dependent['sort']) =>
    dependents.filter((dependent) => dependent.sort === sort).map((dependent) => dependent.id);
  return {
    money: noTotalsOf.includes('cost') ? [] : moneyIn(ids('part').flatMap((id) => parts.get(id) ?? [])),
    hours: noTotalsOf.includes('hours')
      ? 0
      : ids('item').reduce((hours, id) => hours + (items.get(id)?.opened.size?.si ?? 0) / 3600, 0),
  };
}

/** What was paid for parts is at stake while they are on order, here or fitted. */
function moneyIn(parts: readonly PartState[]): readonly Amount[] {
  const sums = new Map<string, number>();
  for (const part of parts) {
    if (part.now === 'returned' || part.now === 'sold' || part.now === 'scrapped') continue;
    for (const { currency, amount } of part.costs) sums.set(currency, (sums.get(currency) ?? 0) + amount);
  }
  return [...sums]
    .map(([currency, amount]) => ({ currency, amount: toCents(amount) }))
    .sort((a, b) => (a.currency < b.currency ? -1 : 1));
}

const DO: Readonly<Record<Basis, string>> = {
  told: 'Ask somebody who knows',
  printed: "Look it up in the maker's papers",
  marked: 'Read it off the item itself',
  measured: 'Measure it',
  witnessed: 'Have a third party check it',
};

function nextStep({ spec, standing, holds }: SpecState, dependents: number): string {
  const how = spec.checkBy === null ? '' : ` ${spec.checkBy}`;
  const found = holds.type === 'quantity' ? holds.quantity.written : `“${holds.text}”`;
  switch (standing) {
    case 'contradicted':
      return dependents === 0
        ? `It is ${found}; nothing on record rests on it.`
        : `Decide anew what rests on it: it is ${found}.`;
    case 'undecided':
      return `Measure it more closely: the uncertainty has to be smaller than the distance to the limit.${how}`;
    case 'lapsed':
      return `${DO[spec.needs]} again.${how}`;
    case 'unverified':
    case 'verified':
      return `${DO[spec.needs]}.${how}`;
  }
}

const URGENCY: readonly Standing[] = ['contradicted', 'undecided', 'lapsed', 'unverified', 'verified'];

function byStake(a: Exposure, b: Exposure, currency: string | null): number {
  return (
    amountIn(b, currency) - amountIn(a, currency) ||
    largest(b) - largest(a) ||
    b.hours - a.hours ||
    b.dependents.length - a.dependents.length ||
    URGENCY.indexOf(a.standing) - URGENCY.indexOf(b.standing) ||
    (a.spec < b.spec ? -1 : 1)
  );
}

function amountIn({ money }: Exposure, currency: string | null): number {
  return money.find((amount) => amount.currency === currency)?.amount ?? 0;
}

function largest({ money }: Exposure): number {
  return Math.max(0, ...money.map((amount) => amount.amount));
}
