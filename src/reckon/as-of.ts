import type { CheckedBook, Spec, System } from '../check/model.js';

/**
 * The book as it stood at the end of a day: entries after it are not in it, nor specs that were stated later.
 * System files carry no history, so what they declare holds for every day.
 */
export function bookAsOf(book: CheckedBook, asOf: string): CheckedBook {
  const known = (spec: Spec) => spec.since === null || spec.since <= asOf;
  const systems = new Map(
    [...book.systems].map(([id, system]): [string, System] => {
      const all = [...system.specs];
      const specs = all.filter(([, spec]) => known(spec));
      return [id, specs.length === all.length ? system : { ...system, specs: new Map(specs) }];
    }),
  );
  return { ...book, systems, entries: book.entries.filter((entry) => entry.date <= asOf) };
}
