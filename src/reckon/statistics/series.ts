/** A series of pairs: `x` is any number that grows with time, `y` what was read. Both have the same length. */
export interface Series {
  readonly x: readonly number[];
  readonly y: readonly number[];
}

/** Confidence of every interval here: 95 %, two-sided. */
export const CONFIDENCE = 0.95;

/**
 * The series with each run of `size` neighbours made into one pair, their means; the last run may be shorter.
 *
 * @param series in order of `x`.
 */
export function meansOfRuns({ x, y }: Series, size: number): Series {
  const starts = Array.from({ length: Math.ceil(x.length / size) }, (_, run) => run * size);
  return {
    x: starts.map((start) => mean(x.slice(start, start + size))),
    y: starts.map((start) => mean(y.slice(start, start + size))),
  };
}

/** The arithmetic mean; NaN of nothing. */
export function mean(values: readonly number[]): number {
  let sum = 0;
  for (const value of values) sum += value;
  return sum / values.length;
}
