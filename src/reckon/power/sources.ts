import { atMost, exactly, type Fit, figureOf, sumOf, type Uncertain, worstFit } from '../uncertain.js';
import type { Values } from '../values.js';
import { lies, type Span } from './day.js';
import type { LargestSet, Moment, PowerVerdict, Together } from './model.js';
import { type PlanSource, startExtra } from './plan.js';
import { share, type Working } from './profile.js';
import { type LargestSets, type Limits, largestSets, MOST_LOADS } from './sets.js';

/** What a source can carry, moment by moment and in sets. */

/** A source with its ratings all known. */
export interface Rated {
  readonly source: PlanSource;
  readonly active: Uncertain<'power'>;
  readonly apparent: Uncertain<'apparent-power'> | 'unlimited';
  readonly shortTime: Uncertain<'power'>;
}

/** A source with its ratings, or null where one is missing. */
export function ratedOf(source: PlanSource): Rated | null {
  const { active, apparent, shortTime } = source;
  return active === null || apparent === null || shortTime === null
    ? null
    : { source, active, apparent, shortTime };
}

interface Asked {
  readonly active: Uncertain<'power'>;
  readonly apparent: Uncertain<'apparent-power'>;
  /** The hardest start. */
  readonly start: { readonly load: string; readonly active: Uncertain<'power'> } | null;
}

/** What a set of loads asks when all of them run and the one with the hardest start starts last. */
export function askedBy(set: readonly Working[]): Asked {
  const active = sumOf(
    'power',
    set.map((one) => one.active),
  );
  const starts = set.map(({ load }) => ({ load: load.id, extra: startExtra(load) ?? exactly('power', 0) }));
  const hardest = starts.reduce<(typeof starts)[number] | null>(
    (most, one) => (one.extra.si > (most?.extra.si ?? 0) ? one : most),
    null,
  );
  return {
    active,
    apparent: sumOf(
      'apparent-power',
      set.map((one) => one.apparent),
    ),
    start: hardest && { load: hardest.load, active: sumOf('power', [active, hardest.extra]) },
  };
}

/** Whether a source carries a set of loads: see `sets.ts` for what that means. */
export function carries(rated: Rated, set: readonly Working[]): Fit {
  const asked = askedBy(set);
  return worstFit([
    atMost(asked.active, rated.active),
    rated.apparent === 'unlimited' ? 'works' : atMost(asked.apparent, rated.apparent),
    atMost(asked.start?.active ?? asked.active, rated.shortTime),
  ]);
}

/** Loads in the order in which they are switched off; those that are never are not among them. */
function shedOrder(set: readonly Working[]): readonly Working[] {
  return set
    .filter(({ load }) => load.shed !== null)
    .sort((a, b) => (a.load.shed as number) - (b.load.shed as number) || (a.load.id < b.load.id ? -1 : 1));
}

/**
 * How a source stands in one piece of the day. All loads that may run then are taken as running, and are
 * switched off in their order until it works or none is left that may be.
 *
 * @param unknown loads that may run then but of which a value is missing: with them no more than `cannot-say`
 *   can come out, unless the others alone are too much.
 */
export function momentOf(
  piece: Span,
  rated: Rated | null,
  working: readonly Working[],
  unknown: readonly string[],
  values: Values,
): Moment {
  const here = working.filter(({ use }) => lies(piece, use.spans));
  const order = shedOrder(here);
  const kept = (off: number) => here.filter((one) => !order.slice(0, off).includes(one));
  const counts = [...Array(order.length + 1).keys()];
  const off = rated === null ? 0 : (counts.find((n) => carries(rated, kept(n)) === 'works') ?? order.length);
  const asked = askedBy(kept(off));
  const fit = here.length === 0 ? 'works' : rated === null ? null : carries(rated, kept(off));
  const verdict: PowerVerdict = fit === null || (unknown.length > 0 && fit !== 'fails') ? 'cannot-say' : fit;
  return {
    from: piece.from,
    to: piece.to,
    verdict,
    mayRun: [...here.map(({ load }) => load.id), ...unknown],
    shed: order.slice(0, off).map(({ load }) => load.id),
    active: figureOf(asked.active, 'W', values),
    apparent: figureOf(asked.apparent, 'VA', values),
    start: asked.start && { load: asked.start.load, active: figureOf(asked.start.active, 'W', values) },
  };
}

/**
 * Whether a load that is switched off at times still gets its hours: whether the source carries it, beside
 * those that run all through their windows and are switched off later or never, for as long as it is to run.
 */
export function getsItsHours(
  one: Working,
  rated: Rated,
  working: readonly Working[],
  pieces: readonly Span[],
): Fit {
  const rank = (other: Working) => other.load.shed ?? Number.POSITIVE_INFINITY;
  const beside = working.filter(
    (other) => other !== one && share(other.use) >= 1 - 1e-9 && rank(other) >= rank(one),
  );
  const fits = pieces
    .filter((piece) => lies(piece, one.use.spans))
    .map((piece) => ({
      seconds: piece.to - piece.from,
      fit: carries(rated, [one, ...beside.filter(({ use }) => lies(piece, use.spans))]),
    }));
  const room = (allowed: readonly Fit[]) =>
    exactly(
      'time',
      fits.reduce((sum, { seconds, fit }) => sum + (allowed.includes(fit) ? seconds : 0), 0),
    );
  if (atMost(one.use.hours, room(['works'])) === 'works') return 'works';
  return atMost(one.use.hours, room(['works', 'undecided'])) === 'fails' ? 'fails' : 'undecided';
}

/** How many of the largest sets are listed; all are counted. */
const LISTED = 50;

const NO_SETS: LargestSets = { count: 0, sets: [] };

/** What can run together on a source: every pair, and the largest sets. */
export function togetherOf(
  rated: Rated | null,
  working: readonly Working[],
  unknown: readonly string[],
  values: Values,
): Together {
  const pair = (a: Working, b: Working): PowerVerdict =>
    rated === null ? 'cannot-say' : carries(rated, a === b ? [a] : [a, b]);
  const tooMany = working.length > MOST_LOADS;
  const some = rated !== null && !tooMany && working.length > 0;
  const found = some ? largestSets(working.map(drawOf), limitsOf(rated), LISTED) : NO_SETS;
  return {
    loads: working.map(({ load }) => load.id),
    pairs: working.map((a) => working.map((b) => pair(a, b))),
    count: found?.count ?? null,
    sets: (found?.sets ?? []).map((places) =>
      setOf(
        rated as Rated,
        places.map((place) => working[place] as Working),
        values,
      ),
    ),
    unknown,
  };
}

function drawOf({ load, active, apparent }: Working) {
  return { watts: active.si, voltAmperes: apparent.si, extraWatts: startExtra(load)?.si ?? 0 };
}

function limitsOf({ active, apparent, shortTime }: Rated): Limits {
  return {
    watts: active.si,
    voltAmperes: apparent === 'unlimited' ? Number.POSITIVE_INFINITY : apparent.si,
    startWatts: shortTime.si,
  };
}

function setOf(rated: Rated, set: readonly Working[], values: Values): LargestSet {
  const asked = askedBy(set);
  return {
    loads: set.map(({ load }) => load.id),
    verdict: carries(rated, set),
    active: figureOf(asked.active, 'W', values),
    apparent: figureOf(asked.apparent, 'VA', values),
  };
}
