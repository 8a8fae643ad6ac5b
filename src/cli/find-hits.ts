import { printQuantity } from '../quantity/index.js';
import type { Reckoning } from '../reckon/model.js';
import type { BookRecord } from '../reckon/records.js';

/** Something that was found, with its place in the files. */
export interface Hit {
  readonly record: BookRecord;
  /** Path as seen from the current folder. */
  readonly file: string;
  readonly line: number;
  /** Null for what a system's file states. */
  readonly entryTitle: string | null;
  readonly systemTitle: string;
}

/** Conditions in one line; empty where there are none. */
export function conditionsOf({ under }: BookRecord): string {
  return under
    .map(
      ({ name, value }) =>
        `${name.replaceAll('-', ' ')} ${value.type === 'text' ? value.text : printQuantity(value.quantity)}`,
    )
    .join(', ');
}

/** Hits as JSON, numbers both as written and in SI. */
export function hitsAsJson(hits: readonly Hit[], { asOf, book }: Reckoning): string {
  const found = hits.map(({ record, file, line, entryTitle, systemTitle }) => ({
    sort: record.sort,
    ref: record.ref,
    date: record.date,
    system: record.system,
    systemTitle,
    what: record.title,
    value:
      record.quantity === null
        ? null
        : {
            written: record.quantity.written,
            number: record.quantity.value,
            unit: record.quantity.unit,
            kind: record.quantity.kind,
            si: record.quantity.si,
            siUnit: record.quantity.siUnit,
            siUncertainty: record.uncertainty?.si ?? null,
          },
    says: record.says,
    under: record.under.map(({ name, value }) => ({
      name,
      value: value.type === 'text' ? value.text : value.quantity.written,
    })),
    how: record.how,
    note: record.note,
    standing: record.standing,
    outcome: record.outcome,
    limit: record.limit,
    state: record.state,
    entry: record.entry,
    entryTitle,
    file,
    line,
  }));
  return `${JSON.stringify({ version: 1, book: book.id, asOf, count: found.length, found }, null, 2)}\n`;
}
