import { fromSi, type Kind, printQuantity, type Quantity } from '../quantity/index.js';
import * as m from './messages.js';
import type { Said } from './problem.js';

/** Whether a value can be true of a point, told from the point alone: by the checker, and while it is typed. */

/** As much of a point as is needed. */
export interface PlausibleAt {
  readonly ref: string;
  readonly kind: Kind;
  readonly unit: string;
  readonly plausible: { readonly low: Bound; readonly high: Bound } | null;
}

interface Bound {
  readonly si: number;
  readonly written: string;
}

/** A value outside what its point declares plausible; null for all others. */
export function implausible(value: Quantity, point: PlausibleAt): Said | null {
  if (point.plausible === null) return null;
  const { low, high } = point.plausible;
  if (value.si >= low.si && value.si <= high.si) return null;
  return m.readingImplausible(value.written, point.ref, `${low.written} to ${high.written}`);
}

/** Kinds outside whose range there is nothing on a boat, or nothing at all, in SI. */
const POSSIBLE: Readonly<
  Partial<Record<Kind, { readonly low: number; readonly high: number; readonly range: string }>>
> = {
  'specific-gravity': { low: 0.5, high: 2.5, range: 'between 0.5 and 2.5' },
  temperature: { low: 0, high: Number.POSITIVE_INFINITY, range: 'never below -273.15 °C' },
};

/** A value that can be true of nothing; null for all others. */
export function impossible(value: Quantity): Said | null {
  const possible = POSSIBLE[value.kind];
  if (possible === undefined || (value.si >= possible.low && value.si <= possible.high)) return null;
  // Hydrometers show 1265 or 12.65 for 1.265.
  const shifted = [1000, 100, 10]
    .map((factor) => value.value / factor)
    .find((one) => one >= 0.9 && one <= 1.4 && value.kind === 'specific-gravity');
  const due = shifted === undefined ? null : `${Number(shifted.toPrecision(6))} ${value.unit}`;
  return m.impossible(value.written, value.kind.replaceAll('-', ' '), possible.range, due);
}

/** How many of a point's last values are remembered. */
const MEMORY = 31;

/** The last values of a point in SI: as they came, and sorted, so that their median is at hand. */
export interface Lately {
  readonly inOrder: number[];
  readonly bySize: number[];
}

/** Adds a value to the last ones of its point. */
export function remember({ inOrder, bySize }: Lately, value: number): void {
  inOrder.push(value);
  bySize.splice(placeOf(bySize, value), 0, value);
  if (inOrder.length > MEMORY) bySize.splice(placeOf(bySize, inOrder.shift() as number), 1);
}

/** The same values at once, sorted by size: the last ones of a list that have one. */
export function lastOf<T>(readings: readonly T[], siOf: (reading: T) => number | null): readonly number[] {
  const values: number[] = [];
  for (let at = readings.length - 1; at >= 0 && values.length < MEMORY; at -= 1) {
    const value = siOf(readings[at] as T);
    if (value !== null) values.push(value);
  }
  return values.sort((a, b) => a - b);
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
 * A value far off those before it; null for all others.
 *
 * Held against the median of the readings before it and the median distance from that (MAD; scaled by 1.4826
 * it estimates the standard deviation of normal scatter: Rousseeuw and Croux 1993, from memory). A scatter
 * smaller than 2 % of the value counts as 2 %, or every change after a quiet time would be told of.
 *
 * @param earlier the values before it in SI, sorted by size.
 */
export function farOff(value: Quantity, point: PlausibleAt, earlier: readonly number[]): Said | null {
  if (earlier.length < ENOUGH) return null;
  const middle = medianOf(earlier);
  const away = Math.abs(value.si - middle);
  const least = 0.02 * Math.abs(middle);
  // The scatter is never taken for less than this, so that near values need no second median.
  if (away <= ABSURD * least) return null;
  const distances = earlier.map((one) => Math.abs(one - middle)).sort((a, b) => a - b);
  const scatter = Math.max(1.4826 * medianOf(distances), least);
  if (scatter === 0 || away <= ABSURD * scatter) return null;
  const range = [earlier[0] as number, earlier.at(-1) as number].map((si) =>
    printQuantity({
      ...fromSi(point.kind, { si, siUncertainty: null }, point.unit),
      resolution: value.resolution,
    }),
  );
  return m.farOff(point.ref, value.written, range.join(' to '));
}

function medianOf(sorted: readonly number[]): number {
  const middle = sorted.length >> 1;
  const high = sorted[middle] ?? 0;
  return sorted.length % 2 === 1 ? high : ((sorted[middle - 1] ?? 0) + high) / 2;
}
