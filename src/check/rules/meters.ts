import { printQuantity, type Quantity } from '../../quantity/index.js';
import * as m from '../messages.js';
import type { Entry, MeterReading } from '../model.js';
import type { Problem, Said } from '../problem.js';

/** Meters count up. One that shows less than before was misread, replaced or has gone round, and has to say so. */
export function checkMeters(entries: readonly Entry[]): readonly Problem[] {
  const last = new Map<string, MeterReading>();
  const problems: Problem[] = [];
  for (const reading of entries.flatMap((entry) => entry.meters)) {
    const before = last.get(reading.meter);
    const restarts = reading.replaced || reading.wrapped;
    const said =
      before === undefined || restarts
        ? null
        : backwards(reading.meter, reading.reads, before.reads, before.date);
    if (said === null) last.set(reading.meter, reading);
    else problems.push({ ...said, at: { file: reading.place.file, path: [...reading.place.path, 'reads'] } });
  }
  return problems;
}

/** A meter that shows less than it did before; null for one that does not. */
export function backwards(meter: string, reads: Quantity, before: Quantity, on: string): Said | null {
  if (reads.si >= before.si) return null;
  return m.meterBackwards(meter, printQuantity(reads), printQuantity(before), on);
}
