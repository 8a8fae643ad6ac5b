import { NO_DAY } from './data.js';
import type { Table } from './table.js';
import { LIMITS, SORTS } from './vocabulary.js';

/** A reading of a point, for drawing; in SI. */
export interface Mark {
  readonly day: number;
  readonly si: number;
  /** Half-width, or null where it is not known. */
  readonly spread: number | null;
  readonly limit: (typeof LIMITS)[number];
  /** Whether it was taken under the conditions at which the point is compared. */
  readonly comparable: boolean;
}

/** Two readings that are drawn against each other. */
export interface Pair {
  readonly x: Mark;
  readonly y: Mark;
  /** Days between the two. */
  readonly apart: number;
}

/** The readings of a point among some rows, oldest first. */
export function marksOf(table: Table, rows: Iterable<number>, point: number): Mark[] {
  const marks: Mark[] = [];
  for (const row of rows) {
    if (table.point[row] !== point || SORTS[table.sort[row] as number] !== 'reading') continue;
    const day = table.day[row] as number;
    const si = table.si[row] as number;
    if (day === NO_DAY || Number.isNaN(si)) continue;
    const spread = table.spread[row] as number;
    const limit = LIMITS[table.limit[row] as number] ?? 'no-limit';
    marks.push({
      day,
      si,
      spread: Number.isNaN(spread) ? null : spread,
      limit,
      comparable: table.apart[row] !== 1,
    });
  }
  return marks.sort((a, b) => a.day - b.day);
}

/**
 * Pairs the readings of two points: each reading of the first with the one of the second that lies nearest
 * in time, if it is no further away than `most` days; of two as near, the earlier.
 *
 * @param first oldest first, @param second oldest first
 */
export function pairs(first: readonly Mark[], second: readonly Mark[], most: number): Pair[] {
  return first.flatMap((x) => {
    const y = nearestTo(x.day, second);
    if (y === undefined) return [];
    const apart = Math.abs(y.day - x.day);
    return apart <= most ? [{ x, y, apart }] : [];
  });
}

function nearestTo(day: number, marks: readonly Mark[]): Mark | undefined {
  let [low, high] = [0, marks.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((marks[middle] as Mark).day < day) low = middle + 1;
    else high = middle;
  }
  const [before, after] = [marks[low - 1], marks[low]];
  if (before === undefined || after === undefined) return before ?? after;
  return after.day - day < day - before.day ? after : before;
}

/**
 * A long series with fewer marks, for drawing: of each stretch of time the first, the last, the lowest and the
 * highest, so that no peak is lost, and everything that lies out of limits or undecided.
 *
 * @param marks oldest first
 */
export function thinned(marks: readonly Mark[], most: number): readonly Mark[] {
  if (marks.length <= most) return marks;
  const stretches = Math.max(1, Math.floor(most / 4));
  const kept: Mark[] = [];
  for (let stretch = 0; stretch < stretches; stretch++) {
    const from = Math.floor((stretch * marks.length) / stretches);
    const to = Math.floor(((stretch + 1) * marks.length) / stretches);
    const all = marks.slice(from, to);
    const low = all.reduce((best, mark) => (mark.si < best.si ? mark : best));
    const high = all.reduce((best, mark) => (mark.si > best.si ? mark : best));
    kept.push(
      ...new Set(
        [all[0] as Mark, low, high, all.at(-1) as Mark].sort((a, b) => all.indexOf(a) - all.indexOf(b)),
      ),
    );
  }
  return kept;
}
