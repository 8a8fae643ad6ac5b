import type { TakeMap } from '../../schemas/take-map.js';
import { fromSi, type Kind, parseQuantity } from '../quantity/index.js';
import { plainLine } from '../quantity/plain-line.js';
import { writeTime } from '../read/series.js';
import { type Columns, conditionText, type TakenColumn } from './columns.js';
import type { Reason, Refusals } from './refusals.js';

/** From the rows of a table to the readings of each column that is taken. */

/** A reading of a table. */
export interface Taken {
  /** Seconds since the beginning of 1970 by the clock on the wall. */
  readonly time: number;
  readonly row: number;
  /** The number as it is written. */
  readonly text: string;
  readonly number: number;
  readonly under: Readonly<Record<string, string>> | null;
}

/** Takes the readings out of rows that come one by one. */
export interface Gatherer {
  readonly add: (cells: readonly string[], row: number) => void;
  /** The readings of each column, in order of time, without those that stood still for too long. */
  readonly done: () => ReadonlyMap<TakenColumn, readonly Taken[]>;
}

/** @param end the first moment after today. */
export function gatherer(map: TakeMap, { time, values }: Columns, end: number, refused: Refusals): Gatherer {
  const found = new Map(values.map((column): [TakenColumn, Taken[]] => [column, []]));
  const limits = new Map(values.map((column) => [column, limitsOf(column)] as const));
  const nothing = new Set(['', ...(map['no-value'] ?? [])]);
  const addCell = (column: TakenColumn, at: number, cells: readonly string[], row: number): void => {
    const cell = (cells[column.index] ?? '').trim();
    if (nothing.has(cell)) return;
    const read = column.read(cell);
    const refuse = (reason: Reason, words: string) =>
      refused.add({ row, column: column.heading, written: cell, reason, words });
    if ('reason' in read) {
      refuse(read.reason, read.words);
      return;
    }
    const limit = (limits.get(column) ?? []).find(({ low, high }) => read.number < low || read.number > high);
    if (limit !== undefined) {
      refuse(limit.reason, limit.words);
      return;
    }
    found.get(column)?.push({ time: at, row, ...read, under: underOf(column, cells, map) });
  };
  const addRow = (cells: readonly string[], row: number): void => {
    const refuse = (written: string, reason: Reason, words: string) =>
      refused.add({ row, column: null, written, reason, words });
    const written = time.indexes.map((index) => (cells[index] ?? '').trim()).join(' ');
    const at = time.read(written);
    if (cells.length <= Math.max(...time.indexes)) refuse(cells.join(' '), 'no-cell', 'has too few columns');
    else if (Number.isNaN(at))
      refuse(written, 'no-time', `is no time of the form ${plainLine(map.time.as, 60)}`);
    else if (at >= end) refuse(written, 'late', 'lies after today');
    else for (const column of values) addCell(column, at, cells, row);
  };
  return {
    add: addRow,
    done: () =>
      new Map(
        [...found].map(([column, taken]) => {
          const inOrder = isRising(taken) ? taken : taken.sort((a, b) => a.time - b.time || a.row - b.row);
          return [column, withoutStuck(column, inOrder, refused)] as const;
        }),
      ),
  };
}

interface Limits {
  readonly reason: 'outside' | 'implausible';
  readonly low: number;
  readonly high: number;
  readonly words: string;
}

/** What a value has to lie between, in the unit in which it is written. */
function limitsOf({ map, point, unit }: TakenColumn): readonly Limits[] {
  const inUnit = (si: number) => fromSi(point.kind, { si, siUncertainty: null }, unit).value;
  const between = (reason: Limits['reason'], ends: readonly [Ended, Ended], what: string): Limits => {
    const [low, high] = ends;
    const words = `is outside ${low.written} to ${high.written}, ${what}`;
    return { reason, low: inUnit(low.si), high: inUnit(high.si), words };
  };
  const { plausible } = point;
  const outside = rangeOf(map.outside, point.kind);
  return [
    ...(plausible === null
      ? []
      : [between('implausible', [plausible.low, plausible.high], 'which alone is plausible')]),
    ...(outside === null ? [] : [between('outside', outside, 'as the map says')]),
  ];
}

interface Ended {
  readonly si: number;
  readonly written: string;
}

/** The two ends of a range of a map; null where there is none, or it was found to be wrong before. */
function rangeOf(
  range: readonly [string | number, string | number] | undefined,
  kind: Kind,
): readonly [Ended, Ended] | null {
  const [low, high] = (range ?? []).map((end) => parseQuantity(end, kind));
  return low?.ok === true && high?.ok === true ? [low.quantity, high.quantity] : null;
}

function underOf(
  { under, to }: TakenColumn,
  cells: readonly string[],
  { decimal = 'point' }: TakeMap,
): Taken['under'] {
  if (to === 'series' || under.length === 0) return null;
  const said = under.flatMap(({ name, index, unit }) => {
    const cell = (cells[index] ?? '').trim();
    return cell === '' ? [] : [[name, conditionText(cell, unit, decimal)] as const];
  });
  return said.length === 0 ? null : Object.fromEntries(said);
}

function isRising(taken: readonly Taken[]): boolean {
  return taken.every(({ time }, at) => at === 0 || time > (taken[at - 1] as Taken).time);
}

/** Leaves out stretches in which one value stands for as long as the map does not believe. */
function withoutStuck(column: TakenColumn, taken: readonly Taken[], refused: Refusals): readonly Taken[] {
  const longest = column.map.stuck === undefined ? null : parseQuantity(column.map.stuck, 'time');
  if (longest === null || !longest.ok) return taken;
  const kept: Taken[] = [];
  for (let start = 0; start < taken.length; ) {
    let end = start + 1;
    while (end < taken.length && taken[end]?.number === taken[start]?.number) end += 1;
    const run = taken.slice(start, end);
    const [first, last] = [run[0] as Taken, run.at(-1) as Taken];
    if (last.time - first.time >= longest.quantity.si) {
      const words = `stands still from ${writeTime(first.time)} to ${writeTime(last.time)}`;
      for (const { row, text } of run)
        refused.add({ row, column: column.heading, written: text, reason: 'stuck', words });
    } else {
      for (const one of run) kept.push(one);
    }
    start = end;
  }
  return kept;
}
