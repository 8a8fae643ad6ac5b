import type { Decision } from '../check/model.js';
import type { Verdict } from '../quantity/index.js';
import type { SpecState, Timeline } from './model.js';
import { standingOf } from './standing.js';
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

/**
 * Holds a decision's `holds-while` against the values in force.
 *
 * @param valuesOn the values as they were known at the end of a day, for the names given.
 * @returns null for a decision without such a condition.
 */
export function holdingOf(
  decision: Decision,
  values: Values,
  specs: ReadonlyMap<string, SpecState>,
  timelines: ReadonlyMap<string, Timeline>,
  valuesOn: (date: string, names: readonly string[]) => Values,
): Holding | null {
  if (decision.holdsFormula === null) return null;
  const result = values.evaluate(decision.holdsFormula);
  if (result.is !== 'truth') return { verdict: 'unknown', turned: null, missing: [] };
  const { verdict, missing } = result;
  if (verdict !== 'fails' && verdict !== 'undecided') return { verdict, turned: null, missing };
  const names = values.leaves(decision.holdsFormula);
  const events = eventsOf(names, specs, timelines).filter((event) => event.date >= decision.date);
  let turned: Event | null = null;
  for (const event of events) {
    const then = valuesOn(event.date, names).evaluate(decision.holdsFormula);
    const same = then.is === 'truth' && then.verdict === verdict;
    if (!same) turned = null;
    else turned ??= event;
  }
  return { verdict, turned, missing };
}

function eventsOf(
  names: readonly string[],
  specs: ReadonlyMap<string, SpecState>,
  timelines: ReadonlyMap<string, Timeline>,
): readonly Event[] {
  const events = names.flatMap((ref): Event[] => {
    const readings =
      timelines
        .get(ref)
        ?.readings.map(({ reading }) => ({ date: reading.date, entry: reading.entry, ref })) ?? [];
    const evidence = specs.get(ref)?.evidence.map(({ date, entry }) => ({ date, entry, ref })) ?? [];
    return [...readings, ...evidence];
  });
  return events.sort((a, b) => (a.date !== b.date ? (a.date < b.date ? -1 : 1) : a.entry < b.entry ? -1 : 1));
}

/** The state of a spec as it was at the end of an earlier day, from what is known of it now. */
export function specStateOn(
  state: SpecState,
  timeline: Timeline | undefined,
  statements: Parameters<typeof standingOf>[2],
  date: string,
): SpecState {
  const readings =
    timeline?.readings.map(({ reading }) => reading).filter((reading) => reading.date <= date) ?? [];
  return standingOf(
    state.spec,
    readings,
    statements.filter((statement) => statement.date <= date),
    date,
  );
}

/** A timeline as it was at the end of an earlier day. */
export function timelineOn(timeline: Timeline, date: string): Timeline {
  const readings = timeline.readings.filter(({ reading }) => reading.date <= date);
  return { ...timeline, readings, last: readings.at(-1) ?? null };
}
