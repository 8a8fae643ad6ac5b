/**
 * The largest sets of loads that can run together on one source.
 *
 * A set is feasible where
 *  1. the active powers of all its loads together are at most what the source gives for hours, in watts;
 *  2. their apparent powers together are at most what it gives for hours, in volt-amperes. They are added as
 *     numbers, which is never less than the true sum of currents that are out of step;
 *  3. any one of them may start last, on top of all the others running, within the short-time rating.
 * Taking a load away never makes a feasible set infeasible, so all of them are known by the largest: those to
 * which no other load can be added.
 */

/** What one load asks. */
export interface Draw {
  readonly watts: number;
  readonly voltAmperes: number;
  /** What it asks while starting on top of what it asks while running. */
  readonly extraWatts: number;
}

/** What a source gives; infinite where it is not limited so. */
export interface Limits {
  readonly watts: number;
  readonly voltAmperes: number;
  /** Short-time rating. */
  readonly startWatts: number;
}

/** The largest sets, most loads first and, among equals, most watts first. */
export interface LargestSets {
  /** How many there are in all. */
  readonly count: number;
  /** The first of them; loads by their place in the list given, ascending. */
  readonly sets: readonly (readonly number[])[];
}

/** The most loads for which all sets are found: 2 to the power of 24 are tried at worst. */
export const MOST_LOADS = 24;

/** Sums and conversions round in the last bits; on the limit means on it. */
const ROUNDING = 1 + 1e-9;

/** Whether a set of loads can run together. */
export function isFeasible(draws: readonly Draw[], limits: Limits): boolean {
  const sum = (of: (draw: Draw) => number) => draws.reduce((total, draw) => total + of(draw), 0);
  const watts = sum((draw) => draw.watts);
  const extra = Math.max(0, ...draws.map((draw) => draw.extraWatts));
  return (
    watts <= limits.watts * ROUNDING &&
    sum((draw) => draw.voltAmperes) <= limits.voltAmperes * ROUNDING &&
    watts + extra <= limits.startWatts * ROUNDING
  );
}

/**
 * Finds all largest feasible sets by trying each load in and out, heaviest first. Two things cut the search
 * short: where all that is left fits, it all goes in; and where a load that was left out would fit even beside
 * all that is left, no set below is a largest one.
 *
 * @param draws at most `MOST_LOADS` of them, none negative.
 * @param most how many sets are listed; all are counted.
 */
export function largestSets(draws: readonly Draw[], limits: Limits, most: number): LargestSets {
  if (draws.length > MOST_LOADS) throw new RangeError(`at most ${MOST_LOADS} loads`);
  const order = draws
    .map((_, index) => index)
    .filter((index) => isFeasible([draws[index] as Draw], limits))
    .sort((a, b) => (draws[b] as Draw).watts - (draws[a] as Draw).watts || a - b);
  const keep = keeper(most);
  search(
    order.map((index) => draws[index] as Draw),
    limits,
    keep.add,
  );
  const sets = keep
    .best()
    .map((mask) => order.filter((_, bit) => (mask & (1 << bit)) !== 0).sort((a, b) => a - b));
  return { count: keep.count(), sets };
}

/** The loads as plain rows of numbers, with sums over those from each one on: the search does nothing else. */
interface Rows {
  readonly watts: Float64Array;
  readonly va: Float64Array;
  readonly extra: Float64Array;
  readonly restWatts: Float64Array;
  readonly restVa: Float64Array;
  /** The largest start of those from each one on. */
  readonly restExtra: Float64Array;
}

function rowsOf(draws: readonly Draw[]): Rows {
  const n = draws.length;
  const [restWatts, restVa, restExtra] = [
    new Float64Array(n + 1),
    new Float64Array(n + 1),
    new Float64Array(n + 1),
  ];
  for (let i = n - 1; i >= 0; i -= 1) {
    const draw = draws[i] as Draw;
    restWatts[i] = (restWatts[i + 1] as number) + draw.watts;
    restVa[i] = (restVa[i + 1] as number) + draw.voltAmperes;
    restExtra[i] = Math.max(restExtra[i + 1] as number, draw.extraWatts);
  }
  return {
    watts: Float64Array.from(draws, (draw) => draw.watts),
    va: Float64Array.from(draws, (draw) => draw.voltAmperes),
    extra: Float64Array.from(draws, (draw) => draw.extraWatts),
    restWatts,
    restVa,
    restExtra,
  };
}

/** Calls `found` for each largest set with its loads as bits, their number and their watts. */
function search(
  draws: readonly Draw[],
  limits: Limits,
  found: (mask: number, size: number, watts: number) => void,
): void {
  const n = draws.length;
  const rows = rowsOf(draws);
  const most = {
    watts: limits.watts * ROUNDING,
    va: limits.voltAmperes * ROUNDING,
    start: limits.startWatts * ROUNDING,
  };
  const fits = (watts: number, va: number, extra: number): boolean =>
    watts <= most.watts && va <= most.va && watts + extra <= most.start;
  /** Whether one of the loads left out would fit beside so much. */
  const addable = (out: number, watts: number, va: number, extra: number): boolean => {
    for (let rest = out; rest !== 0; rest &= rest - 1) {
      const i = 31 - Math.clz32(rest & -rest);
      const own = rows.extra[i] as number;
      if (fits(watts + (rows.watts[i] as number), va + (rows.va[i] as number), Math.max(own, extra)))
        return true;
    }
    return false;
  };
  const visit = (i: number, mask: number, size: number, watts: number, va: number, extra: number): void => {
    const allWatts = watts + (rows.restWatts[i] as number);
    const allVa = va + (rows.restVa[i] as number);
    const allExtra = Math.max(extra, rows.restExtra[i] as number);
    const out = ((1 << i) - 1) & ~mask;
    if (addable(out, allWatts, allVa, allExtra)) return;
    // At the end nothing is left and nothing more fits: it stops here at the latest.
    if (fits(allWatts, allVa, allExtra)) {
      found(mask | (((1 << n) - 1) & ~((1 << i) - 1)), size + n - i, allWatts);
      return;
    }
    const w = watts + (rows.watts[i] as number);
    const v = va + (rows.va[i] as number);
    const e = Math.max(extra, rows.extra[i] as number);
    if (fits(w, v, e)) visit(i + 1, mask | (1 << i), size + 1, w, v, e);
    visit(i + 1, mask, size, watts, va, extra);
  };
  visit(0, 0, 0, 0, 0, 0);
}

/** Counts sets and keeps the best of them; of equals, those found first. */
function keeper(most: number) {
  let count = 0;
  let kept: { mask: number; size: number; watts: number }[] = [];
  let barSize = -1;
  let barWatts = 0;
  const shorten = () => {
    kept = kept.sort((a, b) => b.size - a.size || b.watts - a.watts).slice(0, most);
    const last = kept.length === most ? kept.at(-1) : undefined;
    barSize = last?.size ?? -1;
    barWatts = last?.watts ?? 0;
  };
  return {
    // Called for millions of sets: nothing is made for one that is not kept.
    add: (mask: number, size: number, watts: number): void => {
      count += 1;
      if (size < barSize || (size === barSize && watts <= barWatts)) return;
      kept.push({ mask, size, watts });
      if (kept.length >= 2 * most + 64) shorten();
    },
    count: () => count,
    best: (): readonly number[] => {
      shorten();
      return kept.map(({ mask }) => mask);
    },
  };
}
