import type { Decision, Entry, Opened, PartMove } from '../check/model.js';
import type { BookState } from './earlier.js';
import { hoursRollup, moneyRollup } from './effort.js';
import type { Finding, Ground } from './findings.js';
import type {
  Evidence,
  HoursRollup,
  LimitState,
  MoneyRow,
  Outcome,
  Reckoning,
  Standing,
  TestResult,
  TimelinePoint,
} from './model.js';

/**
 * What has become of a book between two days: standings that moved and by what evidence, tests and limits that came
 * out otherwise, and what the entries in between tell of work, upkeep, parts, money and decisions.
 */

/** Something that was otherwise before; `from` is null for what was not there. */
interface Moved<T> {
  /** A full ref. */
  readonly id: string;
  readonly title: string;
  readonly system: string;
  readonly from: T | null;
  readonly to: T;
}

/** A spec that stands otherwise. */
export interface StandingMoved extends Moved<Standing> {
  /** What decides how it stands now; null where there is nothing. */
  readonly by: Evidence | null;
  readonly because: string;
}

/** A test that came out otherwise than the last time. */
export interface OutcomeMoved extends Moved<Outcome> {
  readonly last: TestResult;
}

/** A point whose last value lies otherwise against its limits. */
export interface LimitMoved extends Moved<LimitState> {
  readonly last: TimelinePoint;
}

/** A piece of upkeep that was done, with the days, oldest first. */
export interface UpkeepCarriedOut {
  readonly id: string;
  readonly what: string;
  readonly system: string;
  readonly safety: boolean;
  readonly done: readonly { readonly date: string; readonly entry: string }[];
}

export interface Changes {
  /** Days of the two states; what was done on the first is not among the changes any more. */
  readonly from: string;
  readonly to: string;
  /** Those of the later state that the earlier one has not, whatever date they bear. */
  readonly entries: readonly Entry[];
  readonly hours: HoursRollup;
  readonly money: readonly MoneyRow[];
  readonly standings: readonly StandingMoved[];
  readonly tests: readonly OutcomeMoved[];
  /** Runs of tests, those that came out as before too. */
  readonly testRuns: number;
  readonly limits: readonly LimitMoved[];
  readonly opened: readonly Opened[];
  readonly closed: readonly { readonly id: string; readonly date: string; readonly entry: string }[];
  readonly upkeep: readonly UpkeepCarriedOut[];
  readonly parts: readonly PartMove[];
  readonly decided: readonly Decision[];
  /** Decisions that others took back. */
  readonly undone: readonly { readonly id: string; readonly by: Decision }[];
}

/** Compares two states of one book, the earlier one first. Linear in the size of the book. */
export function changesBetween(before: BookState, after: BookState): Changes {
  const had = new Set(before.book.entries.map(({ id }) => id));
  const entries = after.book.entries.filter(({ id }) => !had.has(id));
  const decided = entries.flatMap((entry) => entry.decisions);
  return {
    from: before.asOf,
    to: after.asOf,
    entries,
    hours: hoursRollup(entries),
    money: moneyRollup(entries),
    standings: standingsMoved(before, after),
    tests: testsMoved(before, after),
    testRuns: entries.reduce((sum, entry) => sum + entry.tests.length, 0),
    limits: limitsMoved(before, after),
    opened: entries.flatMap((entry) => entry.opens),
    closed: entries.flatMap(({ id: entry, date, closes }) => closes.map((id) => ({ id, date, entry }))),
    upkeep: upkeepDone(entries, after),
    parts: entries.flatMap((entry) => entry.parts),
    decided,
    undone: decided.flatMap((by) => (by.undoes === null ? [] : [{ id: by.undoes, by }])),
  };
}

function standingsMoved(before: BookState, after: BookState): readonly StandingMoved[] {
  return [...after.specs].flatMap(([id, { spec, standing, deciding, because }]) => {
    const from = before.specs.get(id)?.standing ?? null;
    // What was stated meanwhile and not looked at is no news but a line of a list.
    if (from === standing || (from === null && standing === 'unverified')) return [];
    return [{ id, title: spec.title, system: spec.system, from, to: standing, by: deciding, because }];
  });
}

function testsMoved(before: BookState, after: BookState): readonly OutcomeMoved[] {
  return [...after.tests].flatMap(([id, { test, last }]) => {
    const from = before.tests.get(id)?.last?.outcome ?? null;
    if (last === null || last.outcome === from) return [];
    return [{ id, title: test.title, system: test.system, from, to: last.outcome, last }];
  });
}

function limitsMoved(before: BookState, after: BookState): readonly LimitMoved[] {
  return [...after.timelines].flatMap(([id, { point, last }]) => {
    if (last === null) return [];
    const from = before.timelines.get(id)?.last?.limit ?? null;
    const to = last.limit;
    // A first value inside the limits is as it should be.
    if (from === to || (from === null && to !== 'outside' && to !== 'undecided')) return [];
    return [{ id, title: point.title, system: point.system, from, to, last }];
  });
}

function upkeepDone(entries: readonly Entry[], { book }: BookState): readonly UpkeepCarriedOut[] {
  const done = new Map<string, { date: string; entry: string }[]>();
  for (const { id, date, done: refs } of entries)
    for (const ref of refs) done.set(ref, [...(done.get(ref) ?? []), { date, entry: id }]);
  return [...done].flatMap(([id, times]) => {
    const dot = id.indexOf('.');
    const found = book.systems.get(id.slice(0, dot))?.upkeep.get(id.slice(dot + 1));
    if (found === undefined) return [];
    return [{ id, what: found.what, system: found.system, safety: found.safety, done: times }];
  });
}

/** Findings that came up between two reckonings, and those that were settled. */
export interface FindingsMoved {
  readonly opened: readonly Finding[];
  readonly settled: readonly Finding[];
}

/** Compares the findings of two reckonings. A finding is the same as long as any fact of it speaks of the same thing. */
export function findingsMoved(
  before: Pick<Reckoning, 'findings'>,
  after: Pick<Reckoning, 'findings'>,
): FindingsMoved {
  return { opened: newIn(after.findings, before.findings), settled: newIn(before.findings, after.findings) };
}

function newIn(those: readonly Finding[], known: readonly Finding[]): readonly Finding[] {
  const keyOf = ({ about }: Ground) => `${about.sort} ${about.id}`;
  const had = new Set(known.flatMap(({ grounds }) => grounds.map(keyOf)));
  return those.filter(({ grounds }) => !grounds.some((ground) => had.has(keyOf(ground))));
}
