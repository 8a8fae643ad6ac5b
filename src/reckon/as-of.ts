import type { CheckedBook, Series, Spec, System } from '../check/model.js';
import { dayNumber } from './calendar.js';
import { firstFrom, SECONDS_A_DAY } from './series.js';
import { entriesUntil } from './until.js';

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
  const series = new Map([...book.series].map(([ref, one]) => [ref, seriesAsOf(one, asOf)] as const));
  return { ...book, systems, entries: entriesUntil(book.entries, asOf), series };
}

/** The readings of a logger up to the end of a day. */
function seriesAsOf(series: Series, asOf: string): Series {
  const end = (dayNumber(asOf) + 1) * SECONDS_A_DAY;
  const count = firstFrom(series.times, end);
  if (count === series.times.length) return series;
  return { ...series, times: series.times.subarray(0, count), values: series.values.subarray(0, count) };
}
