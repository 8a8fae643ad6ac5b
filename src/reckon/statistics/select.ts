/**
 * Puts the value of a rank where it would stand in sorted order, smaller ones before and larger ones after it
 * (C. A. R. Hoare, *Algorithm 65: Find*, 1961). On average linear in the number of values.
 *
 * @param values are reordered.
 * @param rank from 0.
 */
export function selectRank(values: Float64Array, rank: number): number {
  let low = 0;
  let high = values.length - 1;
  while (low < high) {
    const pivot = values[(low + high) >> 1] as number;
    let i = low;
    let j = high;
    while (i <= j) {
      while ((values[i] as number) < pivot) i++;
      while ((values[j] as number) > pivot) j--;
      if (i > j) break;
      const held = values[i] as number;
      values[i++] = values[j] as number;
      values[j--] = held;
    }
    if (rank > j) low = i;
    if (rank < i) high = j;
  }
  return values[rank] ?? Number.NaN;
}
