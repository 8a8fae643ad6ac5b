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
  const extra = Math.max(0, ...draws.map((draw) => draw.extraWatts));
  return within(
    sum((draw) => draw.watts),
    sum((draw) => draw.voltAmperes),
    extra,
    limits,
  );
}

function within(watts: number, voltAmperes: number, extra: number, limits: Limits): boolean {
  return (
    watts <= limits.watts * ROUNDING &&
    voltAmperes <= limits.voltAmperes * ROUNDING &&
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

/** What is left of the loads from one on: sums, and the largest start. */
function tails(draws: readonly Draw[]): { watts: Float64Array; va: Float64Array; extra: Float64Array } {
  const n = draws.length;
  const tail = {
    watts: new Float64Array(n + 1),
    va: new Float64Array(n + 1),
    extra: new Float64Array(n + 1),
  };
  for (let i = n - 1; i >= 0; i -= 1) {
    const draw = draws[i] as Draw;
    tail.watts[i] = (tail.watts[i + 1] as number) + draw.watts;
    tail.va[i] = (tail.va[i + 1] as number) + draw.voltAmperes;
    tail.extra[i] = Math.max(tail.extra[i + 1] as number, draw.extraWatts);
  }
  return tail;
}

/** Calls `found` for each largest set with its loads as bits, and its watts. */
function search(
  draws: readonly Draw[],
  limits: Limits,
  found: (mask: number, size: number, watts: number) => void,
): void {
  const n = draws.length;
  const tail = tails(draws);
  const all = 2 ** n - 1;
  /** Whether one of the loads left out would fit beside so much. */
  const addable = (out: number, watts: number, va: number, extra: number): boolean => {
    for (let rest = out; rest !== 0; rest &= rest - 1) {
      const draw = draws[31 - Math.clz32(rest & -rest)] as Draw;
      if (within(watts + draw.watts, va + draw.voltAmperes, Math.max(extra, draw.extraWatts), limits))
        return true;
    }
    return false;
  };
  const visit = (i: number, mask: number, size: number, watts: number, va: number, extra: number): void => {
    const allWatts = watts + (tail.watts[i] as number);
    const allVa = va + (tail.va[i] as number);
    const allExtra = Math.max(extra, tail.extra[i] as number);
    const out = ((1 << i) - 1) & ~mask;
    if (addable(out, allWatts, allVa, allExtra)) return;
    if (within(allWatts, allVa, allExtra, limits)) {
      found(mask | (all & ~((1 << i) - 1)), size + n - i, allWatts);
      return;
    }
    // Nothing is left to choose only where all that is left, nothing, fits: that was the case above.
    const draw = draws[i] as Draw;
    const [w, v, e] = [watts + draw.watts, va + draw.voltAmperes, Math.max(extra, draw.extraWatts)];
    if (within(w, v, e, limits)) visit(i + 1, mask | (1 << i), size + 1, w, v, e);
    visit(i + 1, mask, size, watts, va, extra);
  };
  visit(0, 0, 0, 0, 0, 0);
}

/** Counts sets and keeps the best of them; of equals, those found first. */
function keeper(most: number) {
  let count = 0;
  let kept: { mask: number; size: number; watts: number }[] = [];
  const byMerit = (a: { size: number; watts: number }, b: { size: number; watts: number }) =>
    b.size - a.size || b.watts - a.watts;
  let bar: { size: number; watts: number } | undefined;
  const shorten = () => {
    kept = kept.sort(byMerit).slice(0, most);
    bar = kept.length === most ? kept.at(-1) : undefined;
  };
  return {
    add: (mask: number, size: number, watts: number): void => {
      count += 1;
      if (bar !== undefined && byMerit({ size, watts }, bar) >= 0) return;
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
