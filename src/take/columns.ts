import type { TakeMap } from '../../schemas/take-map.js';
import { optionalQuantity, quantityOf } from '../check/build/values.js';
import * as m from '../check/messages.js';
import type { Place, Point } from '../check/model.js';
import { nearest } from '../check/nearest.js';
import type { Report } from '../check/problem.js';
import { scaleOf } from '../check/series.js';
import { parseQuantity } from '../quantity/index.js';
import { fitsRow, MOST_DECIMALS } from '../read/series.js';
import { type Decimal, decimalsOf, plainNumber } from './numbers.js';
import type { Reason } from './refusals.js';
import { type TimeReader, timeReader } from './times.js';

/** The columns that a map names, found in a table, with how their cells are read. */

export type ValueMap = TakeMap['values'][number];

/** A cell that was read, in the unit that is written. */
export interface Value {
  /** The number as it is to be written: digits as the table has them, where the unit is the same. */
  readonly text: string;
  readonly number: number;
}

export type ReadValue = Value | { readonly reason: Reason; readonly words: string };

export interface TakenColumn {
  readonly map: ValueMap;
  /** Path of it in the map. */
  readonly path: Place['path'];
  readonly point: Point;
  readonly to: 'series' | 'entries';
  readonly index: number;
  readonly heading: string;
  /** Unit in which values are written. */
  readonly unit: string;
  readonly read: (cell: string) => ReadValue;
  readonly under: readonly {
    readonly name: string;
    readonly index: number;
    readonly unit: string | null;
  }[];
}

export interface Columns {
  readonly time: { readonly indexes: readonly number[]; readonly read: TimeReader };
  readonly values: readonly TakenColumn[];
}

/** What the columns have to be held against. */
export interface Known {
  readonly points: ReadonlyMap<string, Point>;
  readonly instruments: ReadonlyMap<string, unknown>;
  readonly people: ReadonlyMap<string, unknown>;
  /** The unit of a file of readings that is there already, by its path. */
  readonly unitOfSeries: (file: string) => string | null;
}

/**
 * Finds the columns of a table. What is wrong with the map is reported at its place in it.
 *
 * @param headings of the table; null where it has none.
 * @returns null where anything is wrong.
 */
export function findColumns(
  map: TakeMap,
  headings: readonly string[] | null,
  known: Known,
  report: Report,
): Columns | null {
  let sound = true;
  const refuse: Report = (...said) => {
    sound = false;
    report(...said);
  };
  const times = Array.isArray(map.time.column) ? map.time.column : [map.time.column];
  const indexes = times.map((column, at) => {
    const path = times.length > 1 ? ['time', 'column', at] : ['time', 'column'];
    return indexOf(column, headings, path, refuse);
  });
  const reader = timeReader(map.time.as);
  if (typeof reader !== 'function') refuse(m.takeTimeForm(map.time.as, reader.why), ['time', 'as']);
  const values = map.values.map((one, at) => takenColumn(one, ['values', at], map, headings, known, refuse));
  const intoEntries = values.findIndex((column) => column?.to === 'entries');
  if (intoEntries >= 0 && map.entries === undefined)
    refuse(...noEntries(map.values[intoEntries] as ValueMap, ['values', intoEntries]));
  for (const [at, one] of map.values.entries())
    if (map.values.slice(0, at).some(({ point }) => point === one.point))
      refuse(m.duplicateId('column for the point', one.point, 'this map'), ['values', at, 'point']);
  if (!sound || typeof reader !== 'function') return null;
  return { time: { indexes, read: reader }, values: values.filter((column) => column !== null) };
}

/** Rows would become entries, of which the map says nothing: because it says so, or because the point names no file. */
function noEntries(map: ValueMap, path: Place['path']): Parameters<Report> {
  if (map.to === 'entries') return [m.missingField('entries', '{ title: Readings of the bank }'), []];
  const name = map.point.slice(map.point.indexOf('.') + 1);
  return [m.takeNoEntries(map.point, name), [...path, 'point']];
}

function takenColumn(
  map: ValueMap,
  path: Place['path'],
  { decimal = 'point' }: TakeMap,
  headings: readonly string[] | null,
  known: Known,
  report: Report,
): TakenColumn | null {
  const index = indexOf(map.column, headings, [...path, 'column'], report);
  const point = known.points.get(map.point);
  if (point === undefined) {
    report(m.unknown('point', map.point, nearest(map.point, known.points.keys())), [...path, 'point']);
    return null;
  }
  for (const [end, written] of (map.outside ?? []).entries())
    quantityOf(written, point.kind, [...path, 'outside', end], report);
  optionalQuantity(map.stuck, 'time', [...path, 'stuck'], report);
  nameListed('instrument', map.with, known.instruments, [...path, 'with'], report);
  nameListed('person', map.by, known.people, [...path, 'by'], report);
  const to = map.to ?? (point.series === null ? 'entries' : 'series');
  if (to === 'series' && point.series === null)
    report(m.takeNoSeries(point.ref, point.name), [...path, map.to === undefined ? 'point' : 'to']);
  const heading = headings?.[index] ?? `column ${index + 1}`;
  const unit = (to === 'series' ? known.unitOfSeries(point.series ?? '') : null) ?? point.unit;
  const written = map.unit ?? unitIn(heading);
  const scale = written === null ? null : scaleOf(written, point.kind, unit);
  if (scale !== null && !scale.ok) report(scale.said, [...path, map.unit === undefined ? 'column' : 'unit']);
  return {
    map,
    path,
    point,
    to,
    index,
    heading,
    unit,
    read: scale?.ok === true ? numberReader(decimal, scale) : quantityReader(decimal, point, unit),
    under: Object.entries(map.under ?? {}).map(([name, condition]) => {
      const at = indexOf(condition.column, headings, [...path, 'under', name, 'column'], report);
      return { name, index: at, unit: condition.unit ?? unitIn(headings?.[at] ?? '') };
    }),
  };
}

function nameListed(
  sort: 'instrument' | 'person',
  name: string | undefined,
  listed: ReadonlyMap<string, unknown>,
  path: Place['path'],
  report: Report,
): void {
  if (name !== undefined && !listed.has(name))
    report(m.unknown(sort, name, nearest(name, listed.keys()), [...listed.keys()]), path);
}

/** Index of a column by its number or heading; a unit in brackets behind a heading may be left out. */
function indexOf(
  column: string | number,
  headings: readonly string[] | null,
  path: Place['path'],
  report: Report,
): number {
  if (typeof column === 'number') {
    if (headings !== null && column > headings.length)
      report(m.takeColumn(String(column), null, headings), path);
    return column - 1;
  }
  const asWritten = headings?.findIndex((heading) => fold(heading) === fold(column)) ?? -1;
  const index =
    asWritten >= 0
      ? asWritten
      : (headings?.findIndex((heading) => fold(bare(heading)) === fold(column)) ?? -1);
  if (index < 0)
    report(m.takeColumn(column, nearest(column, (headings ?? []).map(bare)), headings ?? []), path);
  return index;
}

function fold(heading: string): string {
  return heading.trim().replaceAll(/\s+/g, ' ').toLowerCase();
}

const IN_BRACKETS = /\s*(?:\[([^[\]]+)\]|\(((?:[^()]|\([ga]\))+)\)|\s*\/\s*([^\s/]+))\s*$/;

function bare(heading: string): string {
  return heading.replace(IN_BRACKETS, '');
}

/** The unit of a heading such as `Humidity [%RH]`, `Voltage (V)` or `U / V`. */
function unitIn(heading: string): string | null {
  const [, square, round, slash] = IN_BRACKETS.exec(heading) ?? [];
  return (square ?? round ?? slash)?.trim() ?? null;
}

/** Cells are numbers, of which all have the same unit. */
function numberReader(
  decimal: Decimal,
  { factor, offset }: { readonly factor: number; readonly offset: number },
): TakenColumn['read'] {
  const same = factor === 1 && offset === 0;
  // So many more decimals as the unit is larger: 12710 mV is 12.710 V.
  const more = Math.max(0, Math.ceil(-Math.log10(Math.abs(factor)) - 1e-9));
  return (cell) => {
    const plain = plainNumber(cell, decimal);
    if (plain === null) return { reason: 'no-number', words: noNumber(cell, decimal) };
    const value = same ? Number(plain) : factor * Number(plain) + offset;
    const decimals = decimalsOf(plain) + (same ? 0 : more);
    const asItIs = same && decimals <= MOST_DECIMALS;
    const text = asItIs ? plain : value.toFixed(Math.min(MOST_DECIMALS, decimals));
    if (!fitsRow(text)) return { reason: 'no-number', words: 'has more digits than a reading can have' };
    return { text, number: Number(text) };
  };
}

function noNumber(cell: string, decimal: Decimal): string {
  if (plainNumber(cell, decimal === 'comma' ? 'point' : 'comma') === null) return 'is no number';
  return decimal === 'point'
    ? 'has a comma; with commas for decimals the map says `decimal: comma`'
    : 'has a point, where the map says `decimal: comma`';
}

/** Cells are values with units of their own. */
function quantityReader(decimal: Decimal, { kind }: Point, unit: string): TakenColumn['read'] {
  return (cell) => {
    const [, number = '', rest = ''] = /^([-−–+]?[\d.,' \u00a0\u202f]*\d)\s*(.*)$/.exec(cell.trim()) ?? [];
    const plain = plainNumber(number, decimal);
    if (plain === null) return { reason: 'no-number', words: noNumber(number || cell, decimal) };
    if (rest === '')
      return {
        reason: 'no-unit',
        words: `has no unit, and neither has its heading; say it in the map: \`unit: "${unit}"\``,
      };
    const scale = scaleOf(rest, kind, unit);
    if (!scale.ok) return { reason: 'wrong-unit', words: `has another unit than ${unit}` };
    return numberReader('point', scale)(plain);
  };
}

/** A condition's cell as it is written in an entry. */
export function conditionText(cell: string, unit: string | null, decimal: Decimal): string {
  const plain = plainNumber(cell, decimal);
  const value = plain === null ? cell.trim() : unit === null ? plain : `${plain} ${unit}`;
  const parsed = parseQuantity(value);
  return parsed.ok ? parsed.quantity.written : value;
}
