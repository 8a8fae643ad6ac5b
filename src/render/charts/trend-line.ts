import type { Point } from '../../check/model.js';
import { inUnit } from '../../quantity/index.js';
import { addDays, daysBetween } from '../../reckon/calendar.js';
import type { Trend } from '../../reckon/trend-model.js';

/** The line of a trend with its band, and where it reaches a limit, in the point's own unit. */
export interface TrendLine {
  readonly today: string;
  readonly rows: readonly {
    readonly date: string;
    readonly value: number;
    /** Where one more reading would lie, 95 of 100 times. */
    readonly low: number;
    readonly high: number;
  }[];
  /** Stretches of time in which a limit is reached, cut where the drawing ends. */
  readonly crossings: readonly { readonly value: number; readonly from: string; readonly to: string }[];
}

/** A forecast is drawn no farther than twice as long as there are readings: what was read stays in sight. */
const FARTHEST = 2;

/** The line to draw; null where no trend is claimed. */
export function trendLine({ kind, unit }: Point, trend: Trend): TrendLine | null {
  const [first, last] = [trend.used[0], trend.used.at(-1)];
  if (trend.status !== 'trend' || first === undefined || last === undefined) return null;
  const history = daysBetween(first.point.reading.date, last.point.reading.date);
  const end = addDays(last.point.reading.date, FARTHEST * history);
  const rows = trend.band
    .filter(({ date }) => date <= end)
    .map(({ date, trend: line, low, high }) => ({
      date,
      value: inUnit(line, kind, unit),
      low: inUnit(low, kind, unit),
      high: inUnit(high, kind, unit),
    }));
  const drawnTo = rows.at(-1)?.date ?? end;
  return {
    today: trend.asOf,
    rows,
    crossings: trend.crossings.flatMap(({ status, limit, from, to }) => {
      if (status !== 'crosses' || from === null || from > drawnTo) return [];
      return [{ value: inUnit(limit.si, kind, unit), from, to: to === null || to > drawnTo ? drawnTo : to }];
    }),
  };
}
