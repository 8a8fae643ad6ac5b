import type { Meter, MeterReading } from '../check/model.js';
import { daysBetween } from './calendar.js';
import { weightedQuantile } from './quantile.js';

/**
 * Running hours from a meter: what it would show had it never been replaced and never gone round. Hours that
 * ran between the last reading of an old meter and the first of a new one are on no record and not counted.
 */
export interface RunningHours {
  /** Hours run since the first reading, oldest first. */
  readonly points: readonly { readonly date: string; readonly hours: number; readonly entry: string }[];
  /** How fast it counts when in use; null where fewer than two readings tell. */
  readonly rate: UseRate | null;
}

/** Hours a day while in use. */
export interface UseRate {
  readonly usual: number;
  readonly slow: number;
  readonly fast: number;
  /** Days of use behind it, and since when. */
  readonly days: number;
  readonly since: string;
}

/** @param readings of this meter, oldest first. */
export function runningHours(meter: Meter, readings: readonly MeterReading[]): RunningHours {
  const points: { date: string; hours: number; entry: string }[] = [];
  let total = 0;
  let before: MeterReading | null = null;
  for (const reading of readings) {
    total += before === null ? 0 : ranSince(before, reading, meter);
    points.push({ date: reading.date, hours: total, entry: reading.entry });
    before = reading;
  }
  return { points, rate: useRate(points) };
}

function ranSince(before: MeterReading, now: MeterReading, meter: Meter): number {
  if (now.replaced) return 0;
  const round = now.wrapped ? (meter.wrapsAt?.si ?? 0) : 0;
  return Math.max(0, now.reads.si + round - before.reads.si) / 3600;
}

/**
 * Hours run by the end of a day: between readings along the straight line, before the first as the first,
 * after the last as the last.
 *
 * @returns null without any reading.
 */
export function hoursOn(run: RunningHours, date: string): number | null {
  const { points } = run;
  const after = points.findIndex((point) => point.date > date);
  const before = after === -1 ? points.at(-1) : points[after - 1];
  if (before === undefined) return points[0]?.hours ?? null;
  if (before.date === date || after === -1) return before.hours;
  const next = points[after] as (typeof points)[number];
  const share = daysBetween(before.date, date) / daysBetween(before.date, next.date);
  return before.hours + share * (next.hours - before.hours);
}

/** A stretch between two readings is idle when it ran less than this share of the usual rate… */
const IDLE_SHARE = 0.1;
/** …and idle stretches, one after the other, count as laid up when they come to more than this. A month without a trip is no winter. */
const LAID_UP_DAYS = 30;
/** Days of use that make "recent". */
const RECENT_DAYS = 180;

interface Stretch {
  readonly days: number;
  readonly rate: number;
  readonly from: string;
}

/**
 * The recent rate of use, as a range: newest stretches first until half a year of use is gathered. Stretches
 * laid up are left out, or every winter would halve the rate. `slow` and `fast` are the quartiles of the
 * stretches, weighted by their days.
 */
function useRate(points: RunningHours['points']): UseRate | null {
  const stretches = points.slice(1).flatMap((point, index): Stretch[] => {
    const before = points[index] as (typeof points)[number];
    const days = daysBetween(before.date, point.date);
    return days === 0 ? [] : [{ days, rate: (point.hours - before.hours) / days, from: before.date }];
  });
  const running = stretches.filter((stretch) => stretch.rate > 0);
  if (running.length === 0) return null;
  const middle = weightedQuantile(
    running.map(({ rate, days }) => [rate, days]),
    0.5,
  );
  return rateOf(recent(withoutLayUps(stretches, IDLE_SHARE * middle)));
}

/** However often the meter was looked at in a winter, it is one winter: idle stretches that meet are taken together. */
function withoutLayUps(stretches: readonly Stretch[], idleBelow: number): readonly Stretch[] {
  const kept: Stretch[] = [];
  let idle: Stretch[] = [];
  const endOfIdle = () => {
    if (idle.reduce((sum, { days }) => sum + days, 0) <= LAID_UP_DAYS) kept.push(...idle);
    idle = [];
  };
  for (const stretch of stretches) {
    if (stretch.rate < idleBelow) {
      idle.push(stretch);
    } else {
      endOfIdle();
      kept.push(stretch);
    }
  }
  endOfIdle();
  return kept;
}

function recent(stretches: readonly Stretch[]): readonly Stretch[] {
  const taken: Stretch[] = [];
  let days = 0;
  for (const stretch of [...stretches].reverse()) {
    if (days >= RECENT_DAYS) break;
    taken.push(stretch);
    days += stretch.days;
  }
  return taken;
}

function rateOf(stretches: readonly Stretch[]): UseRate | null {
  const days = stretches.reduce((sum, stretch) => sum + stretch.days, 0);
  const hours = stretches.reduce((sum, stretch) => sum + stretch.rate * stretch.days, 0);
  const since = stretches.at(-1)?.from;
  if (days === 0 || hours === 0 || since === undefined) return null;
  const rates = stretches.map(({ rate, days: of }) => [rate, of] as const);
  const usual = hours / days;
  return {
    usual,
    slow: Math.min(usual, weightedQuantile(rates, 0.25)),
    fast: Math.max(usual, weightedQuantile(rates, 0.75)),
    days,
    since,
  };
}
