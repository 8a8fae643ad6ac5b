import type { CheckedBook, Decision, Entry } from '../check/model.js';
import { readingsOf } from '../check/readings.js';
import { bookAsOf } from './as-of.js';
import { hoursRollup, moneyRollup } from './effort.js';
import { itemStates } from './items.js';
import type { DecisionState, PartState, Reckoning, SpecState } from './model.js';
import { partState } from './parts.js';
import { standingOf } from './standing.js';
import { testState } from './tests.js';
import { meterTimeline, timelineOf } from './timelines.js';

/**
 * Computes everything that the site and the exports show, as of a day. A pure function of the checked book
 * and the day: no clock, no file. Linear in the size of the book but for sorting.
 */
export function reckon(whole: CheckedBook, asOf: string): Reckoning {
  const book = bookAsOf(whole, asOf);
  const { entries } = book;
  const systems = [...book.systems.values()];
  const points = new Map(
    systems.flatMap((system) => [...system.points.values()].map((point) => [point.ref, point] as const)),
  );
  const readings = entries.flatMap((entry) => readingsOf(entry, points));

  const readingsBy = group(readings, (reading) => reading.point);
  const statementsBy = group(
    entries.flatMap((entry) => entry.statements),
    (statement) => statement.spec,
  );
  const allSpecs = systems.flatMap((system) => [...system.specs.values()]);
  const specs = new Map(
    allSpecs.map((spec): [string, SpecState] => [
      spec.ref,
      standingOf(spec, readingsBy.get(spec.point ?? '') ?? [], statementsBy.get(spec.ref) ?? [], asOf),
    ]),
  );

  const runsBy = group(
    entries.flatMap((entry) => entry.tests),
    (run) => run.test,
  );
  const specsBy = group(allSpecs, (spec) => spec.point);
  const metersBy = group(
    entries.flatMap((entry) => entry.meters),
    (reading) => reading.meter,
  );
  const parts = new Map(
    [
      ...group(
        entries.flatMap((entry) => entry.parts),
        (move) => move.part,
      ),
    ].map(([id, moves]): [string, PartState] => [id, partState(id, moves, asOf)]),
  );
  const decided = new Map(
    entries.flatMap((entry) => entry.decisions).map((decision) => [decision.id, decision] as const),
  );

  return {
    asOf,
    book,
    entries: new Map(entries.map((entry): [string, Entry] => [entry.id, entry])),
    readings,
    specs,
    tests: new Map(
      systems
        .flatMap((system) => [...system.tests.values()])
        .map((test) => [test.ref, testState(test, runsBy.get(test.ref) ?? [])]),
    ),
    timelines: new Map(
      [...points.values()].map((point) => [
        point.ref,
        timelineOf(point, readingsBy.get(point.ref) ?? [], specsBy.get(point.ref) ?? []),
      ]),
    ),
    meters: new Map(
      systems
        .flatMap((system) => [...system.meters.values()])
        .map((meter) => [meter.ref, meterTimeline(meter, metersBy.get(meter.ref) ?? [])]),
    ),
    parts,
    items: itemStates(entries, parts, decided, asOf),
    decisions: decisionStates(decided, specs),
    hours: hoursRollup(entries),
    money: moneyRollup(entries),
  };
}

function decisionStates(
  decided: ReadonlyMap<string, Decision>,
  specs: ReadonlyMap<string, SpecState>,
): ReadonlyMap<string, DecisionState> {
  const undoneBy = new Map(
    [...decided.values()].flatMap((decision) =>
      decision.undoes === null ? [] : [[decision.undoes, decision.id] as const],
    ),
  );
  return new Map(
    [...decided].map(([id, decision]) => {
      const restsOn = decision.restsOn.map((ref) => ({ ref, standing: specs.get(ref)?.standing ?? null }));
      return [id, { decision, undoneBy: undoneBy.get(id) ?? null, restsOn }];
    }),
  );
}

/** Sorts things into lists by a key, keeping their order; things without a key are left out. */
function group<T>(
  things: readonly T[],
  keyOf: (thing: T) => string | null,
): ReadonlyMap<string, readonly T[]> {
  const groups = new Map<string, T[]>();
  for (const thing of things) {
    const key = keyOf(thing);
    if (key === null) continue;
    const list = groups.get(key);
    if (list === undefined) groups.set(key, [thing]);
    else list.push(thing);
  }
  return groups;
}
