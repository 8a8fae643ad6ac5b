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
  const before = new Map<string, Lately>();
  const problems: Problem[] = [];
  for (const entry of entries) {
    const readings = readingsOf(entry, points);
    problems.push(...checkClashes(readings));
    for (const reading of readings) {
      const point = reading.point === null ? undefined : points.get(reading.point);
      if (point === undefined) continue;
      const implausible = checkPlausible(reading, point);
      if (implausible !== null) {
        problems.push(implausible);
        continue;
      }
      const lately = before.get(point.ref) ?? { inOrder: [], bySize: [] };
      before.set(point.ref, lately);
      const far = checkFarOff(reading, point, lately.bySize);
      if (far !== null) problems.push(far);
      remember(lately, reading.quantity.si);
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

/** How many of a point's last values are remembered. */
const MEMORY = 31;

/** The last values of a point: as they came, and sorted, so that their median is at hand. */
interface Lately {
  readonly inOrder: number[];
  readonly bySize: number[];
}

function remember({ inOrder, bySize }: Lately, value: number): void {
  inOrder.push(value);
  bySize.splice(placeOf(bySize, value), 0, value);
  if (inOrder.length > MEMORY) bySize.splice(placeOf(bySize, inOrder.shift() as number), 1);
}

/** Where a value is, or would be, in a sorted list. */
function placeOf(sorted: readonly number[], value: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sorted[middle] as number) < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

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
  const middle = medianOf(earlier);
  const away = Math.abs(reading.quantity.si - middle);
  const least = 0.02 * Math.abs(middle);
  // The scatter is never taken for less than this, so that near values need no second median.
  if (away <= ABSURD * least) return null;
  const distances = earlier.map((value) => Math.abs(value - middle)).sort((a, b) => a - b);
  const scatter = Math.max(1.4826 * medianOf(distances), least);
  if (scatter === 0 || away <= ABSURD * scatter) return null;
  const range = [earlier[0] as number, earlier.at(-1) as number].map((si) =>
    printQuantity({
      ...fromSi(point.kind, { si, siUncertainty: null }, point.unit),
      resolution: reading.quantity.resolution,
    }),
  );
  return { ...m.farOff(point.ref, reading.quantity.written, range.join(' to ')), at: reading.place };
}

function medianOf(sorted: readonly number[]): number {
  const middle = sorted.length >> 1;
  const high = sorted[middle] ?? 0;
  return sorted.length % 2 === 1 ? high : ((sorted[middle - 1] ?? 0) + high) / 2;
}

/** An entry that gives a point two values under the same conditions, in its measurements or its tests. */
function checkClashes(readings: readonly Reading[]): Problem[] {
  const seen = new Map<string, Reading[]>();
  const problems: Problem[] = [];
  for (const reading of readings) {
    if (reading.point === null) continue;
    const before = seen.get(reading.point);
    if (before === undefined) {
      seen.set(reading.point, [reading]);
      continue;
    }
    const first = before.find((other) => sameConditions(other, reading));
    if (first === undefined) before.push(reading);
    else if (first.quantity.si !== reading.quantity.si) {
      problems.push({
        ...m.clashOfReadings(reading.point, first.quantity.written, reading.quantity.written),
        at: reading.place,
      });
    }
  }
  return problems;
}

function sameConditions(a: Reading, b: Reading): boolean {
  return (a.note ?? '') === (b.note ?? '') && JSON.stringify(a.under) === JSON.stringify(b.under);
}
