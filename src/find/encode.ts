import type { DisplayPreference, Kind, Quantity } from '../quantity/index.js';
import type { BookRecord } from '../reckon/records.js';
import {
  AS_POINT,
  COLUMNS,
  type ColumnName,
  type ConditionData,
  DIFFERENCES,
  dayNumber,
  type FindPart,
  NO_DAY,
  NONE,
  type PartAbout,
  type PointName,
  type SentHead,
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

/** Records that are handed over together; the name tells the part from others. */
export interface RecordGroup {
  readonly name: string;
  readonly records: readonly BookRecord[];
}

/** Records made ready for a search. */
export interface FindData {
  readonly head: SentHead;
  readonly parts: readonly FindPart[];
}

/** Puts all records of a book into columns, in their order. Linear in their number. */
export function encode(groups: readonly RecordGroup[], names: FindNames): FindData {
  const encoder = encoderFor(names);
  const made = groups.map((group) => encoder(group));
  return {
    head: { ...headNames(names), parts: made.map(({ about }) => about) },
    parts: made.map(({ part }) => part),
  };
}

/** What there is before the first record, but for the parts. */
export function headNames({ systems, points, display }: FindNames): Omit<SentHead, 'parts'> {
  return { systems, points, display };
}

/** Puts one group of records at a time into columns. */
export function encoderFor(
  names: FindNames,
): (group: RecordGroup) => { readonly about: PartAbout; readonly part: FindPart } {
  const known = {
    systems: new Map(names.systems.map(({ id }, at) => [id, at])),
    points: new Map(names.points.map((point, at) => [point.ref, { ...point, at }])),
    titles: names.titles,
  };
  return ({ name, records }) => encodePart(name, records, known);
}

/** A list of names in which each has one place. */
interface Places {
  readonly all: string[];
  readonly of: (name: string) => number;
}

function places(): Places {
  const all: string[] = [];
  const at = new Map<string, number>();
  return {
    all,
    of: (name) => {
      const known = at.get(name);
      if (known !== undefined) return known;
      at.set(name, all.length);
      return all.push(name) - 1;
    },
  };
}

/** What a book names, and what a part names for the first time. */
interface Coder {
  readonly systems: ReadonlyMap<string, number>;
  readonly points: ReadonlyMap<string, PointName & { readonly at: number }>;
  readonly titles: ReadonlyMap<string, string>;
  readonly texts: Places;
  readonly entries: Places;
  readonly units: Places;
  readonly conditions: Places;
  readonly under: Places;
}

function unitPlace({ units }: Pick<Coder, 'units'>, { kind, unit }: Quantity): number {
  return units.of(`${kind} ${unit}`);
}

function encodePart(
  name: string,
  records: readonly BookRecord[],
  known: Pick<Coder, 'systems' | 'points' | 'titles'>,
): { readonly about: PartAbout; readonly part: FindPart } {
  const coder: Coder = {
    ...known,
    texts: places(),
    entries: places(),
    units: places(),
    conditions: places(),
    under: places(),
  };
  const columns = Object.fromEntries(
    COLUMNS.map((column) => [column, new Array<number>(records.length)]),
  ) as Record<ColumnName, number[]>;
  for (const [at, record] of records.entries()) addRow(columns, at, record, coder);
  const entries = coder.entries.all.map((id): [string, number] => [
    id,
    coder.texts.of(coder.titles.get(id) ?? id),
  ]);
  for (const column of DIFFERENCES) columns[column] = differences(columns[column]);
  const units = coder.units.all.map((unit): [Kind, string] => {
    const end = unit.indexOf(' ');
    return [unit.slice(0, end) as Kind, unit.slice(end + 1)];
  });
  return {
    about: { name, records: records.length, units, conditions: coder.conditions.all },
    part: {
      name,
      texts: coder.texts.all,
      entries,
      under: coder.under.all.map((set) => JSON.parse(set) as ConditionData[]),
      columns,
      values: records.map(({ quantity }) => writtenOf(quantity)).join('\n'),
    },
  };
}

function differences(values: readonly number[]): number[] {
  return values.map((value, index) => value - (values[index - 1] ?? 0));
}

function addRow(
  columns: Readonly<Record<ColumnName, number[]>>,
  at: number,
  record: BookRecord,
  coder: Coder,
): void {
  const text = (words: string | null) => (words === null || words === '' ? NONE : coder.texts.of(words));
  const point = record.point === null ? undefined : coder.points.get(record.point);
  columns.sort[at] = SORTS.indexOf(record.sort);
  columns.day[at] = record.date === null ? NO_DAY : dayNumber(record.date);
  columns.entry[at] = record.entry === null ? NONE : coder.entries.of(record.entry);
  columns.anchor[at] = anchorNumber(record.anchor);
  columns.system[at] =
    point !== undefined && systemOf(point) === record.system
      ? AS_POINT
      : (coder.systems.get(record.system) ?? NONE);
  columns.point[at] = point?.at ?? NONE;
  columns.ref[at] = record.ref === point?.ref ? AS_POINT : text(record.ref);
  columns.title[at] = record.title === point?.title ? AS_POINT : text(record.title);
  columns.unit[at] = unitOfRecord(record, point, coder);
  columns.spread[at] = spreadNumber(record);
  columns.under[at] = underPlace(record, coder);
  columns.says[at] = text(record.says);
  columns.how[at] = text(record.how);
  columns.note[at] = text(record.note);
  columns.state[at] = text(record.state);
  columns.standing[at] = record.standing === null ? NONE : STANDINGS.indexOf(record.standing);
  columns.outcome[at] = record.outcome === null ? NONE : OUTCOMES.indexOf(record.outcome);
  columns.limit[at] = record.limit === null ? NONE : LIMITS.indexOf(record.limit);
  columns.apart[at] = record.apart ? 1 : 0;
}

function systemOf({ ref }: PointName): string {
  return ref.slice(0, ref.indexOf('.'));
}

function unitOfRecord({ quantity }: BookRecord, point: PointName | undefined, coder: Coder): number {
  if (quantity === null) return NONE;
  // The head tells all units that there are, those of points as well.
  const place = unitPlace(coder, quantity);
  return quantity.kind === point?.kind && quantity.unit === point.unit ? AS_POINT : place;
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
    coder.conditions.of(name);
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
