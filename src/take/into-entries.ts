import type { TakeMap } from '../../schemas/take-map.js';
import { writtenOf } from '../check/build/values.js';
import type { Reading } from '../check/model.js';
import { type Draft, type DraftReading, emptyDraft } from '../draft/draft.js';
import { parseQuantity } from '../quantity/index.js';
import { writeTime } from '../read/series.js';
import type { TakenColumn } from './columns.js';
import type { Taken } from './gather.js';
import type { Refusals } from './refusals.js';

/** From readings of a table to entries, one a day. */

export interface EntriesPlan {
  /** One for each day that brings something new, oldest first. */
  readonly drafts: readonly Draft[];
  readonly added: number;
  /** Readings that some entry of that day gives already. */
  readonly known: number;
}

/**
 * @param readings all readings of the book.
 * @param taken the readings of the columns that go into entries.
 */
export function intoEntries(
  taken: ReadonlyMap<TakenColumn, readonly Taken[]>,
  readings: readonly Reading[],
  entries: NonNullable<TakeMap['entries']>,
  refused: Refusals,
): EntriesPlan {
  const there = new Map<string, Map<string, number>>();
  for (const { point, date, under, quantity } of readings) {
    if (point === null) continue;
    const said = Object.fromEntries(under.map(({ name, value }) => [name, writtenOf(value)]));
    remember(there, `${date} ${point}`, said, quantity.si);
  }
  const drafts = new Map<string, { readonly systems: Set<string>; readonly measurements: DraftReading[] }>();
  let [added, known] = [0, 0];
  for (const [column, rows] of taken) {
    for (const one of rows) {
      const date = writeTime(one.time).slice(0, 10);
      const value = withUnit(one.text, column.unit);
      const parsed = parseQuantity(value, column.point.kind);
      const si = parsed.ok ? parsed.quantity.si : Number.NaN;
      const before = remember(there, `${date} ${column.point.ref}`, one.under ?? {}, si);
      if (before === si) known += 1;
      else if (before !== null) refused.add(conflict(one, column, date));
      else {
        const draft = drafts.get(date) ?? { systems: new Set(), measurements: [] };
        drafts.set(date, draft);
        draft.systems.add(column.point.system);
        draft.measurements.push(measurement(column, value, one.under));
        added += 1;
      }
    }
  }
  const days = [...drafts].sort(([a], [b]) => (a < b ? -1 : 1));
  return {
    drafts: days.map(([date, { systems, measurements }]) => ({
      ...emptyDraft(date),
      title: entries.title,
      systems: [...systems],
      measurements,
      prose: entries.prose ?? '',
    })),
    added,
    known,
  };
}

/** Remembers a value; gives the one that stands there already under the same conditions, or null. */
function remember(
  there: Map<string, Map<string, number>>,
  where: string,
  under: Readonly<Record<string, string>>,
  si: number,
): number | null {
  const values = there.get(where) ?? new Map<string, number>();
  there.set(where, values);
  const conditions = JSON.stringify(Object.entries(under).sort(([a], [b]) => (a < b ? -1 : 1)));
  const before = values.get(conditions);
  if (before === undefined) values.set(conditions, si);
  return before ?? null;
}

function measurement({ map, point }: TakenColumn, value: string, under: Taken['under']): DraftReading {
  return {
    point: point.ref,
    value,
    ...(map.with === undefined ? {} : { with: map.with }),
    ...(map.by === undefined ? {} : { by: map.by }),
    ...(under === null ? {} : { under }),
  };
}

function withUnit(text: string, unit: string): string {
  return unit === '1' ? text : `${text} ${unit}`;
}

function conflict({ row, text }: Taken, { heading, point }: TakenColumn, date: string) {
  const words = `contradicts another value of ${point.ref} on ${date}; one of them needs a condition, or the day is for a file of readings`;
  return { row, column: heading, written: text, reason: 'conflict' as const, words };
}
