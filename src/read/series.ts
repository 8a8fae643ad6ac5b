/**
 * Reads a file of a logger's readings into columns. The form is narrow on purpose: it is written by a program
 * (`ribband take`), and read anew at every build, a million rows and more.
 *
 *     time,value (%RH)
 *     2026-04-18T10:20,61.3
 *
 * Times are those of the clock on the wall, to the minute or the second, each later than the one before it.
 */

/** Why a row was left out. */
export type RowFault = 'columns' | 'time' | 'order' | 'value';

/** A row that was left out, as a stretch of the text in UTF-16 units. */
export interface FaultyRow {
  readonly why: RowFault;
  /** Counted from 1; the heading is row 1, as an editor counts. */
  readonly row: number;
  readonly offset: number;
  readonly length: number;
}

export interface SeriesRows {
  /** The unit in the heading, or null where it names none. */
  readonly unit: { readonly text: string; readonly offset: number } | null;
  /** Whether the heading is one. */
  readonly headed: boolean;
  /** Seconds since the beginning of 1970 by the clock on the wall. */
  readonly times: Float64Array;
  readonly values: Float64Array;
  /** Where in the text each row begins. */
  readonly offsets: Uint32Array;
  readonly faults: readonly FaultyRow[];
}

const HEADING = /^time,value(?: \(([^()\r\n]{1,20}(?:\([ga]\))?)\))?$/;
/** Decimals that a row can hold. */
export const MOST_DECIMALS = 15;

/** Whether a number, written plainly, can stand in a row. */
export function fitsRow(number: string): boolean {
  return NUMBER.test(number);
}

const NUMBER = /^-?\d{1,15}(?:\.\d{1,15})?$/;

/** Reads the rows; those with a fault are told of and left out. Never throws. */
export function readSeries(text: string): SeriesRows {
  const headEnd = endOfLine(text, 0);
  const heading = HEADING.exec(text.slice(0, headEnd.content));
  const unit = heading?.[1] === undefined ? null : { text: heading[1], offset: 'time,value ('.length };
  const most = Math.ceil(text.length / SHORTEST_ROW) + 1;
  const columns = {
    times: new Float64Array(most),
    values: new Float64Array(most),
    offsets: new Uint32Array(most),
  };
  const faults: FaultyRow[] = [];
  let count = 0;
  let row = 1;
  for (let start = headEnd.next; start < text.length; ) {
    const { content: end, next } = endOfLine(text, start);
    row += 1;
    if (end > start) {
      const read = readRow(text, start, end, count === 0 ? -Infinity : (columns.times[count - 1] as number));
      if ('why' in read) faults.push({ ...read, row });
      else {
        columns.times[count] = read.time;
        columns.values[count] = read.value;
        columns.offsets[count] = start;
        count += 1;
      }
    }
    start = next;
  }
  return {
    unit,
    headed: heading !== null,
    times: columns.times.slice(0, count),
    values: columns.values.slice(0, count),
    offsets: columns.offsets.slice(0, count),
    faults,
  };
}

/** `2026-04-18T10:20,1` and its line end. */
const SHORTEST_ROW = 19;

function endOfLine(text: string, start: number): { readonly content: number; readonly next: number } {
  const at = text.indexOf('\n', start);
  if (at < 0) return { content: text.length, next: text.length };
  return { content: at > start && text.charCodeAt(at - 1) === 13 ? at - 1 : at, next: at + 1 };
}

type Row = { readonly time: number; readonly value: number } | Omit<FaultyRow, 'row'>;

function readRow(text: string, start: number, end: number, after: number): Row {
  const comma = text.indexOf(',', start);
  if (comma < 0 || comma >= end) return { why: 'columns', offset: start, length: end - start };
  const time = readTime(text, start, comma);
  if (Number.isNaN(time)) return { why: 'time', offset: start, length: Math.max(1, comma - start) };
  const written = text.slice(comma + 1, end);
  if (!NUMBER.test(written)) {
    const offset = written === '' ? comma : comma + 1;
    return { why: 'value', offset, length: Math.max(1, written.length) };
  }
  if (time <= after) return { why: 'order', offset: start, length: comma - start };
  return { time, value: Number(written) };
}

/**
 * A time written `2026-04-18T10:20` or `2026-04-18T10:20:30`, as seconds since the beginning of 1970 by the same
 * clock; NaN for anything else.
 */
export function readTime(text: string, start = 0, end = text.length): number {
  const length = end - start;
  if (length !== 16 && length !== 19) return Number.NaN;
  const pair = (at: number) => twoDigits(text, start + at);
  const [year, month, day] = [pair(0) * 100 + pair(2), pair(5), pair(8)];
  const [hour, minute, second] = [pair(11), pair(14), length === 19 ? pair(17) : 0];
  const marks =
    text.charCodeAt(start + 4) === 45 &&
    text.charCodeAt(start + 7) === 45 &&
    text.charCodeAt(start + 10) === 84 &&
    text.charCodeAt(start + 13) === 58 &&
    (length === 16 || text.charCodeAt(start + 16) === 58);
  const inDay = hour <= 23 && minute <= 59 && second <= 59;
  if (!marks || !inDay) return Number.NaN;
  return startOfDay(year, month, day) + hour * 3600 + minute * 60 + second;
}

/** Seconds since the beginning of 1970 at which a day begins; NaN where the calendar has no such day. */
export function startOfDay(year: number, month: number, day: number): number {
  // Years below 100 would be taken for those of the last century.
  if (!(year >= 1000 && month >= 1 && month <= 12 && day >= 1)) return Number.NaN;
  const date = new Date(Date.UTC(year, month - 1, day));
  return date.getUTCDate() === day ? date.getTime() / 1000 : Number.NaN;
}

function twoDigits(text: string, at: number): number {
  const [tens, ones] = [text.charCodeAt(at) - 48, text.charCodeAt(at + 1) - 48];
  return tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9 ? tens * 10 + ones : Number.NaN;
}

/** A time in the form of these files: to the minute, or to the second where it has one. */
export function writeTime(time: number): string {
  const iso = new Date(time * 1000).toISOString();
  return time % 60 === 0 ? iso.slice(0, 16) : iso.slice(0, 19);
}
