import studentQuantile from '@stdlib/stats-base-dists-t-quantile';
import { CONFIDENCE, type Series } from './points.js';

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
  const { n, slope, meanX, meanY, s, sxx } = line;
  const fit = meanY + slope * (x - meanX);
  const half =
    studentQuantile((1 + CONFIDENCE) / 2, n - 2) * s * Math.sqrt(1 + 1 / n + (x - meanX) ** 2 / sxx);
  return { fit, low: fit - half, high: fit + half };
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
