import { addDays, daysBetween } from '../../reckon/calendar.js';
import type { GoalPlan } from '../../reckon/work.js';
import type { Site } from '../site-context.js';
import { showHours } from '../values.js';
import { count, dayWords } from '../words.js';

/** One job or part, in days from today. */
export interface NetworkRow {
  readonly sort: 'job' | 'part' | 'goal';
  readonly label: string;
  /** `6 h`, `no size said`, `8 days to spare`. */
  readonly facts: string;
  readonly from: number;
  readonly to: number;
  /** How late it may be finished without moving the goal; for a part the late end of its arrival. */
  readonly until: number;
  /** Of the chain that decides. */
  readonly decides: boolean;
}

/** What a goal needs, laid out in time. The template draws it. */
export interface NetworkChart {
  readonly today: string;
  /** Days that the drawing is long. */
  readonly days: number;
  readonly rows: readonly NetworkRow[];
  readonly alternative: string;
}

/** Less than this much to spare, in days, is none: it is what rounding leaves. */
const NO_FLOAT = 1e-6;

/** Whole days to spare. */
export function daysToSpare(float: number): number {
  return float < NO_FLOAT ? 0 : Math.floor(float);
}

/** The chart of a goal; null where no pace is known, so that hours are no days, or where there is nothing to draw. */
export function networkChart(site: Site, plan: GoalPlan): NetworkChart | null {
  if (site.reckoning.work.pace === null || plan.steps.length === 0) return null;
  const rows = inTime(plan).map((step) => rowOf(site, plan, step));
  const end = Math.max(...rows.flatMap(({ to, until }) => [to, until]), 1);
  return {
    today: site.reckoning.asOf,
    days: end,
    rows,
    alternative: alternative(site, plan, rows),
  };
}

type Step = GoalPlan['steps'][number];

/** By when they can begin, and among equals those first that have least to spare. */
export function inTime({ steps }: GoalPlan): readonly Step[] {
  return [...steps].sort(
    (a, b) => a.earliestStart - b.earliestStart || a.float - b.float || a.earliestFinish - b.earliestFinish,
  );
}

function rowOf(site: Site, plan: GoalPlan, step: Step): NetworkRow {
  const part = partOf(step.id);
  const decides = plan.chain.includes(step.id);
  if (part !== null) return partRow(site, part, step, decides);
  const size = site.reckoning.items.get(step.id)?.opened.size ?? null;
  const isGoal = step.id === plan.goal;
  const spare = daysToSpare(step.float);
  const facts = [
    size !== null ? showHours(size.si / 3600) : isGoal ? '' : 'no size said',
    decides || spare === 0 ? '' : `${count(spare, 'day')} to spare`,
  ];
  return {
    sort: isGoal ? 'goal' : 'job',
    label: site.reckoning.items.get(step.id)?.opened.what ?? step.id,
    facts: facts.filter((text) => text !== '').join(', '),
    from: step.earliestStart,
    to: step.earliestFinish,
    until: step.latestFinish,
    decides,
  };
}

function partRow(site: Site, id: string, step: Step, decides: boolean): NetworkRow {
  const { asOf, parts, work } = site.reckoning;
  const arrival = work.arrivals.find(({ part }) => part === id);
  const until = arrival === undefined ? step.earliestFinish : daysBetween(asOf, arrival.latest);
  return {
    sort: 'part',
    label: parts.get(id)?.what ?? id,
    facts: arrival === undefined ? 'nothing tells when it comes' : parts.get(id)?.late === true ? 'late' : '',
    from: step.earliestFinish,
    to: step.earliestFinish,
    until: Math.max(until, step.earliestFinish),
    decides,
  };
}

/** The part that a step waits for; null for a job. */
export function partOf(step: string): string | null {
  return step.startsWith('part ') ? step.slice('part '.length) : null;
}

function alternative(site: Site, plan: GoalPlan, rows: readonly NetworkRow[]): string {
  const goal = rows.find(({ sort }) => sort === 'goal');
  const deciding = rows.filter(({ decides, sort }) => decides && sort !== 'goal').map(({ label }) => label);
  const end = goal === undefined ? '' : `, ${dayWords(addDays(site.reckoning.asOf, Math.ceil(goal.to)))}`;
  return [
    `${count(rows.length, 'step')} to ${goal?.label ?? plan.goal}, laid out from today to the earliest end${end}.`,
    deciding.length === 0 ? '' : `The chain that decides: ${deciding.join('; ')}.`,
    'The table below has every step.',
  ]
    .filter((text) => text !== '')
    .join(' ');
}
