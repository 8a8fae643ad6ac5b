import { readSeries, writeTime } from '../read/series.js';
import type { TakenColumn } from './columns.js';
import type { Taken } from './gather.js';
import type { Refusals } from './refusals.js';

/** From readings of a table to the file of a point: what is new goes in at its time, what is there stays as it is. */

export interface SeriesPlan {
  /** Path from the book's folder. */
  readonly file: string;
  readonly point: string;
  readonly added: number;
  /** Readings that are there already, at the same time and with the same value. */
  readonly known: number;
  /** The whole new text; null where nothing is added. */
  readonly text: string | null;
}

interface Row {
  readonly time: number;
  readonly number: number;
}

/**
 * Merges readings into a file.
 *
 * @param before the text of the file as it is; null where there is none yet. It has no faults.
 * @param taken in order of time.
 */
export function intoSeries(
  { point, unit, heading }: TakenColumn,
  taken: readonly Taken[],
  before: string | null,
  refused: Refusals,
): SeriesPlan {
  const old = before === null ? null : readSeries(before);
  const lineEnd = before?.includes('\r\n') === true ? '\r\n' : '\n';
  const lines: string[] = [before === null ? `time,value (${unit})` : (/^[^\r\n]*/.exec(before)?.[0] ?? '')];
  let at = 0;
  let [added, known] = [0, 0];
  // The row that was written last.
  let last: Row = { time: Number.NaN, number: Number.NaN };
  const oldUpTo = (time: number): void => {
    while (old !== null && at < old.times.length && (old.times[at] as number) <= time) {
      lines.push(lineAt(before ?? '', old.offsets[at] as number));
      last = { time: old.times[at] as number, number: old.values[at] as number };
      at += 1;
    }
  };
  for (const one of taken) {
    oldUpTo(one.time);
    if (last.time !== one.time) {
      lines.push(`${writeTime(one.time)},${one.text}`);
      last = { time: one.time, number: one.number };
      added += 1;
    } else if (last.number === one.number) known += 1;
    else refused.add(conflict(one, heading, String(last.number)));
  }
  oldUpTo(Number.POSITIVE_INFINITY);
  const text = added === 0 ? null : `${lines.join(lineEnd)}${lineEnd}`;
  return { file: point.series ?? '', point: point.ref, added, known, text };
}

function lineAt(text: string, offset: number): string {
  const end = text.indexOf('\n', offset);
  return text.slice(offset, end < 0 ? text.length : end).replace(/\r$/, '');
}

function conflict({ row, time, text }: Taken, column: string, there: string) {
  const words = `contradicts ${there}, which stands for ${writeTime(time)} already`;
  return { row, column, written: text, reason: 'conflict' as const, words };
}
