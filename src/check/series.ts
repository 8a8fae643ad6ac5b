import { fromSi, type Kind, parseQuantity } from '../quantity/index.js';
import type { BookFolder, SeriesFile } from '../read/folder.js';
import { type RowFault, readSeries, type SeriesRows, startOfDay } from '../read/series.js';
import { saidOf } from './build/values.js';
import * as m from './messages.js';
import type { Point, Series } from './model.js';
import { nearest } from './nearest.js';
import type { PlacedProblem, Problem, Said } from './problem.js';

/** Files of loggers' readings: each belongs to a point, and every row of it can be true. */

export interface CheckedSeries {
  readonly series: ReadonlyMap<string, Series>;
  /** Of the system files that name them. */
  readonly problems: readonly Problem[];
  /** Of the files themselves. */
  readonly placed: readonly PlacedProblem[];
}

/** Rows told of one by one in one file and for one reason; of the rest it is said how many they are. */
const MOST_TOLD = 5;

/** What was read of a file, as long as it is the same. */
const known = new WeakMap<SeriesFile, SeriesRows>();

function rowsOf(file: SeriesFile): SeriesRows {
  const rows = known.get(file) ?? readSeries(file.text);
  known.set(file, rows);
  return rows;
}

/**
 * Checks all files of readings, and the points that name one.
 *
 * @param complete whether all system files could be read: else a file may belong to a point that is not known.
 */
export function checkSeries(
  { series: files }: BookFolder,
  points: ReadonlyMap<string, Point>,
  today: string,
  complete: boolean,
): CheckedSeries {
  const byPath = new Map(files.map((file) => [file.path, file]));
  const taken = new Map<string, Point>();
  const series = new Map<string, Series>();
  const problems: Problem[] = [];
  const placed: PlacedProblem[] = [];
  for (const point of points.values()) {
    if (point.series === null) continue;
    const at = { file: point.place.file, path: [...point.place.path, 'series'] };
    const file = byPath.get(point.series);
    const first = taken.get(point.series);
    taken.set(point.series, point);
    if (file === undefined)
      problems.push({ ...m.seriesMissing(point.series, nearest(point.series, byPath.keys())), at });
    else if (first !== undefined) problems.push({ ...m.seriesTaken(point.series, first.ref), at });
    else {
      const checked = checkFile(file, point, today);
      placed.push(...checked.placed);
      if (checked.series !== null) series.set(point.ref, checked.series);
    }
  }
  const unused = complete ? files.filter(({ path }) => !taken.has(path)) : [];
  placed.push(...unused.map(({ path }) => ({ ...m.seriesUnused(), file: path, offset: 0, length: 0 })));
  return { series, problems, placed };
}

function checkFile(
  file: SeriesFile,
  point: Point,
  today: string,
): { readonly series: Series | null; readonly placed: readonly PlacedProblem[] } {
  const { path, text } = file;
  const rows = rowsOf(file);
  const firstLine = /^[^\r\n]*/.exec(text)?.[0].length ?? 0;
  if (!rows.headed)
    return { series: null, placed: [{ ...m.seriesHeading(), file: path, offset: 0, length: firstLine }] };
  const scale = scaleOf(rows.unit?.text ?? point.unit, point.kind, point.unit);
  if (!scale.ok) {
    const { text: written = '', offset = 0 } = rows.unit ?? {};
    return { series: null, placed: [{ ...scale.said, file: path, offset, length: written.length }] };
  }
  const isSame = scale.factor === 1 && scale.offset === 0;
  const values = isSame ? rows.values : rows.values.map((value) => scale.factor * value + scale.offset);
  const placed = [
    ...told(
      rows.faults,
      ({ why, offset, length }) => ROW_SAID[why](text.slice(offset, offset + length)),
      ({ why }) => why,
    ),
    ...told(implausibleRows(rows, values, point, text), ({ written }) =>
      m.readingImplausible(written, point.ref, rangeOf(point)),
    ),
    ...told(rowsAfter(rows, today, text), ({ written }) => m.seriesRowLate(written, today)),
  ].map((found) => ({ ...found, file: path }));
  return { series: { point: point.ref, file: path, hash: file.hash, times: rows.times, values }, placed };
}

const ROW_SAID: Readonly<Record<RowFault, (written: string) => Said>> = {
  columns: m.seriesRowColumns,
  time: m.seriesRowTime,
  value: m.seriesRowValue,
  order: m.seriesRowOrder,
};

interface Spot {
  readonly offset: number;
  readonly length: number;
}

/** The first rows of each sort, and of the rest how many there are. */
function told<Row extends Spot>(
  rows: readonly Row[],
  say: (row: Row) => Said,
  sortOf: (row: Row) => string = () => '',
): readonly (Said & Spot)[] {
  const sorts = new Map<string, Row[]>();
  for (const row of rows) {
    const same = sorts.get(sortOf(row));
    if (same === undefined) sorts.set(sortOf(row), [row]);
    else same.push(row);
  }
  return [...sorts.values()].flatMap((same) =>
    same.slice(0, MOST_TOLD).map((row, index) => {
      const more = index === MOST_TOLD - 1 ? same.length - MOST_TOLD : 0;
      const said = say(row);
      return { ...(more > 0 ? m.andMoreRows(said, more) : said), offset: row.offset, length: row.length };
    }),
  );
}

/** How a value in one unit becomes one in another: times a factor, plus an offset. */
type Scale =
  | { readonly ok: true; readonly factor: number; readonly offset: number }
  | { readonly ok: false; readonly said: Said };

/** @returns how values in `from` become values in `to`, or why `from` is no unit of that kind. */
export function scaleOf(from: string, kind: Kind, to: string): Scale {
  const inFrom = (value: number) => parseQuantity(from === '1' ? String(value) : `${value} ${from}`, kind);
  const [nought, one] = [inFrom(0), inFrom(1)];
  if (!one.ok) return { ok: false, said: saidOf(one.problem) };
  if (!nought.ok || one.quantity.unit === to) return { ok: true, factor: 1, offset: 0 };
  const inTo = (si: number) => fromSi(kind, { si, siUncertainty: null }, to).value;
  const offset = inTo(nought.quantity.si);
  return { ok: true, factor: inTo(one.quantity.si) - offset, offset };
}

interface WrittenRow extends Spot {
  readonly written: string;
}

function implausibleRows(
  { offsets }: SeriesRows,
  values: Float64Array,
  point: Point,
  text: string,
): readonly WrittenRow[] {
  if (point.plausible === null) return [];
  const inUnit = (si: number) => fromSi(point.kind, { si, siUncertainty: null }, point.unit).value;
  const [low, high] = [inUnit(point.plausible.low.si), inUnit(point.plausible.high.si)];
  const unit = point.unit === '1' ? '' : ` ${point.unit}`;
  const found: WrittenRow[] = [];
  for (const [index, value] of values.entries()) {
    if (value >= low && value <= high) continue;
    const offset = text.indexOf(',', offsets[index]) + 1;
    const length = /^[^\r\n]*/.exec(text.slice(offset, offset + 40))?.[0].length ?? 1;
    found.push({ written: `${value}${unit}`, offset, length });
  }
  return found;
}

function rangeOf({ plausible }: Point): string {
  return plausible === null ? '' : `${plausible.low.written} to ${plausible.high.written}`;
}

/** Rows of a day that is still to come. They are the last ones, since times rise. */
function rowsAfter({ offsets, times }: SeriesRows, today: string, text: string): WrittenRow[] {
  const [year = 0, month = 0, day = 0] = today.split('-').map(Number);
  const end = startOfDay(year, month, day) + 86_400;
  const found: WrittenRow[] = [];
  for (let index = times.length - 1; index >= 0 && (times[index] as number) >= end; index -= 1) {
    const offset = offsets[index] as number;
    const length = text.indexOf(',', offset) - offset;
    found.push({ written: text.slice(offset, offset + length), offset, length });
  }
  return found.reverse();
}
