/** Things with a day, by their year, in the order in which years and things come. */
export function byYear<T extends { readonly date: string }>(
  all: readonly T[],
): ReadonlyMap<string, readonly T[]> {
  const years = new Map<string, T[]>();
  for (const one of all) {
    const year = one.date.slice(0, 4);
    const known = years.get(year);
    if (known === undefined) years.set(year, [one]);
    else known.push(one);
  }
  return years;
}
