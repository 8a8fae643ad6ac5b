import { isInline } from '../inline.js';
import * as m from '../messages.js';
import type { Entry, Point, Reading } from '../model.js';
import { farOff, implausible, type Lately, remember } from '../plausible.js';
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
      if (point.until !== null && reading.date > point.until)
        problems.push({ ...m.readingAfterUntil(point.ref, point.until, reading.date), at: reading.place });
      const untrue = implausible(reading.quantity, point);
      if (untrue !== null) {
        problems.push({ ...untrue, at: reading.place });
        continue;
      }
      const lately = before.get(point.ref) ?? { inOrder: [], bySize: [] };
      before.set(point.ref, lately);
      const far = reading.note === null ? farOff(reading.quantity, point, lately.bySize) : null;
      if (far !== null) problems.push({ ...far, at: reading.place });
      remember(lately, reading.quantity.si);
    }
  }
  return problems;
}

/** An entry that gives a point two values under the same conditions, in its measurements or its tests. */
function checkClashes(readings: readonly Reading[]): Problem[] {
  const seen = new Map<string, Reading[]>();
  const problems: Problem[] = [];
  for (const reading of readings) {
    const name = reading.point ?? `what ${reading.what}`;
    const before = seen.get(name);
    if (before === undefined) {
      seen.set(name, [reading]);
      continue;
    }
    const twin = before.find((other) => isTwin(other, reading));
    if (twin !== undefined) {
      problems.push({ ...m.readingTwice(reading.point, twin.quantity.written), at: reading.place });
      continue;
    }
    // Two things named in the same plain words may well be two.
    if (reading.point === null) {
      before.push(reading);
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

/** The same reading given a second time, one of the two in the prose. */
function isTwin(a: Reading, b: Reading): boolean {
  return (
    (isInline(a) || isInline(b)) &&
    a.quantity.si === b.quantity.si &&
    JSON.stringify(a.under) === JSON.stringify(b.under)
  );
}

function sameConditions(a: Reading, b: Reading): boolean {
  return (a.note ?? '') === (b.note ?? '') && JSON.stringify(a.under) === JSON.stringify(b.under);
}
