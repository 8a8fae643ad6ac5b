import type { Band, Claim, Meter, MeterReading, Point, Reading, Spec } from '../check/model.js';
import { judge } from '../quantity/index.js';
import type { LimitState, MeterTimeline, Timeline, TimelinePoint } from './model.js';

/**
 * What a point has read over time, each value held against the point's limits by interval.
 *
 * @param readings readings of this point, oldest first.
 */
export function timelineOf(point: Point, readings: readonly Reading[], specs: readonly Spec[]): Timeline {
  const points = readings.map(
    (reading): TimelinePoint => ({
      reading,
      limit: limitState(point, reading),
      comparable: isComparable(point, reading),
    }),
  );
  return { point, readings: points, last: points.at(-1) ?? null, specs: specs.map((spec) => spec.ref) };
}

/** Where a reading lies against the limits of its point. */
export function limitState(point: Point, reading: Reading): LimitState {
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
