import type { Entry } from '../check/model.js';
import { addDays, daysBetween } from './calendar.js';
import { type Arrival, arrivalOf, type LeadTime, leadTimes } from './lead-times.js';
import type { ItemState, PartState } from './model.js';
import { type Activity, type Scheduled, schedule } from './network.js';
import { quantile } from './quantile.js';

/** How much gets done, from the hours logged: hours a week, in slow, usual and fast weeks. */
export interface Pace {
  readonly usual: number;
  readonly slow: number;
  readonly fast: number;
  readonly weeks: number;
  readonly since: string;
}

/** What has to happen before a goal is reached. */
export interface GoalPlan {
  readonly goal: string;
  /** The chain that decides, first step first; a part that is waited for stands as `part NAME`. */
  readonly chain: readonly string[];
  /** Steps that have to be done for it, the goal itself included, with their times in days from today. */
  readonly steps: readonly Scheduled[];
  /** Hours of work in all of them, and in those of the chain. */
  readonly hours: number;
  readonly chainHours: number;
  /** Items among them of which nobody has said how long they take. */
  readonly unsized: readonly string[];
  /** Parts among them of which nothing tells when they come. */
  readonly unpromised: readonly string[];
  /** When it can be reached; null where no pace is known. */
  readonly forecast: { readonly earliest: string; readonly latest: string } | null;
  readonly because: string;
}

export interface WorkPlan {
  readonly pace: Pace | null;
  readonly leadTimes: readonly LeadTime[];
  readonly arrivals: readonly Arrival[];
  readonly goals: readonly GoalPlan[];
}

/**
 * Plans the open work: lead times, arrivals, and for each goal the chain that decides it and a forecast.
 *
 * The forecast is a range. Its early end takes the pace of fast weeks and parts on the day they are promised,
 * its late end the pace of slow weeks and parts when their supplier has usually delivered nine in ten. Neither
 * comes before the longest chain is done, nor before all the work that the goal needs is: the pace is that of
 * everybody together, so that work beside the chain takes its share of it.
 */
export function workPlan(
  entries: readonly Entry[],
  items: ReadonlyMap<string, ItemState>,
  parts: ReadonlyMap<string, PartState>,
  asOf: string,
): WorkPlan {
  const pace = paceOf(entries, asOf);
  const leads = leadTimes(parts.values());
  const bySupplier = new Map(leads.map((lead) => [lead.supplier, lead]));
  const arrivals = [...parts.values()].flatMap(
    (part) => arrivalOf(part, bySupplier.get(part.supplier ?? ''), asOf) ?? [],
  );
  const open = [...items.values()].filter((item) => item.status !== 'done');
  const goals = open
    .filter((item) => item.opened.goal)
    .map((goal) =>
      goalPlan(
        goal.opened.id,
        items,
        new Map(arrivals.map((arrival) => [arrival.part, arrival])),
        pace,
        asOf,
      ),
    );
  return { pace, leadTimes: leads, arrivals, goals };
}

/** Weeks looked back on for the pace. */
const PACE_WEEKS = 26;

/**
 * Hours a week over the last half year, weeks without any work included: a forecast that forgot them would
 * always be early. Slow and fast are the quartiles over runs of four weeks, since single weeks differ wildly.
 *
 * @returns null where fewer than four weeks lie between the first entry and the day.
 */
export function paceOf(entries: readonly Entry[], asOf: string): Pace | null {
  const first = entries[0]?.date;
  if (first === undefined) return null;
  const weeks = Math.min(PACE_WEEKS, Math.floor(daysBetween(first, asOf) / 7));
  if (weeks < 4) return null;
  const perWeek = new Array<number>(weeks).fill(0);
  for (const entry of entries) {
    const week = Math.floor(daysBetween(entry.date, asOf) / 7);
    if (week < weeks)
      perWeek[week] = (perWeek[week] ?? 0) + entry.hours.reduce((sum, { spent }) => sum + spent, 0);
  }
  const usual = perWeek.reduce((sum, hours) => sum + hours, 0) / weeks;
  if (usual === 0) return null;
  const runs = Array.from(
    { length: weeks - 3 },
    (_, at) => perWeek.slice(at, at + 4).reduce((sum, hours) => sum + hours, 0) / 4,
  );
  return {
    usual,
    slow: Math.min(usual, quantile(runs, 0.25)),
    fast: Math.max(usual, quantile(runs, 0.75)),
    weeks,
    since: addDays(asOf, -7 * weeks),
  };
}

/** Slower than this a pace would put every forecast beyond any horizon. */
const SLOWEST = 0.25;

function goalPlan(
  goal: string,
  items: ReadonlyMap<string, ItemState>,
  arrivals: ReadonlyMap<string, Arrival>,
  pace: Pace | null,
  asOf: string,
): GoalPlan {
  const needed = neededFor(goal, items);
  const hoursOf = (id: string) => (items.get(id)?.opened.size?.si ?? 0) / 3600;
  const hours = needed.items.reduce((sum, id) => sum + hoursOf(id), 0);
  const early = plan(
    needed,
    items,
    arrivals,
    (id) => hoursOf(id) / perDay(pace?.fast),
    (arrival) => daysBetween(asOf, arrival.earliest),
  );
  const chain = early?.longest ?? [];
  const chainHours = chain.reduce((sum, id) => sum + hoursOf(id), 0);
  const unsized = needed.items.filter((id) => items.get(id)?.opened.size == null && id !== goal);
  const unpromised = needed.parts.filter((id) => !arrivals.has(id));
  return {
    goal,
    chain,
    steps: [...(early?.activities.values() ?? [])],
    hours,
    chainHours,
    unsized,
    unpromised,
    forecast:
      pace === null || early === null
        ? null
        : forecast(goal, needed, items, arrivals, early.length, hours, pace, asOf),
    because: explain(hours, pace, unsized, unpromised),
  };
}

interface Needed {
  readonly items: readonly string[];
  readonly parts: readonly string[];
}

/** Everything open that a goal waits on, through others. */
function neededFor(goal: string, items: ReadonlyMap<string, ItemState>): Needed {
  const found = new Set<string>([goal]);
  const parts = new Set<string>();
  for (const id of found) {
    const item = items.get(id);
    for (const before of item?.blockedBy ?? []) found.add(before);
    for (const part of item?.waitsFor ?? []) parts.add(part);
  }
  return { items: [...found], parts: [...parts] };
}

function plan(
  needed: Needed,
  items: ReadonlyMap<string, ItemState>,
  arrivals: ReadonlyMap<string, Arrival>,
  days: (id: string) => number,
  comes: (arrival: Arrival) => number,
) {
  const jobs = needed.items.map((id): Activity => {
    const item = items.get(id);
    return {
      id,
      duration: days(id),
      after: [...(item?.blockedBy ?? []), ...(item?.waitsFor ?? []).map((part) => `part ${part}`)],
    };
  });
  // A part is something that happens on a day, and then is there.
  const waits = needed.parts.map((part): Activity => {
    const arrival = arrivals.get(part);
    return {
      id: `part ${part}`,
      duration: arrival === undefined ? 0 : Math.max(0, comes(arrival)),
      after: [],
    };
  });
  return schedule([...jobs, ...waits]);
}

function forecast(
  goal: string,
  needed: Needed,
  items: ReadonlyMap<string, ItemState>,
  arrivals: ReadonlyMap<string, Arrival>,
  earlyDays: number,
  hours: number,
  pace: Pace,
  asOf: string,
): GoalPlan['forecast'] {
  const slow = perDay(Math.max(pace.slow, SLOWEST));
  const chained = plan(
    needed,
    items,
    arrivals,
    (id) => (items.get(id)?.opened.size?.si ?? 0) / 3600 / slow,
    (arrival) => daysBetween(asOf, arrival.latest),
  );
  const early = Math.max(earlyDays, hours / perDay(pace.fast));
  const late = Math.max(chained?.activities.get(goal)?.earliestFinish ?? 0, hours / slow, early);
  return { earliest: addDays(asOf, Math.ceil(early)), latest: addDays(asOf, Math.ceil(late)) };
}

/** Hours a day from hours a week; without a pace, a day for every hour, which only orders the chain. */
function perDay(perWeek: number | undefined): number {
  return perWeek === undefined || perWeek <= 0 ? 1 : perWeek / 7;
}

function explain(
  hours: number,
  pace: Pace | null,
  unsized: readonly string[],
  unpromised: readonly string[],
): string {
  const work = `${Math.round(hours * 10) / 10} h of work`;
  const at =
    pace === null
      ? 'no pace can be told from the hours logged'
      : `at ${pace.slow.toFixed(1)} to ${pace.fast.toFixed(1)} h a week, as logged since ${pace.since}`;
  const unknown = [
    unsized.length > 0
      ? `${unsized.length} of the jobs ${unsized.length === 1 ? 'has' : 'have'} no size`
      : '',
    unpromised.length > 0 ? `nothing tells when ${unpromised.join(', ')} will come` : '',
  ].filter((text) => text !== '');
  return `${[`${work} ${at}`, ...unknown].join('; ')}.`;
}
