import type { Meter, MeterReading, System, Upkeep } from '../check/model.js';
import { hoursOn, runningHours } from './running-hours.js';
import { type UpkeepFacts, type UpkeepState, upkeepState } from './upkeep.js';

/** What the upkeep of all systems is reckoned from. */
export interface AllUpkeepFacts {
  readonly meters: readonly Meter[];
  /** Readings of each meter, oldest first. */
  readonly metersBy: ReadonlyMap<string, readonly MeterReading[]>;
  /** When each piece of upkeep was done, oldest first. */
  readonly doneBy: ReadonlyMap<string, UpkeepFacts['done']>;
  /** Day of the first entry of each system. */
  readonly firstEntryBy: ReadonlyMap<string, string>;
}

/** The upkeep of all systems, as of a day after which nothing is among the facts; or only that which counts. */
export function upkeepStates(
  systems: ReadonlyMap<string, System>,
  facts: AllUpkeepFacts,
  asOf: string,
  counts: (upkeep: Upkeep) => boolean = () => true,
): ReadonlyMap<string, UpkeepState> {
  const meters = new Map(facts.meters.map((meter) => [meter.ref, meter]));
  const runs = new Map(
    facts.meters.map(
      (meter) => [meter.ref, runningHours(meter, facts.metersBy.get(meter.ref) ?? [])] as const,
    ),
  );
  const states = new Map<string, UpkeepState>();
  for (const system of systems.values()) {
    for (const upkeep of system.upkeep.values()) {
      if (!counts(upkeep)) continue;
      const run = upkeep.meter === null ? null : (runs.get(upkeep.meter) ?? null);
      const shown = facts.metersBy.get(upkeep.meter ?? '')?.at(-1);
      const offset =
        run === null || shown === undefined ? 0 : shown.reads.si / 3600 - (hoursOn(run, shown.date) ?? 0);
      const wraps = meters.get(upkeep.meter ?? '')?.wrapsAt ?? null;
      const wrapsAt = wraps === null ? null : wraps.si / 3600;
      const done = facts.doneBy.get(upkeep.ref) ?? [];
      states.set(
        upkeep.ref,
        upkeepState(
          upkeep,
          { system, done, run, offset, wrapsAt, firstEntry: facts.firstEntryBy.get(system.id) ?? null },
          asOf,
        ),
      );
    }
  }
  return states;
}
