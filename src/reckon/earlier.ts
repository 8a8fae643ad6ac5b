import type { Decision, Entry, MeterReading, System } from '../check/model.js';
import { bookAsOf } from './as-of.js';
import { type Finding, type FindingFacts, findings } from './findings.js';
import { itemStates } from './items.js';
import type { Reckoning } from './model.js';
import { placeAfter } from './parts.js';
import { planEdges } from './plan-edges.js';
import { dependentsOf, relianceOver } from './reliance.js';
import { standingsOver } from './standing.js';
import { lastReadingOn } from './timelines.js';
import { entriesUntil } from './until.js';
import type { UpkeepFacts } from './upkeep.js';
import { upkeepStates } from './upkeep-states.js';

/**
 * A book on earlier days, from what is known of it now: cheaper by far than reckoning each day anew, since what was
 * read, run or moved is sorted once, and of each day only that is looked up which a comparison asks for. What the
 * plans of power and weights rest on is taken as it is now; like system files they carry no history.
 */

/** As much of a state as is compared. */
export interface BookState extends Pick<FindingFacts, 'asOf' | 'specs' | 'tests' | 'timelines'> {
  readonly book: { readonly systems: ReadonlyMap<string, System>; readonly entries: readonly Entry[] };
  readonly findings: readonly Finding[];
}

/** Gives the state of a book at the end of any day up to that of its reckoning. */
export function earlierStates(reckoning: Reckoning): (day: string) => BookState {
  const { book } = reckoning;
  const { entries } = book;
  const standings = [...reckoning.specs.values()].map(
    ({ spec, evidence }) => [spec, standingsOver(spec, evidence)] as const,
  );
  const telling = entries.filter(
    ({ parts, decisions, opens, closes }) =>
      parts.length + decisions.length + opens.length + closes.length > 0,
  );
  const upkeepOn = upkeepFacts(reckoning);
  const derived = new Set(
    [...book.systems.values()].flatMap((system) => [...system.derived.values()].map(({ ref }) => ref)),
  );
  const firstRead = new Map<string, string>();
  for (const [ref, { readings }] of reckoning.timelines) {
    const first = readings[0];
    if (first !== undefined) firstRead.set(ref, first.reading.date);
  }
  const restsOn = relianceOver(book, firstRead, planEdges(reckoning.power, reckoning.weights));

  return (day) => {
    const then = bookAsOf({ ...book, entries: telling, series: new Map() }, day);
    const specs = new Map(
      standings.flatMap(([spec, standingOn]) =>
        spec.since !== null && spec.since > day ? [] : [[spec.ref, standingOn(day)] as const],
      ),
    );
    const tests = new Map(
      [...reckoning.tests].map(([ref, { test, results }]) => [
        ref,
        { test, last: results.find(({ run }) => run.date <= day) ?? null },
      ]),
    );
    const timelines = new Map(
      [...reckoning.timelines].map(([ref, line]) => [
        ref,
        { point: line.point, last: lastReadingOn(line, day) },
      ]),
    );
    const parts = partsOn(reckoning.parts, day);
    const decided = new Map(then.entries.flatMap(({ decisions }) => decisions).map((one) => [one.id, one]));
    const rests = restsOn(day);
    const exposures = [...specs.values()].flatMap(({ spec: { ref }, standing }) =>
      standing === 'contradicted' ? [{ spec: ref, dependents: dependentsOf(ref, rests, derived) }] : [],
    );
    const facts: FindingFacts = {
      ...{ asOf: day, book: then, specs, tests, timelines, parts, exposures },
      upkeep: upkeepOn(then.systems, day),
      items: itemStates(then.entries, parts, decided, day, book.copy?.waitsOnHidden),
      decisions: undoings(decided),
    };
    return {
      ...{ asOf: day, specs, tests, timelines, findings: findings(facts) },
      book: { systems: then.systems, entries: entriesUntil(entries, day) },
    };
  };
}

function partsOn(parts: Reckoning['parts'], day: string): FindingFacts['parts'] {
  return new Map(
    [...parts].flatMap(([id, { moves }]) => {
      const until = moves.slice(0, moves.findLastIndex(({ date }) => date <= day) + 1);
      const last = until.at(-1);
      return last === undefined ? [] : [[id, { now: placeAfter(last), moves: until }] as const];
    }),
  );
}

function undoings(decided: ReadonlyMap<string, Decision>): FindingFacts['decisions'] {
  const undoneBy = new Map(
    [...decided.values()].flatMap(({ id, undoes }) => (undoes === null ? [] : [[undoes, id] as const])),
  );
  return new Map([...decided.keys()].map((id) => [id, { undoneBy: undoneBy.get(id) ?? null }]));
}

/** The upkeep that findings speak of, which is that for safety. */
function upkeepFacts({ book, meters, upkeep }: Reckoning) {
  const declared = [...book.systems.values()].flatMap((system) => [...system.meters.values()]);
  const done = new Map(
    [...upkeep].map(([ref, state]): [string, UpkeepFacts['done']] => [ref, [...state.done].reverse()]),
  );
  const first = new Map<string, string>();
  for (const { date, systems } of book.entries)
    for (const system of systems) if (!first.has(system)) first.set(system, date);
  const until = <T extends { readonly date: string }>(day: string, of: ReadonlyMap<string, readonly T[]>) =>
    new Map([...of].map(([ref, list]) => [ref, list.filter(({ date }) => date <= day)] as const));
  const read = new Map(
    [...meters].map(([ref, { readings }]): [string, readonly MeterReading[]] => [ref, readings]),
  );
  return (systems: ReadonlyMap<string, System>, day: string) =>
    upkeepStates(
      systems,
      {
        meters: declared,
        metersBy: until(day, read),
        doneBy: until(day, done),
        firstEntryBy: new Map([...first].filter(([, date]) => date <= day)),
      },
      day,
      ({ safety }) => safety,
    );
}
