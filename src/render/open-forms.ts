import type { TextPiece } from '../open/book-json.js';
import { dueCalendar } from '../open/calendar.js';
import { csvHead, csvRows } from '../open/csv.js';
import { CSVW_NAME, csvwDocument } from '../open/csvw.js';
import { diaryFeed, FEED_TYPE } from '../open/feed.js';
import { type Distribution, linkedData } from '../open/linked-data.js';
import { seriesAsCsv, seriesPath } from '../open/series.js';
import type { Table } from '../open/table.js';
import type { Reckoning } from '../reckon/model.js';
import { dueLink } from './due-row.js';
import { linksFrom, paths } from './links.js';

/** The files in which a book is handed on in forms that other programs read, and where they lie in the site. */

/** Names of the files in the folder of the open forms. */
export const OPEN_FILES = {
  book: 'book.json',
  schema: 'book.schema.json',
  tables: CSVW_NAME,
  due: 'due.ics',
  diary: 'diary.atom',
  linked: 'book.jsonld',
  sources: 'sources.zip',
} as const;

const JSON_TYPE = 'application/json';

/** A table as CSV, in pieces: its head, then a stretch each. */
export function openTable(table: Table): readonly TextPiece[] {
  return [
    { name: 'head', year: null, text: () => csvHead(table) },
    ...table.stretches.map(
      (stretch): TextPiece => ({
        name: stretch.name,
        year: stretch.name === '' ? null : stretch.name,
        text: () => csvRows(stretch),
      }),
    ),
  ];
}

/** What the columns of all tables are. */
export function openTables(reckoning: Reckoning, tables: readonly Table[]): string {
  return `${JSON.stringify(csvwDocument(reckoning, tables), null, 1)}\n`;
}

/** What is due, as a calendar. Addresses of pages stand in it where the book says where its site lies. */
export function openCalendar(reckoning: Reckoning): string {
  const { address } = reckoning.book;
  const links = linksFrom(address ?? '', reckoning);
  return dueCalendar(reckoning, (due) => (address === null ? null : dueLink(links, due).href));
}

/** The diary as a feed, as it lies in the site: where no address is known, its links count from the feed. */
export function openDiary(reckoning: Reckoning): string {
  const { address } = reckoning.book;
  const site = address ?? '../';
  return diaryFeed(reckoning, {
    self: address === null ? null : address + paths.open(OPEN_FILES.diary),
    site: site + paths.now,
    entry: (id) => site + paths.entry(id),
  });
}

/** The book as linked data, as it lies in the site beside the other files. */
export function openLinkedData(reckoning: Reckoning, tables: readonly Table[]): string {
  const { address } = reckoning.book;
  const base = address === null ? '' : address + paths.open('');
  const file = (name: string, mediaType: string): Distribution => ({ name, url: base + name, mediaType });
  const files = [
    file(OPEN_FILES.book, JSON_TYPE),
    ...tables.map(({ name }) => file(`${name}.csv`, 'text/csv')),
    ...[...reckoning.series.keys()].map((point) => file(seriesPath(point), 'text/csv')),
    file(OPEN_FILES.due, 'text/calendar'),
    file(OPEN_FILES.diary, FEED_TYPE),
  ];
  return `${JSON.stringify(linkedData(reckoning, address, files), null, 1)}\n`;
}

/** The readings of one logger. */
export function openSeries(reckoning: Reckoning, point: string): string {
  const state = reckoning.series.get(point);
  return state === undefined ? '' : seriesAsCsv(state.series);
}
