import { fromSi, printQuantity } from '../../quantity/index.js';
import * as m from '../messages.js';
import type { Entry, Point, Reading } from '../model.js';
import type { Problem } from '../problem.js';
import { readingsOf } from '../readings.js';

/** Readings that cannot be true, that contradict themselves, or that are most likely a slip. */
export function checkReadings(
  entries: readonly Entry[],
  points: ReadonlyMap<string, Point>,
): readonly Problem[] {
  const before = new Map<string, number[]>();
  const problems: Problem[] = [];
  for (const entry of entries) {
    problems.push(...checkClashes(entry));
    for (const reading of readingsOf(entry, points)) {
      const point = reading.point === null ? undefined : points.get(reading.point);
      if (point === undefined) continue;
      const implausible = checkPlausible(reading, point);
      if (implausible !== null) {
        problems.push(implausible);
        continue;
      }
      const earlier = before.get(point.ref) ?? [];
      const far = checkFarOff(reading, point, earlier);
      if (far !== null) problems.push(far);
      before.set(point.ref, [...earlier.slice(-MEMORY), reading.quantity.si]);
    }
  }
  return problems;
}

function checkPlausible(reading: Reading, point: Point): Problem | null {
  if (point.plausible === null) return null;
  const { low, high } = point.plausible;
  if (reading.quantity.si >= low.si && reading.quantity.si <= high.si) return null;
  return {
    ...m.readingImplausible(reading.quantity.written, point.ref, `${low.written} to ${high.written}`),
    at: reading.place,
  };
}

const MEMORY = 30;
const ENOUGH = 4;
/** How many robust deviations away a reading is told to be absurd: far more than wear or weather explain. */
const ABSURD = 12;

/**
 * Held against the median of the readings before it and the median distance from that (MAD; scaled by 1.4826
 * it estimates the standard deviation of normal scatter: Rousseeuw and Croux 1993, from memory). A scatter
 * smaller than 2 % of the value counts as 2 %, or every change after a quiet time would be told of.
 */
function checkFarOff(reading: Reading, point: Point, earlier: readonly number[]): Problem | null {
  if (earlier.length < ENOUGH || reading.note !== null) return null;
  const middle = median(earlier);
  const scatter = Math.max(
    1.4826 * median(earlier.map((value) => Math.abs(value - middle))),
    0.02 * Math.abs(middle),
  );
  if (scatter === 0 || Math.abs(reading.quantity.si - middle) <= ABSURD * scatter) return null;
  const range = [Math.min(...earlier), Math.max(...earlier)].map((si) =>
    printQuantity({
      ...fromSi(point.kind, { si, siUncertainty: null }, point.unit),
      resolution: reading.quantity.resolution,
    }),
  );
  return { ...m.farOff(point.ref, reading.quantity.written, range.join(' to ')), at: reading.place };
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const high = sorted[middle] ?? 0;
  return sorted.length % 2 === 1 ? high : ((sorted[middle - 1] ?? 0) + high) / 2;
}

/** One entry that gives a point two values under the same conditions. */
function checkClashes(entry: Entry): Problem[] {
  const seen = new Map<string, Reading>();
  const problems: Problem[] = [];
  for (const reading of entry.readings) {
    if (reading.point === null) continue;
    const key = `${reading.point} ${JSON.stringify(reading.under)} ${reading.note ?? ''}`;
    const first = seen.get(key);
    if (first === undefined) seen.set(key, reading);
    else if (first.quantity.si !== reading.quantity.si) {
      problems.push({
        ...m.clashOfReadings(reading.point, first.quantity.written, reading.quantity.written),
        at: reading.place,
      });
    }
  }
  return problems;
}
