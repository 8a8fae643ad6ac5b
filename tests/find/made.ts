import type { Condition } from '../../src/check/model.js';
import {
  atOnce,
  encode,
  type FindNames,
  openTable,
  type RecordGroup,
  readHead,
  type Table,
} from '../../src/find/index.js';
import { type Kind, parseQuantity, type Quantity } from '../../src/quantity/index.js';
import type { BookRecord } from '../../src/reckon/records.js';

/** Records made by hand, and tables of them. */

export function quantity(text: string, kind: Kind): Quantity {
  const result = parseQuantity(text, kind);
  if (!result.ok) throw new Error(result.problem.message);
  return result.quantity;
}

export const NAMES: FindNames = {
  systems: [
    { id: 'house-dc', title: 'House batteries' },
    { id: 'steering', title: 'Steering' },
    { id: 'hull', title: 'Hull' },
  ],
  points: [
    point('house-dc.rest-voltage', 'Bank at rest', 'voltage', 'V'),
    point('house-dc.insulation', 'Black to earth', 'resistance', 'MΩ'),
    point('steering.play', 'Play at the rim', 'length', 'mm'),
    point('hull.moisture', 'Garboard', 'moisture', '%MC'),
  ],
  display: { system: 'as-written' },
  titles: new Map([
    ['2024-05-01-a', 'First look'],
    ['2025-06-14-b', 'Rudder hung'],
    ['2025-12-31-c', 'Laid up'],
  ]),
};

function point(ref: string, title: string, kind: Kind, unit: string): FindNames['points'][number] {
  return { ref, title, where: null, kind, unit, atLeast: null, atMost: null };
}

const PLAIN: BookRecord = {
  sort: 'reading',
  ref: null,
  date: '2025-06-14',
  system: 'hull',
  title: 'a thing',
  quantity: null,
  uncertainty: null,
  says: null,
  point: null,
  under: [],
  how: null,
  note: null,
  standing: null,
  outcome: null,
  limit: null,
  apart: false,
  state: null,
  entry: '2025-06-14-b',
  anchor: 'reading-1',
  place: { file: 'entries/2025/2025-06-14-b.md', path: [] },
};

/** A record of which only some is said. */
export function record(parts: Partial<BookRecord>): BookRecord {
  return { ...PLAIN, ...parts };
}

/** A reading of a point, or of a thing in plain words. */
export function reading(written: string, kind: Kind, parts: Partial<BookRecord> = {}): BookRecord {
  const value = quantity(written, kind);
  const known = NAMES.points.find(({ ref }) => ref === parts.point);
  const uncertainty = {
    si: value.siUncertainty,
    from: value.siUncertainty === null ? 'unknown' : 'written',
  } as const;
  const named =
    known === undefined
      ? {}
      : { title: known.title, ref: known.ref, system: known.ref.slice(0, known.ref.indexOf('.')) };
  return record({ quantity: value, uncertainty, ...named, ...parts });
}

export function ambient(written: string): Condition {
  return { name: 'ambient', value: { type: 'quantity', quantity: quantity(written, 'temperature') } };
}

/** A table of records, taken in part by part. */
export function tableOf(records: readonly BookRecord[], partSize = 3): Table {
  // What is stored in between is text: nothing may hang on what that loses.
  const groups: RecordGroup[] = [];
  for (let from = 0; from < records.length; from += partSize)
    groups.push({ name: String(from), records: records.slice(from, from + partSize) });
  const { head, parts } = JSON.parse(JSON.stringify(encode(groups, NAMES))) as ReturnType<typeof encode>;
  const table = openTable(readHead(head));
  for (const part of parts) atOnce(table.add(part));
  return table;
}
