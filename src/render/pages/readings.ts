import { Readings, SystemReadings } from '../../../site/templates/readings.js';
import type { Reading } from '../../check/model.js';
import { type Link, paths } from '../links.js';
import { makeLatePage, makePage } from '../make-page.js';
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
    latest: newestFirst.slice(0, LATEST_ROWS).map((reading) => readingRow(site, reading)),
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
  return [index, ...tables, readingsData(site, newestFirst, tables)];
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
    const from = (page - 1) * PAGE_ROWS;
    const shown = readings.slice(from, from + PAGE_ROWS);
    const gather = (): SystemReadingsView => {
      const rows = shown.map((reading) => readingRow(site, reading));
      return { system, page, total: readings.length, pages, readings: rows };
    };
    return makeLatePage(site, {
      path: paths.systemReadings(id, page),
      title: `Readings: ${system.text}${page === 1 ? '' : `, page ${page}`}`,
      section: 'readings',
      template: SystemReadings,
      standsFor: [
        system,
        page,
        readings.length,
        pages,
        site.digests.names,
        site.digests.systems.get(id),
        originsOf(site, readings, from),
      ],
      gather,
    });
  });
}

/**
 * Stands for a stretch of a system's readings: the entries they come from, as they are written, with how many
 * of each are in the stretch, and how many of the first entry's lie before it.
 */
function originsOf({ reckoning }: Site, readings: readonly Reading[], from: number): unknown {
  const first = readings[from]?.entry;
  let before = 0;
  while (readings[from - before - 1]?.entry === first && from > before) before += 1;
  const origins: { readonly id: string; readonly hash: string | undefined; count: number }[] = [];
  for (const { entry } of readings.slice(from, from + PAGE_ROWS)) {
    const last = origins.at(-1);
    if (last?.id === entry) last.count += 1;
    else origins.push({ id: entry, hash: reckoning.entries.get(entry)?.hash, count: 1 });
  }
  return [before, origins];
}

/**
 * All readings as a script that sets one variable. A script and not JSON, since a page opened from disk may
 * load a script but not fetch a file. Rows are lists in the order of the table's columns.
 */
function readingsData(site: Site, readings: readonly Reading[], tables: readonly Page[]): Page {
  // The tables hold every reading, each table in its order; with the order of the systems that is all of it.
  const order = readings.map((reading) => reading.system);
  return {
    path: paths.readingsData,
    key: site.keyOf(
      paths.readingsData,
      tables.map(({ key }) => key),
      order,
    ),
    render: () => `window.ribbandReadings=${scriptSafe(JSON.stringify(columns(site, readings)))};\n`,
  };
}

function columns(site: Site, readings: readonly Reading[]): unknown {
  const entries: string[] = [];
  const entryAt = new Map<string, number>();
  const rows = readings.map((reading) => {
    const row = readingRow(site, reading);
    if (!entryAt.has(reading.entry)) entryAt.set(reading.entry, entries.push(reading.entry) - 1);
    const spread = row.value.spread === 'stated' ? '' : (row.value.spread ?? '');
    const limit = row.limit === null || row.limit === 'no-limit' ? '' : row.limit;
    const how = [row.basis === 'measured' ? null : row.basis, row.taken, row.note];
    const words = how.filter((text) => text !== null).join('; ');
    return [
      row.date,
      row.system.text,
      row.what.text,
      row.value.text,
      spread,
      limit,
      words,
      entryAt.get(reading.entry),
    ];
  });
  return { entries, rows };
}

/** JSON that can stand in a script whatever is in it. */
function scriptSafe(json: string): string {
  return json.replace(
    /[<\u2028\u2029]/g,
    (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}
