import { atStake } from '../reckon/exposure.js';
import type { Reckoning } from '../reckon/model.js';
import type { Dependent, DependentSort } from '../reckon/reliance.js';
import type { Link, Links } from './links.js';
import type { Site } from './site-context.js';
import { showHours, showMoney } from './values.js';
import { count, PLACE_WORD, STATUS_WORD } from './words.js';

/** What rests on a spec, in short and as a tree. */

/** How much rests on a spec, each thing counted once. */
export interface Stake {
  /** One amount for each currency. */
  readonly money: readonly string[];
  readonly hours: string | null;
  /** `2 parts`, `1 decision`. */
  readonly kinds: readonly string[];
}

/** What rests on each spec, and how much that comes to. */
export interface AtStake {
  readonly dependents: readonly Dependent[];
  readonly stake: Stake;
}

/** Gathers what rests on every spec, whatever its standing. */
export function stakesOf(reckoning: Reckoning): ReadonlyMap<string, AtStake> {
  const exposed = new Map(reckoning.exposures.map((exposure) => [exposure.spec, exposure]));
  return new Map(
    [...reckoning.specs.keys()].map((ref) => {
      const dependents = exposed.get(ref)?.dependents ?? reckoning.affected([ref]);
      return [ref, { dependents, stake: stakeOf(dependents, reckoning) }] as const;
    }),
  );
}

const SORT_WORD: Readonly<Record<DependentSort, readonly [one: string, many: string]>> = {
  decision: ['decision', 'decisions'],
  part: ['part', 'parts'],
  item: ['job', 'jobs'],
  derived: ['derived value', 'derived values'],
  case: ['power case', 'power cases'],
  weights: ['weights plan', 'weights plans'],
};

const SORTS = Object.keys(SORT_WORD) as readonly DependentSort[];

function stakeOf(dependents: readonly Dependent[], reckoning: Reckoning): Stake {
  const { money, hours } = atStake(dependents, {
    ...reckoning,
    noTotalsOf: reckoning.book.copy?.noTotalsOf ?? [],
  });
  const counted = dependents.filter((dependent) => !isTakenBack(dependent, reckoning));
  const takenBack = dependents.length - counted.length;
  const kinds = SORTS.flatMap((sort) => {
    const number = counted.filter((dependent) => dependent.sort === sort).length;
    return number === 0 ? [] : [count(number, ...SORT_WORD[sort])];
  });
  return {
    money: money.map(showMoney),
    hours: hours === 0 ? null : showHours(hours),
    kinds: [...kinds, ...(takenBack === 0 ? [] : [`${count(takenBack, 'decision')} taken back`])],
  };
}

function isTakenBack({ sort, id }: Dependent, { decisions }: Reckoning): boolean {
  return sort === 'decision' && decisions.get(id)?.undoneBy != null;
}

/** Something in the tree of what rests on a spec, with what rests on it in turn. */
export interface Branch {
  /** `part`, `decision`; null for a point on the way that is no dependent by itself. */
  readonly sort: string | null;
  readonly what: Link;
  /** `fitted, 420.00 EUR`; `taken back`. */
  readonly facts: readonly string[];
  readonly below: readonly Branch[];
}

interface Growing extends Branch {
  readonly below: Growing[];
}

/** Dependents as a tree, each at the end of the shortest way to it. They come nearest first. */
export function dependentTree(site: Site, links: Links, dependents: readonly Dependent[]): readonly Branch[] {
  const roots: Growing[] = [];
  const byWay = new Map<string, Growing>();
  const listAt = (through: readonly string[]): Growing[] => {
    if (through.length <= 1) return roots;
    const way = through.join(' ');
    const known = byWay.get(way);
    if (known !== undefined) return known.below;
    const what = links.anything(through.at(-1) as string);
    const passed: Growing = { sort: null, what, facts: [], below: [] };
    listAt(through.slice(0, -1)).push(passed);
    byWay.set(way, passed);
    return passed.below;
  };
  for (const dependent of dependents) {
    const branch: Growing = { ...shownDependent(site, links, dependent), below: [] };
    listAt(dependent.through.slice(0, -1)).push(branch);
    const way = dependent.through.join(' ');
    if (!byWay.has(way)) byWay.set(way, branch);
  }
  return roots;
}

/** Something that rests on a spec, by itself. */
export function shownDependent(site: Site, links: Links, { sort, id }: Dependent): Omit<Branch, 'below'> {
  return {
    sort: SORT_WORD[sort][0],
    what: dependentLink(links, sort, id),
    facts: factsOf(site.reckoning, sort, id),
  };
}

/** The link to something that rests on a spec. */
export function dependentLink(links: Links, sort: DependentSort, id: string): Link {
  switch (sort) {
    case 'decision':
      return links.decision(id);
    case 'part':
      return links.part(id);
    case 'item':
      return links.item(id);
    case 'derived':
      return links.anything(id);
    case 'case':
      return links.powerCase(id);
    case 'weights':
      return links.weights();
  }
}

function factsOf(reckoning: Reckoning, sort: DependentSort, id: string): readonly string[] {
  if (sort === 'part') {
    const part = reckoning.parts.get(id);
    return part === undefined ? [] : [PLACE_WORD[part.now], ...part.costs.map(showMoney)];
  }
  if (sort === 'item') {
    const item = reckoning.items.get(id);
    if (item === undefined) return [];
    const size = item.opened.size === null ? [] : [showHours(item.opened.size.si / 3600)];
    return [STATUS_WORD[item.status], ...size];
  }
  if (sort === 'decision') {
    const state = reckoning.decisions.get(id);
    if (state?.undoneBy != null) return ['taken back'];
    return state?.holding?.verdict === 'fails' ? ['does not hold'] : [];
  }
  return [];
}
