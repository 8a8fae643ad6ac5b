import { Log, LogYear } from '../../../site/templates/log.js';
import type { Entry } from '../../check/model.js';
import { type Link, type Links, paths } from '../links.js';
import { makePage } from '../make-page.js';
import type { Page } from '../page.js';
import type { Site } from '../site-context.js';
import { showHours } from '../values.js';
import { count } from '../words.js';

/** An entry as a row of the log. */
export interface EntryRow {
  readonly date: string;
  readonly entry: Link;
  readonly systems: readonly Link[];
  /** What is recorded in it: `3.5 h`, `4 readings`. */
  readonly holds: readonly string[];
}

/** One year of the log. */
export interface LogYearView {
  readonly year: string;
  readonly count: number;
  /** By month, newest first; `month` is `YYYY-MM`. */
  readonly months: readonly { readonly month: string; readonly entries: readonly EntryRow[] }[];
  readonly newer: Link | null;
  readonly older: Link | null;
  /** What changed in the year. */
  readonly changes: Link;
}

/** The list of years. */
export interface LogView {
  readonly years: readonly {
    readonly year: Link;
    readonly entries: number;
    readonly hours: string;
    readonly readings: number;
    /** Entries in each month, January first. */
    readonly months: readonly number[];
  }[];
  readonly total: number;
}

/** Makes the list of years and a page for each. */
export function logPages(site: Site): Page[] {
  const byYear = groupBy(site.reckoning.book.entries, (entry) => entry.date.slice(0, 4));
  const years = [...byYear.keys()].sort().reverse();
  const pages = years.map((_, index) => yearPage(site, byYear, years, index));
  const view = (): LogView => ({
    total: site.reckoning.book.entries.length,
    years: years.map((year) => yearRow(site.nested, year, byYear.get(year) ?? [])),
  });
  return [makePage(site, { path: paths.log, title: 'Log', section: 'log', template: Log, view }), ...pages];
}

function yearPage(site: Site, byYear: ReadonlyMap<string, Entry[]>, years: string[], index: number): Page {
  const year = years[index] as string;
  const entries = byYear.get(year) ?? [];
  const links = site.nested;
  const neighbour = (other: string | undefined): Link | null =>
    other === undefined ? null : { text: other, href: links.to(paths.year(other)) };
  const months = groupBy([...entries].reverse(), (entry) => entry.date.slice(0, 7));
  const view = (): LogYearView => ({
    year,
    count: entries.length,
    months: [...months].map(([month, found]) => ({
      month,
      entries: found.map((entry) => entryRow(links, entry)),
    })),
    newer: neighbour(years[index - 1]),
    older: neighbour(years[index + 1]),
    changes: { text: `What changed in ${year}`, href: links.to(paths.changes(year)) },
  });
  const parts = {
    path: paths.year(year),
    title: `Log of ${year}`,
    section: 'log',
    template: LogYear,
    view,
  } as const;
  return makePage(site, parts);
}

function yearRow(links: Links, year: string, entries: readonly Entry[]): LogView['years'][number] {
  const months = Array<number>(12).fill(0);
  let hours = 0;
  let readings = 0;
  for (const entry of entries) {
    const month = Number(entry.date.slice(5, 7)) - 1;
    months[month] = (months[month] ?? 0) + 1;
    hours += hoursOf(entry);
    readings += entry.readings.length;
  }
  const link = { text: year, href: links.to(paths.year(year)) };
  return { year: link, entries: entries.length, hours: showHours(hours), readings, months };
}

/** One entry as a row. */
export function entryRow(links: Links, entry: Entry): EntryRow {
  const hours = hoursOf(entry);
  const holds = [
    hours === 0 ? '' : showHours(hours),
    counted(entry.readings.length, 'reading'),
    counted(entry.tests.length, 'test'),
    counted(entry.parts.length, 'part'),
    counted(entry.decisions.length, 'decision'),
  ].filter((text) => text !== '');
  return { date: entry.date, entry: links.entry(entry.id), systems: entry.systems.map(links.system), holds };
}

function counted(number: number, word: string): string {
  return number === 0 ? '' : count(number, word);
}

/** Working hours of an entry. */
export function hoursOf(entry: Entry): number {
  return entry.hours.reduce((sum, { spent }) => sum + spent, 0);
}

/** Groups in the order in which their keys first turn up. */
export function groupBy<T>(items: readonly T[], keyOf: (item: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [item]);
    else group.push(item);
  }
  return groups;
}
