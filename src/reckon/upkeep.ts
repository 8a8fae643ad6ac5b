import type { System, Upkeep } from '../check/model.js';
import type { Interval, Quantity } from '../quantity/index.js';
import { addDays, addInterval, daysBetween, timesInterval } from './calendar.js';
import { hoursOn, type RunningHours } from './running-hours.js';

/** One time that upkeep was done. */
export interface UpkeepDone {
  readonly date: string;
  readonly entry: string;
  /** Running hours at that time; null where no meter tells. */
  readonly hours: number | null;
  /** By how much its turn was past; null where it was in time, or nothing tells. */
  readonly late: Late | null;
}

/** How long after its turn something was done: by the calendar, by the meter, or by both. */
export interface Late {
  readonly days: number | null;
  readonly hours: number | null;
}

/** One time that it was done, before it is held against the time before. */
type Told = Omit<UpkeepDone, 'late'>;

/** Due by the calendar. */
export interface CalendarDue {
  readonly on: string;
  /** Days from the day asked about; negative where it is past. */
  readonly inDays: number;
}

/** Due by running hours. */
export interface HoursDue {
  /** What the meter will show then, if it is not replaced meanwhile. */
  readonly atReading: number;
  /** Hours left; negative where they are overrun. */
  readonly left: number;
  /** When that will be at the recent rate of use; null where no rate is known. `latest` is null where use may stop. */
  readonly expected: {
    readonly earliest: string;
    readonly usual: string;
    readonly latest: string | null;
  } | null;
  /** The rate behind it, in words. */
  readonly because: string;
}

export interface UpkeepState {
  readonly upkeep: Upkeep;
  /** Newest first. */
  readonly done: readonly UpkeepDone[];
  /** From when the present interval counts. */
  readonly from: {
    readonly date: string;
    readonly why: 'done' | 'due' | 'in-service' | 'first-entry';
  } | null;
  readonly byCalendar: CalendarDue | null;
  readonly byHours: HoursDue | null;
  readonly overdueByDate: boolean;
  readonly overdueByHours: boolean;
  /** The day by which it has to be done, whichever comes first; null where nothing tells. */
  readonly dueOn: string | null;
  readonly because: string;
}

/** What upkeep is reckoned from. */
export interface UpkeepFacts {
  readonly system: System;
  /** Days of the entries that did it, oldest first. */
  readonly done: readonly { readonly date: string; readonly entry: string }[];
  /** Running hours of its meter, and what the meter shows on top of them. */
  readonly run: RunningHours | null;
  readonly offset: number;
  /** Hours at which the meter starts again from zero, where it does. */
  readonly wrapsAt: number | null;
  /** Day of the first entry of its system. */
  readonly firstEntry: string | null;
}

/**
 * When upkeep is due: by the calendar, by running hours, or by whichever of the two comes first.
 *
 * An interval counts from the last time it was done; with `from-due`, from when it was due then, so that what
 * is done late does not push the next one back (the rule of 14 CFR 91.409(b) for inspections by hours). Done
 * a second time before its turn has begun it is just done once more: the next one does not move. Work never done counts from the day its system came into service, or else from the first entry about it.
 */
export function upkeepState(upkeep: Upkeep, facts: UpkeepFacts, asOf: string): UpkeepState {
  const start = startOf(facts);
  const told = facts.done.map(
    ({ date, entry }): Told => ({
      date,
      entry,
      hours: facts.run === null ? null : hoursOn(facts.run, date),
    }),
  );
  const done = told.map((one, at) => ({ ...one, late: lateOf(upkeep, facts, told.slice(0, at), one) }));
  const byCalendar =
    upkeep.every === null || start === null
      ? null
      : calendarDue(upkeep, upkeep.every, done, start.date, asOf);
  const byHours =
    upkeep.everyHours === null || facts.run === null
      ? null
      : hoursDue(upkeep, facts.run, facts, done, start?.date ?? null, asOf);
  const last = done.at(-1);
  const overdueByDate = byCalendar !== null && byCalendar.inDays < 0;
  const overdueByHours = byHours !== null && byHours.left < 0;
  const from =
    last === undefined
      ? start
      : ({ date: last.date, why: upkeep.counts === 'from-due' ? 'due' : 'done' } as const);
  const state = {
    upkeep,
    done: [...done].reverse(),
    from,
    byCalendar,
    byHours,
    overdueByDate,
    overdueByHours,
  };
  return { ...state, dueOn: firstOf(byCalendar, byHours, asOf), because: explain(state) };
}

/**
 * How late it was done, by when it was due after the times before. The first time is held against the day on which its
 * system came into service only where the record goes back that far: what was done before it is on no record.
 */
function lateOf(
  upkeep: Upkeep,
  facts: UpkeepFacts,
  before: readonly Told[],
  { date, hours }: Told,
): Late | null {
  const start = startOf(facts);
  if (start === null) return null;
  const isCovered = start.why === 'in-service' && facts.firstEntry !== null && facts.firstEntry <= start.date;
  if (before.length === 0 && !isCovered) return null;
  const days =
    upkeep.every === null ? 0 : -calendarDue(upkeep, upkeep.every, before, start.date, date).inDays;
  const begin = facts.run === null ? null : hoursOn(facts.run, start.date);
  const due =
    upkeep.everyHours === null || begin === null
      ? null
      : hoursDueAt(upkeep, upkeep.everyHours, before, begin);
  const over = due === null || hours === null ? 0 : Math.round(hours - due);
  return days <= 0 && over <= 0 ? null : { days: days > 0 ? days : null, hours: over > 0 ? over : null };
}

function startOf({
  system,
  firstEntry,
}: UpkeepFacts): { readonly date: string; readonly why: 'in-service' | 'first-entry' } | null {
  if (system.inService !== null) return { date: system.inService, why: 'in-service' };
  return firstEntry === null ? null : { date: firstEntry, why: 'first-entry' };
}

function calendarDue(
  upkeep: Upkeep,
  every: Interval,
  done: readonly Told[],
  start: string,
  asOf: string,
): CalendarDue {
  const on =
    upkeep.counts === 'from-due'
      ? nextFromDue(every, done, start)
      : addInterval(done.at(-1)?.date ?? start, every);
  return { on, inDays: daysBetween(asOf, on) };
}

/**
 * The due day after the last time it was done, on the raster that begins at the start. A month end stays one.
 * What is done after a due day settles it and all before; what is done before it settles it only if the due
 * day before that is past, so that nothing is skipped by doing it twice.
 */
function nextFromDue(every: Interval, done: readonly Told[], start: string): string {
  const dueAt = (turn: number) => addInterval(start, timesInterval(every, turn));
  let turn = 1;
  for (const date of new Set(done.map((one) => one.date))) {
    if (date > dueAt(turn - 1)) turn += 1;
    while (dueAt(turn) <= date) turn += 1;
  }
  return dueAt(turn);
}

function hoursDue(
  upkeep: Upkeep,
  run: RunningHours,
  { offset, wrapsAt }: Pick<UpkeepFacts, 'offset' | 'wrapsAt'>,
  done: readonly Told[],
  start: string | null,
  asOf: string,
): HoursDue | null {
  const begin = start === null ? 0 : hoursOn(run, start);
  const now = hoursOn(run, asOf);
  if (upkeep.everyHours === null || begin === null || now === null) return null;
  const at = hoursDueAt(upkeep, upkeep.everyHours, done, begin);
  if (at === null) return null;
  // Beyond the last reading nothing is known but the rate; the meter is taken to have gone on at it.
  const lastRead = run.points.at(-1)?.date ?? asOf;
  const atReading = wrapsAt === null || at + offset < wrapsAt ? at + offset : at + offset - wrapsAt;
  return { atReading, left: at - now, ...projected(run, at - now, lastRead, asOf) };
}

/** The running hours at which it is due after it was done as often as that; null for an interval of none. */
function hoursDueAt(
  upkeep: Upkeep,
  everyHours: Quantity,
  done: readonly Told[],
  begin: number,
): number | null {
  const every = everyHours.si / 3600;
  if (every <= 0) return null;
  return upkeep.counts === 'from-due'
    ? nextHoursFromDue(every, done, begin)
    : (done.at(-1)?.hours ?? begin) + every;
}

/** The same by running hours. */
function nextHoursFromDue(every: number, done: readonly Told[], begin: number): number {
  let turn = 1;
  for (const hours of new Set(done.flatMap((one) => one.hours ?? []))) {
    if (hours > begin + (turn - 1) * every) turn += 1;
    while (begin + turn * every <= hours) turn += 1;
  }
  return begin + turn * every;
}

/** Farther ahead than this a projection is a guess. */
const FAR_DAYS = 3650;

function projected(
  run: RunningHours,
  left: number,
  lastRead: string,
  asOf: string,
): Pick<HoursDue, 'expected' | 'because'> {
  const { rate } = run;
  if (rate === null)
    return { expected: null, because: 'the meter has not been read often enough to tell how fast it counts' };
  const because = `at ${(rate.usual * 7).toPrecision(2)} h a week while in use, since ${rate.since}`;
  if (left <= 0) return { expected: { earliest: asOf, usual: asOf, latest: asOf }, because };
  const on = (perDay: number) =>
    perDay > 0 && left / perDay <= FAR_DAYS
      ? latestOf(addDays(lastRead, Math.ceil(left / perDay)), asOf)
      : null;
  const usual = on(rate.usual);
  return usual === null
    ? { expected: null, because }
    : { expected: { earliest: on(rate.fast) ?? usual, usual, latest: on(rate.slow) }, because };
}

function latestOf(a: string, b: string): string {
  return a > b ? a : b;
}

function firstOf(byCalendar: CalendarDue | null, byHours: HoursDue | null, asOf: string): string | null {
  const hours = byHours === null ? null : byHours.left < 0 ? asOf : (byHours.expected?.usual ?? null);
  const days = [byCalendar?.on ?? null, hours].filter((day) => day !== null);
  return days.sort()[0] ?? null;
}

function explain(state: Omit<UpkeepState, 'dueOn' | 'because'>): string {
  const { byCalendar, byHours, from } = state;
  const since = from === null ? 'Nothing tells when it began.' : SINCE[from.why](from.date);
  const parts = [
    byCalendar === null
      ? ''
      : byCalendar.inDays < 0
        ? `Overdue since ${byCalendar.on}.`
        : `${byHours === null ? 'Due' : 'By the calendar due'} on ${byCalendar.on}.`,
    byHours === null ? '' : hoursInWords(byHours),
  ].filter((text) => text !== '');
  return [...parts, since].join(' ');
}

function hoursInWords({ left, atReading, expected, because }: HoursDue): string {
  if (left < 0)
    return `Was due at ${round(atReading)} h, ${round(-left)} h over: the meter shows ${round(atReading - left)} h.`;
  if (expected === null) return `${round(left)} h left; when that is cannot be told: ${because}.`;
  const range =
    expected.latest === null
      ? `not before ${expected.earliest}`
      : expected.earliest === expected.latest
        ? `about ${expected.usual}`
        : `between ${expected.earliest} and ${expected.latest}`;
  return `By the meter ${round(left)} h left, forecast to run out ${range}, ${because}.`;
}

const SINCE = {
  done: (date: string) => `Last done on ${date}.`,
  due: (date: string) => `Last done on ${date}; counts from when it was due.`,
  'in-service': (date: string) =>
    `Never done on record; counts from ${date}, when the system came into service.`,
  'first-entry': (date: string) => `Never done on record; counts from ${date}, the first entry about it.`,
} as const;

function round(hours: number): string {
  return String(Math.round(hours * 10) / 10);
}
