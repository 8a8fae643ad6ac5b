import type { Band, Claim, Meter, MeterReading, Point, Reading, Spec } from '../check/model.js';
import { judge, type Quantity } from '../quantity/index.js';
import type { LimitState, MeterTimeline, Timeline, TimelinePoint } from './model.js';
import { countUntil } from './until.js';

/**
 * What a point has read over time, each value held against the point's limits by interval. Readings of what was
 * there before (`since`) or is there no longer (`until`) are neither held against limits nor compared.
 *
 * @param readings readings of this point, oldest first.
 * @param asOf the day whose state is wanted, `YYYY-MM-DD`.
 */
export function timelineOf(
  point: Point,
  readings: readonly Reading[],
  specs: readonly Spec[],
  asOf: string,
): Timeline {
  const points = heldOn(point, readings, asOf);
  return {
    point,
    readings: points,
    last: lastOn(point, points, asOf),
    gone: isGone(point, asOf),
    specs: specs.map((spec) => spec.ref),
  };
}

/** Each reading held against the limits, as far as it is of what is there on a day. */
function heldOn(point: Point, readings: readonly Reading[], day: string): readonly TimelinePoint[] {
  return readings.map((reading): TimelinePoint => {
    const limit = limitState(point, reading, day);
    return { reading, limit, comparable: limit !== 'former' && isComparable(point, reading) };
  });
}

const dayOf = ({ reading }: TimelinePoint) => reading.date;

/** A timeline as it was at the end of an earlier day. */
export function timelineOn(timeline: Timeline, day: string): Timeline {
  const { point } = timeline;
  const past = timeline.readings.slice(0, countUntil(timeline.readings, dayOf, day));
  // What is held against nothing today was held against the limits before it was exchanged.
  const readings =
    point.since === null
      ? past
      : heldOn(
          point,
          past.map(({ reading }) => reading),
          day,
        );
  return { ...timeline, readings, last: lastOn(point, readings, day), gone: isGone(point, day) };
}

/** The last reading of what was there at the end of an earlier day; null where there is none. */
export function lastReadingOn(timeline: Timeline, day: string): TimelinePoint | null {
  const { point, readings } = timeline;
  if (point.since !== null || point.until !== null) return timelineOn(timeline, day).last;
  return readings[countUntil(readings, dayOf, day) - 1] ?? null;
}

/** The last reading of what is at a point at the end of a day; null where there is none of it, or nothing is there. */
function lastOn(point: Point, readings: readonly TimelinePoint[], day: string): TimelinePoint | null {
  const last = readings.at(-1);
  if (last === undefined || isGone(point, day)) return null;
  return isOfPoint(point, last.reading.date, day) ? last : null;
}

function isGone({ until }: Point, day: string): boolean {
  return until !== null && until < day;
}

/** Whether a reading is of what the point is measured on, as known on a day: a later exchange has not happened yet. */
function isOfPoint({ since, until }: Point, date: string, day: string): boolean {
  return (since === null || since > day || date >= since) && (until === null || date <= until);
}

/**
 * Where a reading lies against the limits of its point; `former` where it is of what was there before, which the
 * limits are not about.
 *
 * @param day the day as of which it is asked, `YYYY-MM-DD`.
 */
export function limitState(point: Point, reading: Reading, day: string): LimitState {
  if (!isOfPoint(point, reading.date, day)) return 'former';
  return limitOf(point, { si: reading.quantity.si, siUncertainty: reading.uncertainty.si });
}

/** Where a value, in SI, lies against the limits of a point. */
export function limitOf(
  point: Point,
  value: { readonly si: number; readonly siUncertainty: number | null },
): LimitState {
  if (point.atLeast === null && point.atMost === null) return 'no-limit';
  const band: Band = {
    low: point.atLeast?.si ?? null,
    high: point.atMost?.si ?? null,
    lowOpen: false,
    highOpen: false,
  };
  const judged = judge(value, band);
  return judged === 'conforms' ? 'inside' : judged === 'fails' ? 'outside' : 'undecided';
}

/** The limits of a point in words, each by itself: `at least 12.4 V`. */
export function limitsTold(
  { atLeast, atMost }: Pick<Point, 'atLeast' | 'atMost'>,
  print: (limit: Quantity) => string,
): readonly string[] {
  return [
    ...(atLeast === null ? [] : [`at least ${print(atLeast)}`]),
    ...(atMost === null ? [] : [`at most ${print(atMost)}`]),
  ];
}

/** Whether a reading was taken under all the conditions at which the point is compared. One not noted counts as not met. */
export function isComparable(point: Point, reading: Reading): boolean {
  return point.compareAt.every(({ condition, value, within }) => {
    const noted: Claim | undefined = reading.under.find((one) => one.name === condition)?.value;
    return (
      noted?.type === 'quantity' &&
      noted.quantity.kind === value.kind &&
      Math.abs(noted.quantity.si - value.si) <= within
    );
  });
}

/** What a meter has shown over time, oldest first. */
export function meterTimeline(meter: Meter, readings: readonly MeterReading[]): MeterTimeline {
  return { meter: meter.ref, title: meter.title, unit: meter.unit, readings };
}
