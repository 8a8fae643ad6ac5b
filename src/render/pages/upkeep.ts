import { Upkeep } from '../../../site/templates/upkeep.js';
import type { Hazard } from '../../check/model.js';
import { addDays } from '../../reckon/calendar.js';
import { dueList } from '../../reckon/due.js';
import type { HoursDue, Late, UpkeepState } from '../../reckon/upkeep.js';
import { type Caution, cautionsFor } from '../cautions.js';
import { type DueRow, dueRow } from '../due-row.js';
import { type Link, type Links, paths } from '../links.js';
import { makePage } from '../make-page.js';
import type { Page } from '../page.js';
import type { Site } from '../site-context.js';
import { showHours } from '../values.js';
import { count, datesInWords, dayWords } from '../words.js';

/** Days ahead that count as soon. */
export const SOON_DAYS = 60;

/** Work that comes back: when it is due and why, and when it was done. */
export interface UpkeepRow {
  readonly ref: string;
  readonly what: Link;
  readonly system: Link;
  readonly every: string;
  readonly safety: boolean;
  readonly hazards: readonly Link[];
  readonly overdue: boolean;
  readonly byDate: { readonly on: string; readonly inDays: number } | null;
  readonly byHours: HoursWords | null;
  /** Which of the two comes first; null where only one is asked for, or neither can be told. */
  readonly first: 'date' | 'hours' | null;
  /** Days on which it was done, newest first. */
  readonly done: readonly DoneRow[];
  /** `2 of 5 times late`; null where it never was, or was done once. */
  readonly kept: string | null;
  /** From when it counts, where it was never done. */
  readonly counts: string | null;
}

/** One time that it was done. */
export interface DoneRow {
  readonly date: string;
  readonly entry: Link;
  /** `712 days late`; null where it was in time, or nothing tells. */
  readonly late: string | null;
}

/** How many hours are left, and when that will be. */
export interface HoursWords {
  readonly overdue: boolean;
  readonly left: string;
  /** What the meter will show then. */
  readonly at: string;
  /** `between 15 Jan 2027 and 10 Jun 2027, at 5.1 h a week while in use`; null where it is overrun. */
  readonly expected: string | null;
}

/** All upkeep, and what else lapses. */
export interface UpkeepView {
  readonly overdue: readonly UpkeepRow[];
  readonly soon: readonly UpkeepRow[];
  readonly later: readonly UpkeepRow[];
  /** Of which nothing tells when it is due. */
  readonly unknown: readonly UpkeepRow[];
  /** Checks, tests and instruments: what was checked and does not hold for ever. */
  readonly checks: readonly DueRow[];
  readonly cautions: readonly Caution[];
}

/** Makes the page of upkeep, where the book has any. */
export function upkeepPages(site: Site): Page[] {
  const states = [...site.reckoning.upkeep.values()].sort(byDay);
  if (states.length === 0) return [];
  const { asOf } = site.reckoning;
  const soonEnd = addDays(asOf, SOON_DAYS);
  const rows = (wanted: (state: UpkeepState) => boolean) =>
    states.filter(wanted).map((state) => upkeepRow(site, site.top, state));
  const onTime = (state: UpkeepState) => !isOverdue(state) && state.dueOn !== null;
  const view = (): UpkeepView => ({
    overdue: rows(isOverdue),
    soon: rows((state) => onTime(state) && (state.dueOn ?? '') <= soonEnd),
    later: rows((state) => onTime(state) && (state.dueOn ?? '') > soonEnd),
    unknown: rows((state) => !isOverdue(state) && state.dueOn === null),
    checks: dueList(site.reckoning, null)
      .filter(({ sort }) => sort === 'check' || sort === 'test' || sort === 'instrument')
      .map((due) => dueRow(site.top, due)),
    cautions: cautionsFor([...new Set(states.flatMap((state) => hazardsOf(site, state)))]),
  });
  const parts = {
    path: paths.upkeep,
    title: 'Upkeep',
    section: 'upkeep',
    template: Upkeep,
    view,
  } as const;
  return [makePage(site, parts)];
}

function isOverdue({ overdueByDate, overdueByHours }: UpkeepState): boolean {
  return overdueByDate || overdueByHours;
}

function byDay(a: UpkeepState, b: UpkeepState): number {
  const [left, right] = [a.dueOn ?? '9999', b.dueOn ?? '9999'];
  return left < right ? -1 : left > right ? 1 : a.upkeep.ref < b.upkeep.ref ? -1 : 1;
}

/** Dangers of the work itself and of the system that it is done in. */
function hazardsOf(site: Site, { upkeep }: UpkeepState): readonly Hazard[] {
  const system = site.reckoning.book.systems.get(upkeep.system);
  return [...new Set([...upkeep.hazards, ...(system?.hazards ?? [])])];
}

/** One kind of upkeep, with links as seen from a page. */
export function upkeepRow(site: Site, links: Links, state: UpkeepState): UpkeepRow {
  const { upkeep, byCalendar, byHours, from, done } = state;
  return {
    ref: upkeep.ref,
    what: links.upkeep(upkeep.ref),
    system: links.system(upkeep.system),
    every: upkeep.everyWritten,
    safety: upkeep.safety,
    hazards: cautionsFor(hazardsOf(site, state)).map(({ hazard, title }) => ({
      text: title.toLowerCase(),
      href: links.to(`${paths.upkeep}#caution-${hazard}`),
    })),
    overdue: isOverdue(state),
    byDate: byCalendar,
    byHours: byHours === null ? null : hoursWords(byHours),
    first: firstOf(state),
    done: done
      .slice(0, 3)
      .map(({ date, entry, late }) => ({ date, entry: links.entry(entry), late: lateWords(late) })),
    kept: keptWords(done),
    counts:
      done.length > 0 || from === null
        ? null
        : `counts from ${dayWords(from.date)}, ${from.why === 'in-service' ? 'when the system came into service' : 'the first entry about it'}`,
  };
}

function lateWords(late: Late | null): string | null {
  if (late === null) return null;
  const { days, hours } = late;
  const parts = [days === null ? null : count(days, 'day'), hours === null ? null : showHours(hours)];
  return `${parts.filter((part) => part !== null).join(', ')} late`;
}

function keptWords(done: UpkeepState['done']): string | null {
  const late = done.filter((one) => one.late !== null).length;
  return late === 0 || done.length < 2 ? null : `${late} of ${count(done.length, 'time')} late`;
}

function firstOf({ byCalendar, byHours, overdueByHours }: UpkeepState): UpkeepRow['first'] {
  if (byCalendar === null || byHours === null) return null;
  if (overdueByHours) return byCalendar.inDays < 0 ? null : 'hours';
  const usual = byHours.expected?.usual;
  return usual !== undefined && usual < byCalendar.on ? 'hours' : 'date';
}

function hoursWords({ left, atReading, expected, because }: HoursDue): HoursWords {
  const overdue = left < 0;
  return {
    overdue,
    left: overdue ? `${showHours(-left)} over` : `${showHours(left)} left`,
    at: overdue
      ? `was due at ${showHours(atReading)}; the meter shows ${showHours(atReading - left)}`
      : `at ${showHours(atReading)} on the meter`,
    expected: overdue
      ? null
      : datesInWords([rangeWords(expected), because].filter((text) => text !== '').join(', ')),
  };
}

function rangeWords(expected: HoursDue['expected']): string {
  if (expected === null) return '';
  const { earliest, latest } = expected;
  if (latest === null) return `not before ${earliest}`;
  return earliest === latest ? `about ${earliest}` : `between ${earliest} and ${latest}`;
}
