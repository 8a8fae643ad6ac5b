/** Looks up days in what is sorted by them. */

/** How many things, oldest first, are not after a day. */
export function countUntil<T>(things: readonly T[], dateOf: (thing: T) => string, day: string): number {
  let low = 0;
  let high = things.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (dateOf(things[middle] as T) <= day) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Those of some entries, oldest first, that are not after a day. */
export function entriesUntil<T extends { readonly date: string }>(
  entries: readonly T[],
  day: string,
): readonly T[] {
  const count = countUntil(entries, ({ date }) => date, day);
  return count === entries.length ? entries : entries.slice(0, count);
}
