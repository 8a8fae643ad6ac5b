import { Downloads } from '../../../site/templates/downloads.js';
import { bookJson, type TextPiece } from '../../open/book-json.js';
import { dueCount } from '../../open/calendar.js';
import { FEED_ENTRIES, feedEntries } from '../../open/feed.js';
import { seriesPath } from '../../open/series.js';
import { rowCount } from '../../open/table.js';
import { tablesOf } from '../../open/tables/index.js';
import type { Trend } from '../../reckon/trend-model.js';
import type { Piece } from '../../write/pieces.js';
import type { BookZipOffer } from '../book-zip.js';
import { paths } from '../links.js';
import { makePage } from '../make-page.js';
import { once } from '../once.js';
import {
  OPEN_FILES,
  openCalendar,
  openDiary,
  openLinkedData,
  openSeries,
  openTable,
  openTables,
} from '../open-forms.js';
import type { Page } from '../page.js';
import type { Site } from '../site-context.js';
import { trendFor } from '../trends.js';
import { count } from '../words.js';

/** A file that can be taken away. */
export interface FileRow {
  readonly name: string;
  readonly href: string;
  readonly holds: string;
  /** `312 rows`; empty where nothing can be counted. */
  readonly size: string;
}

/** The book's own files, from which this site can be built again. */
export interface SourcesView {
  /** Null where they are too large to lie in a site. */
  readonly file: FileRow | null;
  /** `86 files, 3.4 MB` */
  readonly size: string;
  readonly photos: number;
  readonly isCopy: boolean;
  /** As of which day the site has to be built to be the same. */
  readonly asOf: string;
}

/** All files that can be taken away. */
export interface DownloadsView {
  readonly tables: readonly FileRow[];
  readonly loggers: readonly FileRow[];
  readonly whole: readonly FileRow[];
  readonly sources: SourcesView;
  readonly calendar: FileRow;
  readonly feed: FileRow;
  /** Absolute addresses to subscribe to, where the book says where its site lies. */
  readonly subscribe: { readonly calendar: string; readonly feed: string } | null;
}

/** Makes the book in open forms, and the page that leads to the files. */
export function downloadPages(site: Site, exportSchema: string, zip: BookZipOffer): Page[] {
  const { reckoning } = site;
  const { address } = reckoning.book;
  const tables = tablesOf(reckoning);
  const row = (file: string, holds: string, size: string): FileRow => {
    return { name: file, href: paths.open(file), holds, size };
  };
  const view = (): DownloadsView => ({
    tables: [
      ...tables.map((table) => row(`${table.name}.csv`, table.about, count(rowCount(table), 'row'))),
      row(OPEN_FILES.tables, 'What each column of the tables holds, for programs (CSV on the Web).', ''),
    ],
    loggers: [...reckoning.series.values()].map(({ series: { point, times } }) =>
      row(seriesPath(point), site.top.point(point).text, count(times.length, 'row')),
    ),
    whole: [
      row(
        OPEN_FILES.book,
        'Everything, as written and as computed, in one document.',
        count(reckoning.book.entries.length, 'entry', 'entries'),
      ),
      row(OPEN_FILES.schema, 'What each field of it means, as a JSON Schema.', ''),
      row(
        OPEN_FILES.linked,
        'Particulars, specs and last readings in the words of schema.org (JSON-LD).',
        count(reckoning.specs.size, 'spec'),
      ),
    ],
    sources: sourcesView(site, zip),
    calendar: row(OPEN_FILES.due, 'What is due, each thing on its day.', count(dueCount(reckoning), 'event')),
    feed: row(
      OPEN_FILES.diary,
      `The newest entries, up to ${FEED_ENTRIES}, with their first words.`,
      count(feedEntries(reckoning).length, 'entry', 'entries'),
    ),
    subscribe:
      address === null
        ? null
        : {
            calendar: address + paths.open(OPEN_FILES.due),
            feed: address + paths.open(OPEN_FILES.diary),
          },
  });
  const page = makePage(site, {
    path: paths.downloads,
    title: 'Downloads',
    section: 'downloads',
    template: Downloads,
    view,
  });
  return [page, ...openFiles(site, tables, exportSchema)];
}

function sourcesView(
  { reckoning, frame }: Site,
  { files, photos, bytes, isMade }: BookZipOffer,
): SourcesView {
  const size = `${count(files, 'file')}, ${megabytes(bytes)}`;
  const name = OPEN_FILES.sources;
  return {
    file: isMade ? { name, href: paths.open(name), holds: 'What this book is written in.', size } : null,
    size,
    photos,
    isCopy: frame.copy !== null,
    asOf: reckoning.asOf,
  };
}

function megabytes(bytes: number): string {
  return bytes < 1_000_000 ? `${Math.ceil(bytes / 1000)} kB` : `${(bytes / 1_000_000).toFixed(1)} MB`;
}

function openFiles(site: Site, tables: ReturnType<typeof tablesOf>, exportSchema: string): Page[] {
  const { reckoning, digests } = site;
  const whole = once(() => site.keyOf('open', ...declared(site), [...digests.years]));
  const declarations = once(() => site.keyOf('open', ...declared(site)));
  const page = (file: string, key: () => string, render: () => string): Page => ({
    path: paths.open(file),
    get key() {
      return `${key()} ${file}`;
    },
    render,
  });
  const inPieces = (file: string, pieces: () => readonly TextPiece[]): Page => {
    const keyed = once(() =>
      pieces().map(
        ({ name, year, text }): Piece => ({
          get key() {
            const base = year === null ? whole() : `${declarations()} ${digests.years.get(year)}`;
            return `${base} ${file} ${name}`;
          },
          render: text,
        }),
      ),
    );
    return {
      path: paths.open(file),
      get key() {
        return `${whole()} ${file}`;
      },
      render: () =>
        keyed()
          .map((piece) => piece.render())
          .join(''),
      get pieces() {
        return keyed();
      },
    };
  };
  return [
    inPieces(OPEN_FILES.book, () => bookJson(reckoning, () => allTrends(site))),
    page(
      OPEN_FILES.schema,
      () => site.keyOf(exportSchema),
      () => exportSchema,
    ),
    ...tables.map((table) => inPieces(`${table.name}.csv`, () => openTable(table))),
    page(OPEN_FILES.tables, whole, () => openTables(reckoning, tables)),
    page(OPEN_FILES.due, whole, () => openCalendar(reckoning)),
    page(OPEN_FILES.diary, whole, () => openDiary(reckoning)),
    page(OPEN_FILES.linked, whole, () => openLinkedData(reckoning, tables)),
    ...[...reckoning.series.values()].map(({ series: { point, hash, times } }) =>
      page(
        seriesPath(point),
        () => site.keyOf(hash, times.length),
        () => openSeries(reckoning, point),
      ),
    ),
  ];
}

/** All that the open forms show besides what entries say. */
function declared({ reckoning: { book }, digests }: Site): readonly unknown[] {
  const { id, subject, currency, address, plans } = book;
  const prose = [...book.systems.values()].map(({ body }) => body);
  return [id, subject, currency, address, plans, digests.names, [...digests.systems], prose, loggers(book)];
}

function loggers({ series }: Site['reckoning']['book']): readonly unknown[] {
  return [...series].map(([point, { hash, times }]) => [point, hash, times.length]);
}

function allTrends(site: Site): ReadonlyMap<string, Trend> {
  const { timelines } = site.reckoning;
  return new Map([...timelines].map(([ref, timeline]) => [ref, trendFor(site, timeline)]));
}
