import { printQuantity } from '../../quantity/index.js';
import * as m from '../messages.js';
import type { Entry, MeterReading } from '../model.js';
import type { Problem } from '../problem.js';

/** Meters count up. One that shows less than before was misread, replaced or has gone round, and has to say so. */
export function checkMeters(entries: readonly Entry[]): readonly Problem[] {
  const last = new Map<string, MeterReading>();
  const problems: Problem[] = [];
  for (const reading of entries.flatMap((entry) => entry.meters)) {
    const before = last.get(reading.meter);
    const restarts = reading.replaced || reading.wrapped;
    if (before !== undefined && !restarts && reading.reads.si < before.reads.si) {
      problems.push({
        ...m.meterBackwards(
          reading.meter,
          printQuantity(reading.reads),
          printQuantity(before.reads),
          before.date,
        ),
        at: { file: reading.place.file, path: [...reading.place.path, 'reads'] },
      });
    } else {
      last.set(reading.meter, reading);
    }
  }
  return problems;
}
