/** Things with a day, by their year, in the order in which years and things come. */
export function byYear<T extends { readonly date: string }>(
  all: readonly T[],
): ReadonlyMap<string, readonly T[]> {
  const years = new Map<string, T[]>();
  // Those of one year mostly stand together.
  let year: string | undefined;
  let last: T[] = [];
  for (const one of all) {
    if (year === undefined || !one.date.startsWith(year)) {
      year = one.date.slice(0, 4);
      last = years.get(year) ?? [];
      years.set(year, last);
    }
    last.push(one);
  }
  return years;
}
