import type { Point } from '../check/model.js';
import { differenceKind, fromSi, siResolution } from '../quantity/index.js';
import { dayNumber, dayOfNumber } from './calendar.js';
import { type Correction, correctedSi, correctionOf } from './corrections.js';
import type { Timeline, TimelinePoint } from './model.js';
import { confidence, leastSquares, linesBefore, predict } from './statistics/least-squares.js';
import { type MannKendall, mannKendall } from './statistics/mann-kendall.js';
import { mean, meansOfRuns, type Series } from './statistics/series.js';
import { type TheilSen, theilSen } from './statistics/theil-sen.js';
import { crossingsOf, type Lines } from './trend-crossing.js';
import type {
  BandRow,
  Crossing,
  Direction,
  LeftOut,
  Rate,
  Trend,
  TrendReading,
  TrendTest,
} from './trend-model.js';
import { FEWEST_DAYS, sentenceOf } from './trend-words.js';

/**
 * The trend of a point: whether it drifts, how fast, and when it reaches a limit.
 *
 * Conventions:
 * - Only like is compared with like: readings that the timeline says are comparable, corrected as the point
 *   declares (`corrections.ts`), up to and with the as-of day.
 * - Readings of one day are one session, and count as one: their mean. Fewer than four such days: no trend.
 * - All readings weigh the same, whatever their uncertainty.
 * - x is days since 1970-01-01; a month is 365.25/12 days.
 * - There is a trend where the Mann–Kendall test gives p ≤ 5 %: one-sided where the point says which way it is
 *   expected to go, since that was said beforehand; two-sided otherwise, and for a trend against what is expected.
 * - Its slope is Theil and Sen's. More than 300 days are first averaged in runs of equal numbers of days, as few
 *   to a run as bring them to 300 at most.
 * - The band is that of ordinary least squares over all days.
 * - A reading is flagged where it lies outside the 95 % prediction interval of the days before it, by more than
 *   its own uncertainty and its last digit. By chance alone that is one sound reading in twenty.
 * - Insulation resistance is reckoned on a logarithmic scale, since it falls by shares and not by amounts; a
 *   series with a value of nought is not.
 */

/** Most days of which all pairs are looked at. */
const MOST_DAYS = 300;

const ALPHA = 0.05;
const DAYS_A_MONTH = 365.25 / 12;
const BAND_ROWS = 25;
const ROUNDING = 1e-9;

interface Scale {
  readonly name: Trend['scale'];
  readonly to: (si: number) => number;
  readonly from: (value: number) => number;
}

const LINEAR: Scale = { name: 'linear', to: (si) => si, from: (value) => value };
const LOG: Scale = { name: 'log', to: Math.log, from: Math.exp };

/** A reading that can be compared, with how far off it may be by its own uncertainty and last digit. */
interface Kept {
  readonly point: TimelinePoint;
  readonly si: number;
  readonly slack: number;
}

/** The part of a trend that takes long; plain data. Null where no line can be laid. */
export type Fit = Fitted | null;

/** Fits that were made before. `origins` is all that a fit follows from, as text: the same origins, the same fit. */
export interface FitMemory {
  readonly recall: (ref: string, origins: string) => Fit | undefined;
  readonly keep: (ref: string, origins: string, fit: Fit) => void;
}

/**
 * @param asOf the day, `YYYY-MM-DD`; later readings are not looked at.
 * @param memory spares making fits anew.
 */
export function trendOf({ point, readings }: Timeline, asOf: string, memory?: FitMemory): Trend {
  const correction = correctionOf(point);
  const { kept, leftOut } = sortOut(readings, correction, asOf);
  const scale = correction?.kind === 'resistance' && kept.every(({ si }) => si > 0) ? LOG : LINEAR;
  const series = daily(kept, scale);
  const days = series.x.length;
  const shared = { asOf, scale: scale.name, used: foretell(kept, series, scale), leftOut, days };
  const made = days < FEWEST_DAYS ? null : fitOf(point, series, scale, asOf, memory);
  const trend = { ...shared, ...(made ?? NOTHING) };
  return { ...trend, sentence: sentenceOf(point, trend) };
}

type Fitted = Pick<Trend, 'status' | 'direction' | 'rate' | 'test' | 'band' | 'crossings'>;

const NOTHING: Fitted = {
  status: 'too-few',
  direction: null,
  rate: null,
  test: null,
  band: [],
  crossings: [],
};

/** Sorts the readings up to a day into those that can be compared and those that cannot. */
function sortOut(
  readings: readonly TimelinePoint[],
  correction: Correction | null,
  asOf: string,
): { readonly kept: readonly Kept[]; readonly leftOut: readonly LeftOut[] } {
  const kept: Kept[] = [];
  const leftOut: LeftOut[] = [];
  for (const point of readings) {
    if (point.reading.date > asOf) continue;
    const si = correctedSi(point.reading, correction);
    if (!point.comparable) leftOut.push({ point, because: 'conditions' });
    else if (si === null) leftOut.push({ point, because: 'no-temperature' });
    else kept.push({ point, si, slack: slackOf(point, si) });
  }
  return { kept, leftOut };
}

/** A correction by a factor moves the uncertainty by the same factor. The machine rounds too. */
function slackOf({ reading }: TimelinePoint, si: number): number {
  const { quantity, uncertainty } = reading;
  const factor = quantity.kind === 'resistance' && quantity.si !== 0 ? si / quantity.si : 1;
  return factor * Math.max(uncertainty.si ?? 0, siResolution(quantity)) + ROUNDING * Math.abs(si);
}

/** One pair for each day with readings: the day's number and the mean of its values. */
function daily(kept: readonly Kept[], scale: Scale): Series {
  const byDay = new Map<number, number[]>();
  for (const { point, si } of kept) {
    const day = dayNumber(point.reading.date);
    const values = byDay.get(day);
    if (values === undefined) byDay.set(day, [scale.to(si)]);
    else values.push(scale.to(si));
  }
  const days = [...byDay].sort(([a], [b]) => a - b);
  return { x: days.map(([day]) => day), y: days.map(([, values]) => mean(values)) };
}

/** Holds each reading against what the days before it led to expect. */
function foretell(kept: readonly Kept[], series: Series, scale: Scale): readonly TrendReading[] {
  const before = linesBefore(series, FEWEST_DAYS);
  const lines = new Map(series.x.map((day, i) => [day, before[i] ?? null]));
  return kept.map(({ point, si, slack }) => {
    const day = dayNumber(point.reading.date);
    const line = lines.get(day) ?? null;
    if (line === null) return { point, si, foretold: null, flagged: false };
    const { low, high } = predict(line, day);
    const foretold = { low: scale.from(low), high: scale.from(high) };
    return { point, si, foretold, flagged: si < foretold.low - slack || si > foretold.high + slack };
  });
}

function fitOf(point: Point, series: Series, scale: Scale, asOf: string, memory: FitMemory | undefined): Fit {
  if (memory === undefined) return fitted(point, series, scale, asOf);
  const origins = JSON.stringify([point, series, scale.name, asOf]);
  const known = memory.recall(point.ref, origins);
  if (known !== undefined) return known;
  const made = fitted(point, series, scale, asOf);
  memory.keep(point.ref, origins, made);
  return made;
}

function fitted(point: Point, series: Series, scale: Scale, asOf: string): Fit {
  const run = Math.ceil(series.x.length / MOST_DAYS);
  const thinned = run === 1 ? series : meansOfRuns(series, run);
  const kendall = mannKendall(thinned);
  const middle = theilSen(thinned, kendall);
  const line = leastSquares(series);
  if (middle === null || line === null) return null;
  const { direction, test } = verdictOf(kendall, point.expect);
  const firstDay = series.x[0] as number;
  const lines: Lines = { middle, line, firstDay, toScale: scale.to };
  const crossings = direction === null ? [] : crossingsOf(point, lines, asOf);
  return {
    status: direction === null ? 'no-trend' : 'trend',
    direction,
    rate: rateOf(point, middle, scale),
    test,
    band: bandOf(lines, scale, lastDay(series, crossings, asOf)),
    crossings,
  };
}

function verdictOf(
  kendall: MannKendall,
  expect: Point['expect'],
): { readonly direction: Direction | null; readonly test: TrendTest } {
  const { s, tau, method, twoSided } = kendall;
  const way = expect === 'rising' || expect === 'falling' ? expect : null;
  const expected = way === null ? null : { s, tau, method, p: kendall[way], sided: way };
  if (expected !== null && expected.p <= ALPHA) return { direction: expected.sided, test: expected };
  const test: TrendTest = { s, tau, method, p: twoSided, sided: 'two-sided' };
  if (twoSided <= ALPHA) return { direction: s > 0 ? 'rising' : 'falling', test };
  return { direction: null, test: expected ?? test };
}

function rateOf(point: Point, { slope, low, high }: TheilSen, scale: Scale): Rate {
  const perMonth = (slopeADay: number) => {
    const change = slopeADay * DAYS_A_MONTH;
    if (scale.name === 'log') return fromSi('ratio', { si: Math.expm1(change), siUncertainty: null }, '%');
    return fromSi(differenceKind(point.kind), { si: change, siUncertainty: null }, point.unit);
  };
  return {
    perMonth: perMonth(slope),
    low: low === null ? null : perMonth(low),
    high: high === null ? null : perMonth(high),
  };
}

/** The last day that is drawn: the as-of day, or as far on as a crossing is spoken of. */
function lastDay({ x }: Series, crossings: readonly Crossing[], asOf: string): number {
  const spokenOf = crossings.map(({ from, central, to }) => to ?? central ?? from ?? asOf);
  return Math.max(x.at(-1) ?? 0, dayNumber(asOf), ...spokenOf.map(dayNumber));
}

function bandOf({ middle, line, firstDay }: Lines, scale: Scale, end: number): readonly BandRow[] {
  return Array.from({ length: BAND_ROWS }, (_, row) => {
    const day = Math.round(firstDay + ((end - firstDay) * row) / (BAND_ROWS - 1));
    const [one, own] = [predict(line, day), confidence(line, day)];
    return {
      date: dayOfNumber(day),
      trend: scale.from(middle.intercept + middle.slope * day),
      fit: scale.from(one.fit),
      low: scale.from(one.low),
      high: scale.from(one.high),
      lineLow: scale.from(own.low),
      lineHigh: scale.from(own.high),
    };
  });
}
