import { Readings, SystemReadings } from '../../../site/templates/readings.js';
import type { Reading } from '../../check/model.js';
import { type Link, paths } from '../links.js';
import { makePage } from '../make-page.js';
import type { Page } from '../page.js';
import { type ReadingRow, readingRow } from '../rows.js';
import type { Site } from '../site-context.js';
import { groupBy } from './log.js';

/** Rows of one table: more make a page slow to lay out and to check. */
const PAGE_ROWS = 400;
const LATEST_ROWS = 200;

/** The latest readings, and the way to all of them. */
export interface ReadingsView {
  readonly total: number;
  readonly latest: readonly ReadingRow[];
  readonly systems: readonly { readonly system: Link; readonly readings: number }[];
  readonly data: string;
}

/** Readings of one system, one page of them. */
export interface SystemReadingsView {
  readonly system: Link;
  readonly page: number;
  readonly total: number;
  readonly pages: readonly Link[];
  readonly readings: readonly ReadingRow[];
}

/** Makes the page of readings, tables for each system, and the data that the filter reads. */
export function readingPages(site: Site): Page[] {
  const newestFirst = [...site.reckoning.readings].reverse();
  const bySystem = groupBy(newestFirst, (reading) => reading.system);
  const links = site.nested;
  const systems = [...new Set([...site.reckoning.book.systems.keys(), ...bySystem.keys()])];
  const view: ReadingsView = {
    total: newestFirst.length,
    latest: newestFirst.slice(0, LATEST_ROWS).map((reading) => readingRow(site, links, reading)),
    systems: systems.flatMap((id) => {
      const readings = bySystem.get(id)?.length ?? 0;
      if (readings === 0) return [];
      const text = links.system(id).text;
      return [{ system: { text, href: links.to(paths.systemReadings(id, 1)) }, readings }];
    }),
    data: links.to(paths.readingsData),
  };
  const index = makePage(site, {
    path: paths.readings,
    title: 'Readings',
    section: 'readings',
    template: Readings,
    view,
    scripts: ['assets/readings.js'],
  });
  const tables = systems.flatMap((id) => systemPages(site, id, bySystem.get(id) ?? []));
  return [index, ...tables, readingsData(site, newestFirst)];
}

/** A system without readings has a page too: its own page leads there. */
function systemPages(site: Site, id: string, readings: readonly Reading[]): Page[] {
  const links = site.nested;
  const numbers = Array.from(
    { length: Math.max(1, Math.ceil(readings.length / PAGE_ROWS)) },
    (_, at) => at + 1,
  );
  const system = links.system(id);
  const pages = numbers.map((page) => ({
    text: String(page),
    href: links.to(paths.systemReadings(id, page)),
  }));
  return numbers.map((page) => {
    const shown = readings.slice((page - 1) * PAGE_ROWS, page * PAGE_ROWS);
    const view: SystemReadingsView = {
      system,
      page,
      total: readings.length,
      pages,
      readings: shown.map((reading) => readingRow(site, links, reading)),
    };
    const title = `Readings: ${system.text}${page === 1 ? '' : `, page ${page}`}`;
    const path = paths.systemReadings(id, page);
    return makePage(site, { path, title, section: 'readings', template: SystemReadings, view });
  });
}

/**
 * All readings as a script that sets one variable. A script and not JSON, since a page opened from disk may
 * load a script but not fetch a file. Rows are lists in the order of the table's columns.
 */
function readingsData(site: Site, readings: readonly Reading[]): Page {
  const rows = () => {
    const entries: string[] = [];
    const entryAt = new Map<string, number>();
    const rows = readings.map((reading) => {
      const row = readingRow(site, site.nested, reading);
      if (!entryAt.has(reading.entry)) entryAt.set(reading.entry, entries.push(reading.entry) - 1);
      const spread = row.value.spread === 'stated' ? '' : (row.value.spread ?? '');
      const limit = row.limit === null || row.limit === 'no-limit' ? '' : row.limit;
      const how = [row.taken, row.note].filter((text) => text !== null).join(' – ');
      return [
        row.date,
        row.system.text,
        row.what.text,
        row.value.text,
        spread,
        limit,
        how,
        entryAt.get(reading.entry),
      ];
    });
    return scriptSafe(JSON.stringify({ entries, rows }));
  };
  const shown = readings.map((reading) => [reading, site.timelinePoints.get(reading)?.limit]);
  return {
    path: paths.readingsData,
    key: site.keyOf(paths.readingsData, shown, names(site)),
    render: () => `window.ribbandReadings=${rows()};\n`,
  };
}

/** Names that readings are shown with and do not carry themselves. */
function names({ reckoning, display }: Site): unknown {
  const { systems, people, instruments } = reckoning.book;
  return [
    display,
    [...systems.values()].map((system) => [
      system.title,
      [...system.points.values()].map(({ title }) => title),
    ]),
    [...people.values()].map(({ name }) => name),
    [...instruments.values()].map(({ name }) => name),
  ];
}

/** JSON that can stand in a script whatever is in it. */
function scriptSafe(json: string): string {
  return json.replace(
    /[<\u2028\u2029]/g,
    (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}
