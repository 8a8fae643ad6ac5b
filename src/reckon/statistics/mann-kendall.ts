import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import type { Series } from './series.js';

/** The Mann–Kendall test: whether the values go up or down with time at all. */
export interface MannKendall {
  readonly n: number;
  /** Pairs that go up less pairs that go down; a tie counts as neither. */
  readonly s: number;
  /** Variance of S where there is no trend, corrected for ties in both rankings. */
  readonly variance: number;
  /** S as a normal deviate, with the continuity correction (1 off towards nought). */
  readonly z: number;
  /** Kendall's tau-b: S over the pairs not tied in either ranking. NaN where all are tied. */
  readonly tau: number;
  readonly method: 'exact' | 'normal';
  /** Probability of an S at least so far from nought, either way, where there is no trend. */
  readonly twoSided: number;
  /** Probability of an S at least so high. */
  readonly rising: number;
  /** Probability of an S at least so low. */
  readonly falling: number;
}

/** Up to this many pairs without ties the distribution of S is counted out; beyond, the normal one is close. */
export const EXACT_UP_TO = 10;

/**
 * Tests a series for a trend.
 *
 * S, its variance with ties, and tau-b: M. G. Kendall, *Rank Correlation Methods*, 4th edition (1975), chapters
 * 3 to 5; as a test of trend: H. B. Mann, Econometrica 13 (1945), and R. O. Gilbert, *Statistical Methods for
 * Environmental Pollution Monitoring* (1987), 16.4. Probabilities are exact for up to ten pairs without ties,
 * else those of a normal deviate with continuity correction. The readings are taken as independent of each
 * other: values read so often that each resembles the last give too small a p.
 *
 * Quadratic in the number of pairs.
 */
export function mannKendall({ x, y }: Series): MannKendall {
  const n = x.length;
  const s = kendallS(x, y);
  const [tiesX, tiesY] = [tieSizes(x), tieSizes(y)];
  const variance = varianceOfS(n, tiesX, tiesY);
  const z = variance > 0 ? (s - Math.sign(s)) / Math.sqrt(variance) : 0;
  const exact = n <= EXACT_UP_TO && tiesX.length === 0 && tiesY.length === 0;
  const tails = exact ? exactTails(n, s) : normalTails(s, variance);
  return {
    n,
    s,
    variance,
    z,
    tau: s / Math.sqrt(untied(n, tiesX) * untied(n, tiesY)),
    method: exact ? 'exact' : 'normal',
    twoSided: Math.min(1, 2 * Math.min(tails.rising, tails.falling)),
    ...tails,
  };
}

function kendallS(x: readonly number[], y: readonly number[]): number {
  let s = 0;
  for (let i = 0; i < x.length; i++) {
    const xi = x[i] as number;
    const yi = y[i] as number;
    for (let j = i + 1; j < x.length; j++)
      s += Math.sign((x[j] as number) - xi) * Math.sign((y[j] as number) - yi);
  }
  return s + 0;
}

/** How many times each value occurs, of those that occur more than once. */
function tieSizes(values: readonly number[]): readonly number[] {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts.values()].filter((count) => count > 1);
}

function untied(n: number, ties: readonly number[]): number {
  return (n * (n - 1)) / 2 - sum(ties, (t) => (t * (t - 1)) / 2);
}

function sum(values: readonly number[], of: (value: number) => number): number {
  return values.reduce((total, value) => total + of(value), 0);
}

function varianceOfS(n: number, tiesX: readonly number[], tiesY: readonly number[]): number {
  if (n < 3) return n === 2 && tiesX.length + tiesY.length === 0 ? 1 : 0;
  const main = (t: number) => t * (t - 1) * (2 * t + 5);
  const triples = (t: number) => t * (t - 1) * (t - 2);
  const pairs = (t: number) => t * (t - 1);
  return (
    (main(n) - sum(tiesX, main) - sum(tiesY, main)) / 18 +
    (sum(tiesX, triples) * sum(tiesY, triples)) / (9 * triples(n)) +
    (sum(tiesX, pairs) * sum(tiesY, pairs)) / (2 * pairs(n))
  );
}

interface Tails {
  readonly rising: number;
  readonly falling: number;
}

/** Each tail takes S one off towards its own middle, so that the two of them overlap at S itself. */
function normalTails(s: number, variance: number): Tails {
  if (variance <= 0) return { rising: 1, falling: 1 };
  const sd = Math.sqrt(variance);
  return { rising: normalCdf((1 - s) / sd, 0, 1), falling: normalCdf((1 + s) / sd, 0, 1) };
}

function exactTails(n: number, s: number): Tails {
  return { rising: exactUpperTail(n, s), falling: exactUpperTail(n, -s) };
}

/**
 * P(S ≥ s) where there is no trend and no ties: every order of the n values is as likely. The orders with k
 * pairs the wrong way round are counted up value by value (Kendall 1975, chapter 5).
 */
export function exactUpperTail(n: number, s: number): number {
  const counts = inversionCounts(n);
  const pairs = counts.length - 1;
  let favourable = 0;
  let all = 0;
  for (const [inversions, count] of counts.entries()) {
    all += count;
    if (pairs - 2 * inversions >= s) favourable += count;
  }
  return favourable / all;
}

/** Number of orders of n different values that have k pairs the wrong way round, by k from 0 to n(n − 1)/2. */
function inversionCounts(n: number): readonly number[] {
  let counts = [1];
  for (let size = 2; size <= n; size++) {
    const next = new Array<number>(counts.length + size - 1).fill(0);
    for (const [k, count] of counts.entries())
      for (let more = 0; more < size; more++) next[k + more] = (next[k + more] as number) + count;
    counts = next;
  }
  return counts;
}
