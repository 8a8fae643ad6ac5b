import type { Series } from '../check/model.js';
import { dayOfNumber } from './calendar.js';

/**
 * What a logger has read, summed up by days. It is evidence for no standing and makes no trend: nobody stood by
 * when it was read; and the values of one day are as good as those of the next, so that the tests by which a
 * trend is told from chance, which take readings to be independent, would find one in every spell of weather.
 */

/** One day of a logger. Values are in the point's unit. */
export interface SeriesDay {
  /** `YYYY-MM-DD`, by the clock of the logger. */
  readonly date: string;
  readonly count: number;
  readonly min: number;
  readonly mean: number;
  readonly max: number;
}

/** A value and when it was read. */
export interface Extreme {
  readonly value: number;
  /** Seconds since the beginning of 1970 by the clock of the logger. */
  readonly time: number;
}

export interface SeriesState {
  readonly series: Series;
  /** Oldest first; days without a reading are not there. */
  readonly days: readonly SeriesDay[];
  /** Null where there is no row. The first of several that are the same. */
  readonly lowest: Extreme | null;
  readonly highest: Extreme | null;
  readonly mean: number | null;
}

export const SECONDS_A_DAY = 86_400;

/** Sums up a series. Linear in its length. */
export function seriesState(series: Series): SeriesState {
  const { times } = series;
  const days: SeriesDay[] = [];
  let lowest: Extreme | null = null;
  let highest: Extreme | null = null;
  let total = 0;
  for (let start = 0; start < times.length; ) {
    const day = Math.floor((times[start] as number) / SECONDS_A_DAY);
    const end = firstFrom(times, (day + 1) * SECONDS_A_DAY, start);
    const [low, high, sum] = extremesOf(series, start, end);
    days.push({
      date: dayOfNumber(day),
      count: end - start,
      min: low.value,
      mean: sum / (end - start),
      max: high.value,
    });
    if (lowest === null || low.value < lowest.value) lowest = low;
    if (highest === null || high.value > highest.value) highest = high;
    total += sum;
    start = end;
  }
  return { series, days, lowest, highest, mean: times.length === 0 ? null : total / times.length };
}

function extremesOf({ times, values }: Series, start: number, end: number): [Extreme, Extreme, number] {
  let [low, high, sum] = [start, start, 0];
  for (let at = start; at < end; at += 1) {
    const value = values[at] as number;
    if (value < (values[low] as number)) low = at;
    if (value > (values[high] as number)) high = at;
    sum += value;
  }
  const extreme = (at: number): Extreme => ({ value: values[at] as number, time: times[at] as number });
  return [extreme(low), extreme(high), sum];
}

/** Index of the first time that is not before a moment; the length where there is none. @param from where to begin. */
export function firstFrom(times: Float64Array, moment: number, from = 0): number {
  let [low, high] = [from, times.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((times[middle] as number) < moment) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** A longest gap that a line is drawn across: so many times the usual distance of two rows. */
const GAP = 12;

/** A row of a thinned series; `breaks` where the logger was silent before it. */
export interface ThinnedRow {
  readonly time: number;
  readonly value: number;
  readonly breaks: boolean;
}

/**
 * Thins a series for drawing: time is cut into equal pieces, and of each the first, the lowest, the highest and
 * the last row stay. With a piece for each column of the picture the line drawn through them covers the same
 * dots as the line through all rows; no peak is lost. (M4: U. Jugel and others, “M4: a visualization-oriented time
 * series data aggregation”, PVLDB 7(10), 2014.)
 *
 * @param pieces at least 1.
 * @returns at most four rows for each piece, in order of time.
 */
export function thinned(
  { times, values }: Pick<Series, 'times' | 'values'>,
  pieces: number,
): readonly ThinnedRow[] {
  const count = times.length;
  if (count === 0) return [];
  const first = times[0] as number;
  const width = ((times[count - 1] as number) - first) / pieces || 1;
  const gap = GAP * usualStep(times);
  const kept: number[] = [];
  for (let start = 0; start < count; ) {
    const piece = Math.min(pieces - 1, Math.floor(((times[start] as number) - first) / width));
    let end = piece === pieces - 1 ? count : firstFrom(times, first + (piece + 1) * width, start);
    // Rounding must not let it stand still.
    end = Math.max(end, start + 1);
    kept.push(...cornersOf(values, start, end));
    start = end;
  }
  return kept.map((at) => ({
    time: times[at] as number,
    value: values[at] as number,
    breaks: at > 0 && (times[at] as number) - (times[at - 1] as number) > gap,
  }));
}

/** The first, the lowest, the highest and the last row of a stretch, each once, in order. */
function cornersOf(values: Float64Array, start: number, end: number): readonly number[] {
  let [low, high] = [start, start];
  for (let at = start; at < end; at += 1) {
    if ((values[at] as number) < (values[low] as number)) low = at;
    if ((values[at] as number) > (values[high] as number)) high = at;
  }
  return [...new Set([start, low, high, end - 1])].sort((a, b) => a - b);
}

/** The distance of two rows that half of them keep; a day where there is none. */
function usualStep(times: Float64Array): number {
  if (times.length < 2) return SECONDS_A_DAY;
  const steps = times
    .slice(1)
    .map((time, at) => time - (times[at] as number))
    .sort();
  return steps[steps.length >> 1] as number;
}
