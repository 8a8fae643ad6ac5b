import type {
  CheckedBook,
  Decision,
  Entry,
  Meter,
  MeterReading,
  Point,
  Spec,
  Statement,
} from '../check/model.js';
import { readingsOf } from '../check/readings.js';
import type { Quantity } from '../quantity/index.js';
import { bookAsOf } from './as-of.js';
import { hoursRollup, moneyRollup } from './effort.js';
import { exposures } from './exposure.js';
import { findings } from './findings.js';
import { holdingOf, specStateOn } from './holds.js';
import { itemStates } from './items.js';
import type { DecisionState, PartState, Reckoning, SpecState, Timeline } from './model.js';
import { partState } from './parts.js';
import { planEdges } from './plan-edges.js';
import { reckonPower } from './power/power.js';
import { type ReckonMemory, recalled } from './reckon-memory.js';
import { affectedBy, relianceGraph } from './reliance.js';
import { seriesState } from './series.js';
import { standingOf } from './standing.js';
import { testState } from './tests.js';
import { meterTimeline, timelineOf, timelineOn } from './timelines.js';
import { upkeepStates } from './upkeep-states.js';
import { type Values, valuesInForce } from './values.js';
import { reckonWeights } from './weights/weights.js';
import { workPlan } from './work.js';

/** Values to be reckoned with whatever the book says, by ref: what is supposed. */
export type Supposed = ReadonlyMap<string, Quantity>;

/**
 * Computes everything that the site and the exports show, as of a day. A pure function of the checked book
 * and the day: no clock, no file. Linear in the size of the book but for sorting.
 *
 * @param memory spares work where nearly the same book was reckoned before; the result is the same.
 */
export function reckon(
  whole: CheckedBook,
  asOf: string,
  supposed: Supposed = new Map(),
  memory?: ReckonMemory,
): Reckoning {
  const book = bookAsOf(whole, asOf);
  const facts = gather(book, memory);
  const specs = new Map(facts.specs.map((spec) => [spec.ref, specState(spec, facts, asOf, memory)] as const));
  const timelines = new Map(
    facts.points.map((point) => {
      const { ref } = point;
      const [readings, stated] = [facts.readingsBy.get(ref) ?? [], facts.specsBy.get(ref) ?? []];
      const make = () => timelineOf(point, readings, stated, asOf);
      return [ref, recalled(memory?.timelines, ref, [point, readings, stated, asOf], make)] as const;
    }),
  );
  const values = valuesInForce(book.systems, specs, timelines, supposed);
  const parts = new Map(
    [
      ...group(
        book.entries.flatMap((entry) => entry.parts),
        (move) => move.part,
      ),
    ].map(([id, moves]): [string, PartState] => [id, partState(id, moves, asOf)]),
  );
  const decided = new Map(
    book.entries.flatMap((entry) => entry.decisions).map((decision) => [decision.id, decision] as const),
  );
  const items = itemStates(book.entries, parts, decided, asOf, book.copy?.waitsOnHidden);
  const readPoints = new Set(
    [...timelines.values()]
      .filter((timeline) => timeline.last !== null)
      .map((timeline) => timeline.point.ref),
  );
  const derived = new Set(
    [...book.systems.values()].flatMap((system) => [...system.derived.values()].map((value) => value.ref)),
  );
  const power = reckonPower(book, values);
  const weights = reckonWeights(book, values, asOf);
  const graph = relianceGraph(book, readPoints, planEdges(power, weights));
  const base = { specs, timelines, values };
  const tests = new Map(
    facts.tests.map((test) => {
      const runs = facts.runsBy.get(test.ref) ?? [];
      return [
        test.ref,
        recalled(memory?.tests, test.ref, [test, runs], () => testState(test, runs)),
      ] as const;
    }),
  );
  const decisions = decisionStates(decided, base);
  const upkeep = upkeepStates(book.systems, facts, asOf);
  const noTotalsOf = book.copy?.noTotalsOf ?? [];
  // Of a sum that lacks some of its parts nothing is said.
  const counted = noTotalsOf.includes('hours')
    ? book.entries.map((entry) => ({ ...entry, hours: [] }))
    : book.entries;
  const exposed = exposures(specs, graph, derived, { parts, items, currency: book.currency, noTotalsOf });
  return {
    asOf,
    book,
    entries: new Map(book.entries.map((entry): [string, Entry] => [entry.id, entry])),
    readings: facts.readings,
    series: new Map([...book.series].map(([ref, series]) => [ref, seriesState(series)] as const)),
    ...base,
    tests,
    meters: new Map(
      facts.meters.map((meter) => [meter.ref, meterTimeline(meter, facts.metersBy.get(meter.ref) ?? [])]),
    ),
    parts,
    items,
    decisions,
    hours: hoursRollup(counted),
    money: noTotalsOf.includes('cost') ? [] : moneyRollup(book.entries),
    exposures: exposed,
    affected: (refs) => affectedBy(refs, graph, derived),
    upkeep,
    findings: findings({
      asOf,
      book,
      specs,
      tests,
      timelines,
      upkeep,
      items,
      parts,
      decisions,
      exposures: exposed,
    }),
    work: workPlan(counted, items, parts, asOf),
    power,
    weights,
  };
}

/** The book sorted by what it is about. */
type Facts = ReturnType<typeof gather>;

function gather(book: CheckedBook, memory: ReckonMemory | undefined) {
  const systems = [...book.systems.values()];
  const { entries } = book;
  const points: readonly Point[] = systems.flatMap((system) => [...system.points.values()]);
  const specs: readonly Spec[] = systems.flatMap((system) => [...system.specs.values()]);
  const meters: readonly Meter[] = systems.flatMap((system) => [...system.meters.values()]);
  const byRef = new Map(points.map((point) => [point.ref, point]));
  const declared = recalled(memory?.points, '', [points], () => points);
  const readings = entries.flatMap((entry) =>
    recalled(memory?.readings, entry.id, [entry, declared], () => readingsOf(entry, byRef)),
  );
  return {
    points,
    specs,
    meters,
    readings,
    tests: systems.flatMap((system) => [...system.tests.values()]),
    readingsBy: group(readings, (reading) => reading.point),
    statementsBy: group(
      entries.flatMap((entry) => entry.statements),
      (statement: Statement) => statement.spec,
    ),
    runsBy: group(
      entries.flatMap((entry) => entry.tests),
      (run) => run.test,
    ),
    specsBy: group(specs, (spec) => spec.point),
    metersBy: group(
      entries.flatMap((entry) => entry.meters),
      (reading: MeterReading) => reading.meter,
    ),
    doneBy: group(
      entries.flatMap((entry) => entry.done.map((ref) => ({ ref, date: entry.date, entry: entry.id }))),
      (done) => done.ref,
    ),
    firstEntryBy: firstEntries(entries),
  };
}

function firstEntries(entries: readonly Entry[]): ReadonlyMap<string, string> {
  const first = new Map<string, string>();
  for (const entry of entries)
    for (const system of entry.systems) if (!first.has(system)) first.set(system, entry.date);
  return first;
}

function specState(spec: Spec, facts: Facts, asOf: string, memory: ReckonMemory | undefined): SpecState {
  const readings = facts.readingsBy.get(spec.point ?? '') ?? [];
  const statements = facts.statementsBy.get(spec.ref) ?? [];
  return recalled(memory?.specs, spec.ref, [spec, readings, statements, asOf], () =>
    standingOf(spec, readings, statements, asOf),
  );
}

interface Known {
  readonly specs: ReadonlyMap<string, SpecState>;
  readonly timelines: ReadonlyMap<string, Timeline>;
  readonly values: Values;
}

function decisionStates(
  decided: ReadonlyMap<string, Decision>,
  { specs, timelines, values }: Known,
): ReadonlyMap<string, DecisionState> {
  const undoneBy = new Map(
    [...decided.values()].flatMap((decision) =>
      decision.undoes === null ? [] : [[decision.undoes, decision.id] as const],
    ),
  );
  const specThen = (ref: string, date: string): SpecState | null => {
    const state = specs.get(ref);
    return state === undefined ? null : specStateOn(state, date);
  };
  const valuesThen = (names: readonly string[], on: (ref: string) => string): Values => {
    const states = new Map<string, SpecState>();
    const lines = new Map<string, Timeline>();
    for (const ref of names) {
      const state = specThen(ref, on(ref));
      if (state !== null) states.set(ref, state);
      const line = timelines.get(ref);
      if (line !== undefined) lines.set(ref, timelineOn(line, on(ref)));
    }
    return valuesInForce(new Map(), states, lines);
  };
  return new Map(
    [...decided].map(([id, decision]) => {
      const restsOn = decision.restsOn.map((ref) => ({ ref, standing: specs.get(ref)?.standing ?? null }));
      const holding = holdingOf(decision, values, specs, timelines, valuesThen);
      return [id, { decision, holding, undoneBy: undoneBy.get(id) ?? null, restsOn }];
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
