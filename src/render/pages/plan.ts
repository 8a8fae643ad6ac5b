import { PlanPage } from '../../../site/templates/plan.js';
import { addDays } from '../../reckon/calendar.js';
import type { ItemStatus } from '../../reckon/model.js';
import type { GoalPlan, Pace } from '../../reckon/work.js';
import { daysToSpare, inTime, type NetworkChart, networkChart, partOf } from '../charts/network.js';
import { type Link, NOT_SHOWN, paths } from '../links.js';
import { makePage } from '../make-page.js';
import type { Page } from '../page.js';
import type { Site } from '../site-context.js';
import { showHours } from '../values.js';
import { count, datesInWords, PLACE_WORD, STATUS_WORD } from '../words.js';

/** One step towards a goal. */
export interface StepRow {
  readonly what: Link;
  readonly sort: 'job' | 'part';
  readonly status: string;
  readonly size: string | null;
  /** Days on which it can begin and be finished at the earliest; for a part the day on which it can be here. */
  readonly begins: string | null;
  readonly ends: string | null;
  readonly spare: string;
  readonly decides: boolean;
  readonly after: readonly Link[];
}

/** A goal: when it can be reached, what decides that, and every step. */
export interface GoalView {
  readonly id: string;
  readonly goal: Link;
  readonly forecast: { readonly earliest: string; readonly latest: string } | null;
  readonly because: string;
  readonly hours: string;
  readonly chainHours: string;
  readonly chain: readonly Link[];
  readonly unsized: readonly Link[];
  readonly unpromised: readonly Link[];
  /** Open jobs that somebody's safety hangs on and that the goal does not wait for. */
  readonly besides: readonly Link[];
  readonly chart: NetworkChart | null;
  readonly steps: readonly StepRow[];
}

/** The work laid out in time, with the pace, the suppliers and what is to come. */
export interface PlanView {
  /** In hours a week, with since when; null where the hours logged tell none. */
  readonly pace: {
    readonly usual: string;
    readonly slow: string;
    readonly fast: string;
    readonly since: string;
  } | null;
  readonly goals: readonly GoalView[];
  readonly arrivals: readonly {
    readonly part: Link;
    readonly late: boolean;
    readonly earliest: string;
    readonly latest: string;
    readonly because: string;
  }[];
  readonly suppliers: readonly {
    readonly supplier: string;
    readonly count: number;
    readonly median: string | null;
    readonly ninety: string | null;
    /** `2 of 10`; null where none was promised for a day. */
    readonly late: string | null;
  }[];
  readonly work: string;
}

/** Makes the page that lays the work out in time; none where there is no goal, no order and no delivery. */
export function planPages(site: Site): Page[] {
  if (!hasPlan(site)) return [];
  const { work } = site.reckoning;
  const links = site.top;
  const view = (): PlanView => ({
    pace: work.pace === null ? null : paceWords(work.pace),
    goals: work.goals.map((goal) => goalView(site, goal)),
    arrivals: work.arrivals.map(({ part, earliest, latest, because }) => ({
      part: links.part(part),
      late: site.reckoning.parts.get(part)?.late === true,
      earliest,
      latest,
      because: datesInWords(because),
    })),
    suppliers: work.leadTimes.map(({ supplier, count: number, median, ninety, late, promised }) => ({
      supplier,
      count: number,
      median: median === null ? null : count(Math.round(median), 'day'),
      ninety: ninety === null ? null : count(Math.round(ninety), 'day'),
      late: promised === 0 ? null : `${late} of ${promised}`,
    })),
    work: links.to(paths.work),
  });
  const parts = {
    path: paths.plan,
    title: 'Plan of the work',
    section: 'work',
    template: PlanPage,
    view,
  } as const;
  return [makePage(site, parts)];
}

/** Whether there is anything to lay out in time. */
export function hasPlan({ reckoning }: Site): boolean {
  const { goals, arrivals, leadTimes } = reckoning.work;
  return goals.length + arrivals.length + leadTimes.length > 0;
}

function paceWords({ usual, slow, fast, since }: Pace): PlanView['pace'] {
  const words = (hours: number) => `${hours.toFixed(1)} h`;
  return { usual: words(usual), slow: words(slow), fast: words(fast), since };
}

function goalView(site: Site, plan: GoalPlan): GoalView {
  const links = site.top;
  const stepLink = (id: string): Link => {
    const part = partOf(id);
    return part === null ? links.item(id) : links.part(part);
  };
  return {
    id: plan.goal,
    goal: links.item(plan.goal),
    forecast: plan.forecast,
    because: datesInWords(plan.because),
    hours: showHours(plan.hours),
    chainHours: showHours(plan.chainHours),
    chain: plan.chain.map(stepLink),
    unsized: plan.unsized.map(links.item),
    unpromised: plan.unpromised.map(links.part),
    besides: safetyBesides(site, plan).map(links.item),
    chart: networkChart(site, plan),
    steps: inTime(plan).map((step) => stepRow(site, plan, step, stepLink(step.id))),
  };
}

/**
 * Open jobs that somebody's safety hangs on and that a goal, as it is written, does not wait for. Whether it should is
 * for people to say; a day for it that is told without them would be taken for the day on which it is safe.
 */
export function safetyBesides({ reckoning }: Site, { steps }: GoalPlan): readonly string[] {
  const needed = new Set(steps.map(({ id }) => id));
  return [...reckoning.items.values()]
    .filter(({ opened, status }) => status !== 'done' && opened.safety && !needed.has(opened.id))
    .map(({ opened }) => opened.id);
}

function stepRow(site: Site, plan: GoalPlan, step: GoalPlan['steps'][number], what: Link): StepRow {
  const { asOf, work, items, parts } = site.reckoning;
  const on = (days: number) => (work.pace === null ? null : addDays(asOf, Math.ceil(days)));
  const part = partOf(step.id);
  const decides = plan.chain.includes(step.id);
  const common = { what, decides, spare: decides ? '' : count(daysToSpare(step.float), 'day') };
  if (part !== null) {
    const now = parts.get(part);
    return {
      ...common,
      sort: 'part',
      status: now === undefined ? '' : now.late ? 'late' : PLACE_WORD[now.now],
      size: null,
      begins: null,
      ends: plan.unpromised.includes(part) ? null : on(step.earliestFinish),
      after: [],
    };
  }
  const item = items.get(step.id);
  const size = item?.opened.size ?? null;
  return {
    ...common,
    sort: 'job',
    status: STATUS_WORD[item?.status ?? ('ready' satisfies ItemStatus)],
    size: size === null ? null : showHours(size.si / 3600),
    begins: on(step.earliestStart),
    ends: on(step.earliestFinish),
    after: [
      ...(item?.blockedBy ?? []).map(site.top.item),
      ...(item?.waitsFor ?? []).map(site.top.part),
      ...(item?.waitsOnHidden === true ? [NOT_SHOWN] : []),
    ],
  };
}
