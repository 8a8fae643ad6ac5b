import { Readings, SystemReadings } from '../../../site/templates/readings.js';
import type { Reading } from '../../check/model.js';
import { encoderFor, headNames, namesOf } from '../../find/index.js';
import { type Kind, kindInfo } from '../../quantity/index.js';
import { stretchesOf } from '../../reckon/records.js';
import type { Piece } from '../../write/pieces.js';
import { type Link, paths } from '../links.js';
import { makeLatePage, makePage } from '../make-page.js';
import { once } from '../once.js';
import type { Page } from '../page.js';
import { type ReadingRow, readingRow } from '../rows.js';
import { scriptSafe } from '../script-safe.js';
import type { Site } from '../site-context.js';
import { groupBy } from './log.js';

/** Rows of one table: more make a page slow to lay out and to check. */
const PAGE_ROWS = 400;
const LATEST_ROWS = 60;

/** The latest readings, and the way to all of them. */
export interface ReadingsView {
  readonly total: number;
  readonly latest: readonly ReadingRow[];
  readonly systems: readonly { readonly system: Link; readonly readings: number }[];
  readonly search: SearchView;
}

/** What the limits of a search can be chosen from, each with the words that are shown. */
export interface SearchView {
  /** Way to the site's folder. */
  readonly root: string;
  readonly systems: readonly Choice[];
  readonly points: readonly Choice[];
  readonly kinds: readonly Choice[];
  readonly conditions: readonly string[];
}

export type Choice = readonly [value: string, words: string];

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
  const view = (): ReadingsView => ({
    total: newestFirst.length,
    latest: newestFirst.slice(0, LATEST_ROWS).map((reading) => readingRow(site, reading)),
    systems: systems.flatMap((id) => {
      const readings = bySystem.get(id)?.length ?? 0;
      if (readings === 0) return [];
      const text = links.system(id).text;
      return [{ system: { text, href: links.to(paths.systemReadings(id, 1)) }, readings }];
    }),
    search: searchView(site, links.root),
  });
  const index = makePage(site, {
    path: paths.readings,
    title: 'Readings',
    section: 'readings',
    template: Readings,
    view,
    scripts: ['assets/readings.js'],
  });
  const tables = systems.flatMap((id) => systemPages(site, id, bySystem.get(id) ?? []));
  return [index, ...tables, ...searchData(site)];
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
      standsFor: () => [
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

function searchView({ reckoning }: Site, root: string): SearchView {
  const points = [...reckoning.timelines.values()].map(({ point }) => point);
  const kinds = new Set<Kind>(
    [...points, ...reckoning.readings.map(({ quantity }) => quantity)].map(({ kind }) => kind),
  );
  const conditions = new Set(
    reckoning.readings.flatMap(({ under }) => under.map(({ name }) => name.replaceAll('-', ' '))),
  );
  return {
    root,
    systems: [...reckoning.book.systems.values()].map(({ id, title }): Choice => [id, title]),
    points: points.map(({ ref, title }): Choice => [ref, title]),
    kinds: [...kinds]
      .map((kind): Choice => [kind, kindInfo(kind).title])
      .sort(([, a], [, b]) => (a < b ? -1 : 1)),
    conditions: [...conditions].sort(),
  };
}

/**
 * Everything that can be found, as scripts that hand it to the page's own. Scripts and not JSON, since a page
 * opened from disk may load a script but not fetch a file. The first of them has the names, and a line about
 * each of the others.
 */
function searchData(site: Site): Page[] {
  const { reckoning, digests } = site;
  const declared = once(() => site.keyOf('search', digests.names, [...digests.systems]));
  const names = once(() => namesOf(reckoning));
  const encoder = once(() => encoderFor(names()));
  const head: Piece[] = [
    {
      get key() {
        return site.keyOf('search names', declared());
      },
      render: () =>
        `window.ribbandFind({${scriptSafe(JSON.stringify(headNames(names()))).slice(1, -1)},"parts":[\n`,
    },
  ];
  const parts = stretchesOf(reckoning).map(({ name, standsFor, records }): Page => {
    const keyOf = once(() => site.keyOf(declared(), name, standsFor()));
    const encoded = once(() => encoder()({ name, records: records() }));
    head.push({
      get key() {
        return `${keyOf()} about`;
      },
      render: () => `${scriptSafe(JSON.stringify(encoded().about))},\n`,
    });
    return {
      path: paths.findPart(name),
      get key() {
        return keyOf();
      },
      render: () => `window.ribbandFind(${scriptSafe(JSON.stringify(encoded().part))});\n`,
    };
  });
  head.push({ key: 'end', render: () => ']});\n' });
  const first: Page = {
    path: paths.findHead,
    get key() {
      return site.keyOf(head.map(({ key }) => key));
    },
    render: () => head.map((piece) => piece.render()).join(''),
    pieces: head,
  };
  return [first, ...parts];
}
