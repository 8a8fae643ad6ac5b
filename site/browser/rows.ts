import {
  dateOf,
  LIMITS,
  NO_DAY,
  OUTCOMES,
  SORTS,
  STANDINGS,
  type Table,
  textAt,
  writtenValue,
} from '../../src/find/index.js';
import { type DisplayPreference, parseQuantity, printQuantity } from '../../src/quantity/index.js';
import type { LimitState, Outcome, Standing } from '../../src/reckon/model.js';
import type { RecordSort } from '../../src/reckon/records.js';
import { showReading } from '../../src/render/values.js';

/** A record as a row of results. */
export interface FoundRow {
  readonly key: number;
  readonly sort: RecordSort;
  /** `YYYY-MM-DD`, or null. */
  readonly date: string | null;
  readonly title: string;
  readonly system: string;
  /** The value, and what is said beside it. */
  readonly value: string;
  readonly says: string;
  readonly standing: Standing | null;
  readonly outcome: Outcome | null;
  readonly limit: LimitState | null;
  readonly state: string;
  /** The note, the conditions and how it was come by, one after the other. */
  readonly around: string;
  /** Title of the entry; of what a system's file states, that of the system. */
  readonly where: string;
  readonly href: string;
}

/** Reads a row off the table. */
export function rowOf(table: Table, row: number, display: DisplayPreference, root: string): FoundRow {
  const sort = SORTS[table.sort[row] as number] ?? 'reading';
  const system = table.head.systems[table.system[row] as number];
  const entry = table.entries[table.entry[row] as number];
  const day = table.day[row] as number;
  const under = table.conditions[table.under[row] as number]
    ?.map(({ name, words }) => `${name} ${words}`)
    .join(', ');
  const around = [
    textAt(table, table.note[row] as number),
    under ?? '',
    textAt(table, table.how[row] as number),
  ];
  return {
    key: row,
    sort,
    date: day === NO_DAY ? null : dateOf(day),
    title: textAt(table, table.title[row] as number),
    system: system?.title ?? '',
    value: shownValue(table, row, display),
    says: textAt(table, table.says[row] as number),
    standing: STANDINGS[table.standing[row] as number] ?? null,
    outcome: OUTCOMES[table.outcome[row] as number] ?? null,
    limit: LIMITS[table.limit[row] as number] ?? null,
    state: textAt(table, table.state[row] as number),
    around: around.filter((text) => text !== '').join('; '),
    where: entry === undefined ? WHERE_ELSE[sort === 'reading' ? 'point' : 'spec'] : textAt(table, entry[1]),
    href: root + addressOf(table, row, sort, entry?.[0]),
  };
}

/** What a record leads to that is told in no entry. */
const WHERE_ELSE = { point: 'the point', spec: 'stated of the system' } as const;

/** Where a record is told: its place in the page of its entry, or the page of its spec. */
function addressOf(table: Table, row: number, sort: RecordSort, entry: string | undefined): string {
  const ref = textAt(table, table.ref[row] as number);
  if (entry === undefined && sort === 'reading') {
    const dot = ref.indexOf('.');
    return `systems/${encodeURIComponent(ref.slice(0, dot))}.html#point-${ref.slice(dot + 1)}`;
  }
  if (entry === undefined) return `specs/${encodeURIComponent(ref)}.html`;
  const anchor = table.anchor[row] as number;
  const place = anchor === 0 ? '' : anchor < 0 ? `#test-${-anchor}` : `#${sort}-${anchor}`;
  return `entries/${encodeURIComponent(entry)}.html${place}`;
}

/** The value in the units that are asked for, with its ± where that is known. */
function shownValue(table: Table, row: number, display: DisplayPreference): string {
  const kind = table.head.kinds[table.kind[row] as number];
  if (kind === undefined) return '';
  const result = parseQuantity(writtenValue(table, row), kind);
  if (!result.ok) return writtenValue(table, row);
  const si = table.instrument[row] as number;
  if (Number.isNaN(si)) return printQuantity(result.quantity, display);
  return showReading(result.quantity, { si, from: 'instrument' }, display).text;
}
