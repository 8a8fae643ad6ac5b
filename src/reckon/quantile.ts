/**
 * Quantile of a sample, type 7 of Hyndman and Fan (1996), the usual one: linear between order statistics at
 * h = (n − 1) p.
 *
 * @param values in any order; at least one.
 * @param p between 0 and 1.
 * @example quantile([1, 2, 3, 4], 0.5) // 2.5
 */
export function quantile(values: readonly number[], p: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  const h = (sorted.length - 1) * p;
  const low = sorted[Math.floor(h)] ?? Number.NaN;
  const high = sorted[Math.ceil(h)] ?? Number.NaN;
  return low + (h - Math.floor(h)) * (high - low);
}

/**
 * Quantile of a sample in which every value has a weight: the smallest value at which the weights up to it
 * reach the share p of all.
 *
 * @param values pairs of value and weight; at least one, weights above zero.
 */
export function weightedQuantile(
  values: readonly (readonly [value: number, weight: number])[],
  p: number,
): number {
  const sorted = [...values].sort((a, b) => a[0] - b[0]);
  const total = sorted.reduce((sum, [, weight]) => sum + weight, 0);
  let reached = 0;
  for (const [value, weight] of sorted) {
    reached += weight;
    if (reached >= p * total) return value;
  }
  return sorted.at(-1)?.[0] ?? Number.NaN;
}
