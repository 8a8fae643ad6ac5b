import studentQuantile from '@stdlib/stats-base-dists-t-quantile';
import { CONFIDENCE, type Series } from './series.js';

/**
 * A straight line by ordinary least squares, y = intercept + slope · x, with what its errors are made of.
 * Sources of the formulas: Montgomery, Peck and Vining, *Introduction to Linear Regression Analysis*, chapter 2.
 */
export interface Line {
  readonly n: number;
  readonly slope: number;
  readonly intercept: number;
  /** Standard error of the slope. */
  readonly seSlope: number;
  /** Standard error of the intercept. */
  readonly seIntercept: number;
  /** Residual standard deviation, on n − 2 degrees of freedom. */
  readonly s: number;
  readonly meanX: number;
  readonly meanY: number;
  /** Sum of squares of x about its mean. */
  readonly sxx: number;
}

/** A value on the line with the ends of an interval about it. */
export interface Predicted {
  readonly fit: number;
  readonly low: number;
  readonly high: number;
}

/**
 * Sums of a growing series, about running means, so that years of days do not swallow the digits (B. P. Welford,
 * Technometrics 4, 1962).
 */
interface Sums {
  n: number;
  meanX: number;
  meanY: number;
  sxx: number;
  sxy: number;
  syy: number;
}

function noSums(): Sums {
  return { n: 0, meanX: 0, meanY: 0, sxx: 0, sxy: 0, syy: 0 };
}

function add(sums: Sums, x: number, y: number): void {
  sums.n++;
  const dx = x - sums.meanX;
  const dy = y - sums.meanY;
  sums.meanX += dx / sums.n;
  sums.meanY += dy / sums.n;
  sums.sxx += dx * (x - sums.meanX);
  sums.sxy += dx * (y - sums.meanY);
  sums.syy += dy * (y - sums.meanY);
}

function lineOf({ n, meanX, meanY, sxx, sxy, syy }: Sums): Line | null {
  if (n < 3 || sxx <= 0) return null;
  const slope = sxy / sxx;
  // What is left of a perfect line is the machine's rounding, not scatter.
  const left = Math.max(0, syy - slope * sxy);
  return lineWith({ n, slope, meanX, meanY, sxx }, left <= 1e-14 * syy ? 0 : left);
}

function lineWith(
  { n, slope, meanX, meanY, sxx }: Pick<Line, 'n' | 'slope' | 'meanX' | 'meanY' | 'sxx'>,
  residualSquares: number,
): Line {
  const s = Math.sqrt(residualSquares / (n - 2));
  return {
    n,
    slope,
    intercept: meanY - slope * meanX,
    seSlope: s / Math.sqrt(sxx),
    seIntercept: s * Math.sqrt(1 / n + meanX ** 2 / sxx),
    s,
    meanX,
    meanY,
    sxx,
  };
}

/** Fits a line; null for fewer than three pairs or where all x are the same. Linear in the number of pairs. */
export function leastSquares({ x, y }: Series): Line | null {
  const sums = noSums();
  for (const [i, value] of x.entries()) add(sums, value, y[i] as number);
  const line = lineOf(sums);
  if (line === null) return null;
  let squares = 0;
  // Residuals summed one by one keep the digits that the difference of two sums loses.
  for (const [i, value] of x.entries())
    squares += ((y[i] as number) - line.meanY - line.slope * (value - line.meanX)) ** 2;
  return lineWith(line, squares <= 1e-28 * sums.syy ? 0 : squares);
}

/**
 * Where one more reading at `x` would lie: the two-sided 95 % prediction interval,
 * fit ± t(n − 2) · s · √(1 + 1/n + (x − x̄)²/Sxx).
 */
export function predict(line: Line, x: number): Predicted {
  return around(line, x, 1);
}

/** Where the line itself lies at `x`: the two-sided 95 % confidence interval, as `predict` without the 1. */
export function confidence(line: Line, x: number): Predicted {
  return around(line, x, 0);
}

function around(line: Line, x: number, own: 0 | 1): Predicted {
  const { n, slope, meanX, meanY, s, sxx } = line;
  const fit = meanY + slope * (x - meanX);
  const half = student(n) * s * Math.sqrt(own + 1 / n + (x - meanX) ** 2 / sxx);
  return { fit, low: fit - half, high: fit + half };
}

/** The quantile by the number of pairs: of a long series it is asked for each of them, and takes a search. */
const students = new Map<number, number>();

function student(n: number): number {
  const known = students.get(n);
  if (known !== undefined) return known;
  const found = studentQuantile((1 + CONFIDENCE) / 2, n - 2);
  students.set(n, found);
  return found;
}

/**
 * The stretch of x, from the middle of the series on, in which the line may reach a level: where its 95 %
 * confidence interval holds the level (E. C. Fieller, Journal of the Royal Statistical Society B 16, 1954). Ends
 * may be infinite: a slope that may be nought may never get there. Where the line goes away from the level, an
 * interval that loses it and, growing wide, finds it again counts as holding it throughout.
 *
 * @returns null where the interval moves away from the level.
 */
export function reaches(
  { n, slope, meanX, meanY, s, sxx }: Line,
  level: number,
): { from: number; to: number } | null {
  const k = (student(n) * s) ** 2;
  const off = level - meanY;
  // (off − slope · u)² = k · (1/n + u²/Sxx), with u = x − x̄, is a·u² − 2·off·slope·u + c = 0.
  const a = slope ** 2 - k / sxx;
  const c = off ** 2 - k / n;
  const root = Math.sqrt(Math.max(0, k * (slope ** 2 / n + off ** 2 / sxx - k / (n * sxx))));
  const [one, other] = [(off * slope - root) / a, (off * slope + root) / a];
  if (a > 0) return other < 0 ? null : { from: meanX + one, to: meanX + other };
  if (c <= 0) return { from: Number.NEGATIVE_INFINITY, to: Number.POSITIVE_INFINITY };
  return a < 0 ? { from: meanX + Math.max(one, other), to: Number.POSITIVE_INFINITY } : null;
}

/**
 * For each pair, the line through the pairs before it; null where there are fewer than `fewest` of them. Pairs
 * of the same x do not count as before each other. Linear in the number of pairs.
 *
 * @param series in order of x.
 */
export function linesBefore({ x, y }: Series, fewest: number): readonly (Line | null)[] {
  const sums = noSums();
  let added = 0;
  return x.map((value) => {
    for (; (x[added] as number) < value; added++) add(sums, x[added] as number, y[added] as number);
    return sums.n < fewest ? null : lineOf(sums);
  });
}
