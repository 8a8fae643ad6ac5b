import type { Point } from '../../check/model.js';
import { inUnit, printQuantity, type Quantity, spreadIn } from '../../quantity/index.js';
import type { LimitState, SpecState, Standing, Timeline } from '../../reckon/model.js';
import type { Trend } from '../../reckon/trend-model.js';
import type { Site } from '../site-context.js';
import { showClaim, showReading } from '../values.js';
import { count, datesInWords, dayWords } from '../words.js';
import { type TrendLine, trendLine } from './trend-line.js';

/** A point over time, as numbers in its own unit. The template draws it. */
export interface TimelineChart {
  readonly title: string;
  readonly unit: string;
  readonly marks: readonly {
    readonly date: string;
    readonly value: number;
    /** Half-width, or null where it is not known. */
    readonly spread: number | null;
    readonly limit: LimitState;
    readonly comparable: boolean;
    /** The value as it was read, where a correction makes another of it. */
    readonly asRead: number | null;
    /** Not what the readings before it led to expect. */
    readonly flagged: boolean;
  }[];
  readonly trend: TrendLine | null;
  readonly limits: readonly {
    readonly side: 'at least' | 'at most';
    readonly value: number;
    readonly words: string;
  }[];
  /** What is stated about it. */
  readonly claims: readonly { readonly value: number; readonly words: string; readonly standing: Standing }[];
  /** All of it in words. */
  readonly alternative: string;
}

/** The chart of a point, or null for fewer than two readings, which no line can join. */
export function timelineChart(site: Site, timeline: Timeline, trend: Trend | null): TimelineChart | null {
  const { point, readings } = timeline;
  if (readings.length < 2) return null;
  const used = new Map(trend?.used.map((reading) => [reading.point, reading]));
  const { kind, unit } = point;
  const limits = limitLines(site, point);
  return {
    title: point.title,
    unit,
    marks: readings.map((taken) => {
      const { reading, limit, comparable } = taken;
      const found = used.get(taken);
      const si = found?.si ?? reading.quantity.si;
      const read = inUnit(reading.quantity.si, kind, unit);
      return {
        date: reading.date,
        value: inUnit(si, kind, unit),
        spread: reading.uncertainty.si === null ? null : spreadIn(reading.uncertainty.si, kind, unit),
        limit,
        comparable,
        asRead: si === reading.quantity.si ? null : read,
        flagged: found?.flagged ?? false,
      };
    }),
    trend: trend === null ? null : trendLine(point, trend),
    limits,
    claims: timeline.specs.flatMap((ref) => claimLine(site, site.reckoning.specs.get(ref), timeline)),
    alternative: [
      inWords(
        site,
        timeline,
        limits.map(({ words }) => words),
      ),
      trend === null ? '' : datesInWords(trend.sentence),
    ]
      .join(' ')
      .trim(),
  };
}

/** The limits of a point, as lines of a chart in the point's unit. */
export function limitLines(site: Site, { kind, unit, atLeast, atMost }: Point): TimelineChart['limits'] {
  const line = (side: 'at least' | 'at most', limit: Quantity | null) =>
    limit === null
      ? []
      : [
          {
            side,
            value: inUnit(limit.si, kind, unit),
            words: `${side} ${printQuantity(limit, site.display)}`,
          },
        ];
  return [...line('at least', atLeast), ...line('at most', atMost)];
}

function claimLine(site: Site, state: SpecState | undefined, timeline: Timeline): TimelineChart['claims'] {
  if (state === undefined || state.spec.claim.type !== 'quantity') return [];
  const { kind, unit } = timeline.point;
  const value = inUnit(state.spec.claim.quantity.si, kind, unit);
  return [{ value, words: `stated ${showClaim(state.spec.claim, site.display)}`, standing: state.standing }];
}

function inWords(site: Site, { point, readings }: Timeline, limits: readonly string[]): string {
  const told = [readings[0], readings.at(-1)].map((end) =>
    end === undefined
      ? ''
      : `${showReading(end.reading.quantity, end.reading.uncertainty, site.display).text} on ${dayWords(end.reading.date)}`,
  );
  const outside = readings.filter(({ limit }) => limit === 'outside').length;
  const undecided = readings.filter(({ limit }) => limit === 'undecided').length;
  return [
    `${point.title}, ${count(readings.length, 'reading')}: ${told[0]}, last ${told[1]}.`,
    limits.length === 0 ? 'No limit is set.' : `Limit: ${limits.join(', ')}.`,
    outside > 0 ? `${outside} out of limits.` : '',
    undecided > 0 ? `${undecided} undecided.` : '',
  ]
    .filter((sentence) => sentence !== '')
    .join(' ');
}
