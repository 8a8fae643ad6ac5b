import type { Decision } from '../check/model.js';
import type { Verdict } from '../quantity/index.js';
import type { SpecState, Timeline } from './model.js';
import { standingBased } from './standing.js';
import type { Values } from './values.js';

/** Whether what a decision hangs on is still so. `since` says when it stopped being so, and by what. */
export interface Holding {
  readonly verdict: Verdict;
  /** The reading or statement with which it turned; null where it holds, or never did. */
  readonly turned: { readonly date: string; readonly entry: string; readonly ref: string } | null;
  /** Names without a value. */
  readonly missing: readonly string[];
}

/** A day on which something that a comparison hangs on was read or stated. */
interface Event {
  readonly date: string;
  readonly entry: string;
  readonly ref: string;
}

/** Values as they were known of each name at the end of a day of its own. */
type ValuesThen = (names: readonly string[], on: (ref: string) => string) => Values;

/**
 * Holds a decision's `holds-while` against the values in force, and where it no longer holds looks back for
 * what turned it.
 *
 * @returns null for a decision without such a condition.
 */
export function holdingOf(
  decision: Decision,
  values: Values,
  specs: ReadonlyMap<string, SpecState>,
  timelines: ReadonlyMap<string, Timeline>,
  valuesThen: ValuesThen,
): Holding | null {
  if (decision.holdsFormula === null) return null;
  const result = values.evaluate(decision.holdsFormula);
  if (result.is !== 'truth') return { verdict: 'unknown', turned: null, missing: [] };
  const { verdict, missing } = result;
  if (verdict !== 'fails' && verdict !== 'undecided') return { verdict, turned: null, missing };
  const formula = values.plain(decision.holdsFormula);
  const isSame = (on: (ref: string) => string) => {
    const then = valuesThen(formula.names, on).evaluate(formula);
    return then.is === 'truth' && then.verdict === verdict;
  };
  const events = eventsAfter(decision.date, formula.names, specs, timelines);
  return { verdict, turned: turnedBy(events, decision.date, isSame), missing };
}

/**
 * The event since which the verdict has been what it is: back from the newest day to the last on which it was
 * another. Of several events of one day it is the one that turns it by itself, or else the first.
 *
 * @param events oldest first, all after the day of the decision.
 * @returns null where the verdict was the same at the end of the day of the decision already.
 */
function turnedBy(
  events: readonly Event[],
  decided: string,
  isSame: (on: (ref: string) => string) => boolean,
): Event | null {
  const days = [...new Set(events.map(({ date }) => date))];
  const other = days.findLastIndex((day) => !isSame(() => day));
  const before = days[other] ?? decided;
  const day = days[other + 1];
  if (day === undefined || (other < 0 && isSame(() => decided))) return null;
  const those = events.filter(({ date }) => date === day);
  return those.find((event) => isSame((ref) => (ref === event.ref ? day : before))) ?? those[0] ?? null;
}

function eventsAfter(
  day: string,
  names: readonly string[],
  specs: ReadonlyMap<string, SpecState>,
  timelines: ReadonlyMap<string, Timeline>,
): readonly Event[] {
  const events = names.flatMap((ref) =>
    [
      ...(timelines.get(ref)?.readings.map(({ reading }) => reading) ?? []),
      ...(specs.get(ref)?.evidence ?? []),
    ].flatMap(({ date, entry }): Event[] => (date > day ? [{ date, entry, ref }] : [])),
  );
  return events.sort((a, b) => (a.date !== b.date ? (a.date < b.date ? -1 : 1) : a.entry < b.entry ? -1 : 1));
}

/** The state of a spec as it was at the end of an earlier day, from what is known of it now; null before it was stated. */
export function specStateOn(state: SpecState, date: string): SpecState | null {
  const { spec, evidence } = state;
  if (spec.since !== null && spec.since > date) return null;
  const then = evidence.filter((one) => one.date <= date);
  return standingBased(spec, then, date);
}
