import type { DisplayPreference, Quantity } from '../quantity/index.js';
import type { BookRecord } from '../reckon/records.js';
import {
  AS_POINT,
  COLUMNS,
  type ColumnName,
  type ConditionData,
  DIFFERENCES,
  dayNumber,
  type FindHead,
  type FindPart,
  firstTexts,
  NO_DAY,
  NONE,
  PART_SIZE,
  type PointName,
  type SystemName,
} from './data.js';
import { LIMITS, OUTCOMES, SORTS, STANDINGS } from './vocabulary.js';

/** What a search knows of a book beside its records. */
export interface FindNames {
  readonly systems: readonly SystemName[];
  readonly points: readonly PointName[];
  readonly display: DisplayPreference;
  /** Titles of entries by their ids. */
  readonly titles: ReadonlyMap<string, string>;
}

/** Records made ready for a search. */
export interface FindData {
  readonly head: FindHead;
  readonly parts: readonly FindPart[];
}

/** Puts records into columns, in their order. Linear in their number. */
export function encode(records: readonly BookRecord[], names: FindNames, partSize = PART_SIZE): FindData {
  const coder = coderFor(records, names);
  const parts: FindPart[] = [];
  for (let from = 0; from < records.length; from += partSize)
    parts.push(encodePart(records.slice(from, from + partSize), coder));
  const { kinds, units, conditions } = coder;
  const { systems, points, display } = names;
  return {
    head: {
      records: records.length,
      parts: parts.length,
      systems,
      points,
      display,
      kinds: kinds.all,
      units: units.all.map((unit) => JSON.parse(unit) as [number, string]),
      conditions: conditions.all,
    },
    parts,
  };
}

/** A list of names in which each has one place. */
interface Places {
  readonly all: string[];
  /** Puts a name at the end, whether it is there already or not. */
  readonly add: (name: string) => number;
  readonly of: (name: string) => number;
}

function places(): Places {
  const all: string[] = [];
  const at = new Map<string, number>();
  const add = (name: string) => {
    const place = all.push(name) - 1;
    if (!at.has(name)) at.set(name, place);
    return place;
  };
  return { all, add, of: (name) => at.get(name) ?? add(name) };
}

type Coder = ReturnType<typeof coderFor>;

function coderFor(records: readonly BookRecord[], names: FindNames) {
  const texts = places();
  for (const text of firstTexts(names.points)) texts.add(text);
  const coder = {
    systems: new Map(names.systems.map(({ id }, at) => [id, at])),
    points: new Map(names.points.map((point, at) => [point.ref, { ...point, at }])),
    kinds: places() as Places & { readonly all: Quantity['kind'][] },
    units: places(),
    conditions: places(),
    texts,
    entries: places(),
    under: places(),
    titles: names.titles,
  };
  // All units are in the head: a query is read before the last part has come.
  for (const { quantity, under } of records) {
    if (quantity !== null) unitPlace(coder, quantity);
    for (const { name, value } of under) {
      coder.conditions.of(name);
      if (value.type === 'quantity') unitPlace(coder, value.quantity);
    }
  }
  return coder;
}

function unitPlace({ kinds, units }: Pick<Coder, 'kinds' | 'units'>, { kind, unit }: Quantity): number {
  return units.of(JSON.stringify([kinds.of(kind), unit]));
}

function encodePart(records: readonly BookRecord[], coder: Coder): FindPart {
  const { texts, entries, under } = coder;
  const before = [texts.all.length, entries.all.length, under.all.length] as const;
  const rows = records.map((record) => rowOf(record, coder));
  const newEntries = entries.all
    .slice(before[1])
    .map((id): [string, number] => [id, texts.of(coder.titles.get(id) ?? id)]);
  const columns = Object.fromEntries(
    COLUMNS.map((name) => {
      const values = rows.map((row) => row[name]);
      return [name, DIFFERENCES.has(name) ? differences(values) : values];
    }),
  ) as Record<ColumnName, number[]>;
  return {
    texts: texts.all.slice(before[0]),
    entries: newEntries,
    under: under.all.slice(before[2]).map((set) => JSON.parse(set) as ConditionData[]),
    columns,
    values: records.map(({ quantity }) => writtenOf(quantity)).join('\n'),
  };
}

function differences(values: readonly number[]): number[] {
  return values.map((value, index) => value - (values[index - 1] ?? 0));
}

function rowOf(record: BookRecord, coder: Coder): Readonly<Record<ColumnName, number>> {
  const text = (words: string | null) => (words === null || words === '' ? NONE : coder.texts.of(words));
  const point = record.point === null ? undefined : coder.points.get(record.point);
  return {
    sort: SORTS.indexOf(record.sort),
    day: record.date === null ? NO_DAY : dayNumber(record.date),
    entry: record.entry === null ? NONE : coder.entries.of(record.entry),
    anchor: anchorNumber(record.anchor),
    system:
      point !== undefined && systemOf(point) === record.system
        ? AS_POINT
        : (coder.systems.get(record.system) ?? NONE),
    point: point?.at ?? NONE,
    ref: record.ref === point?.ref ? AS_POINT : text(record.ref),
    title: record.title === point?.title ? AS_POINT : text(record.title),
    unit: unitOfRecord(record, point, coder),
    spread: spreadNumber(record),
    under: underPlace(record, coder),
    says: text(record.says),
    how: text(record.how),
    note: text(record.note),
    state: text(record.state),
    standing: record.standing === null ? NONE : STANDINGS.indexOf(record.standing),
    outcome: record.outcome === null ? NONE : OUTCOMES.indexOf(record.outcome),
    limit: record.limit === null ? NONE : LIMITS.indexOf(record.limit),
    apart: record.apart ? 1 : 0,
  };
}

function systemOf({ ref }: PointName): string {
  return ref.slice(0, ref.indexOf('.'));
}

function unitOfRecord({ quantity }: BookRecord, point: PointName | undefined, coder: Coder): number {
  if (quantity === null) return NONE;
  if (quantity.kind === point?.kind && quantity.unit === point.unit) return AS_POINT;
  return unitPlace(coder, quantity);
}

/** `reading-3` as 3; a reading that was taken in a test lies at `test-2` and has -2; 0 is no place. */
function anchorNumber(anchor: string | null): number {
  if (anchor === null) return 0;
  const [sort, number] = anchor.split('-');
  return sort === 'test' ? -Number(number) : Number(number);
}

/** Half-width in SI, as far as it is not written with the value; -1 where it is not known, 0 where it is written. */
function spreadNumber({ uncertainty }: BookRecord): number {
  if (uncertainty === null || uncertainty.si === null) return NONE;
  return uncertainty.from === 'written' ? 0 : Number(uncertainty.si.toPrecision(6));
}

function underPlace({ under }: BookRecord, coder: Coder): number {
  if (under.length === 0) return NONE;
  const set = under.map(({ name, value }): ConditionData => {
    if (value.type === 'text') return [name, NONE, value.text];
    return [name, unitPlace(coder, value.quantity), writtenOf(value.quantity)];
  });
  return coder.under.of(JSON.stringify(set));
}

/** The number alone where that and the unit say all; else the whole text on one line. */
function writtenOf(quantity: Quantity | null): string {
  if (quantity === null) return '';
  const { written, unit } = quantity;
  const number = /^(-?\d+(?:\.\d+)?) (.+)$/.exec(written);
  return number?.[2] === unit && unit !== 'AWG' ? (number[1] as string) : written.replace(/\s+/g, ' ').trim();
}
