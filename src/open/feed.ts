import type { Entry } from '../check/model.js';
import type { Reckoning } from '../reckon/model.js';
import { firstWords } from './first-words.js';
import { stableId } from './ids.js';

export const FEED_TYPE = 'application/atom+xml';

/** Entries in the feed: the newest ones. */
export const FEED_ENTRIES = 50;

/** Where the feed and the pages that it leads to lie. */
export interface FeedPlace {
  /** The feed itself; null where no absolute address is known. */
  readonly self: string | null;
  /** The site's first page. */
  readonly site: string;
  readonly entry: (id: string) => string;
}

/** The entries that the feed tells of, newest first. */
export function feedEntries({ book }: Pick<Reckoning, 'book'>): readonly Entry[] {
  return book.entries.slice(-FEED_ENTRIES).reverse();
}

/**
 * The diary as an Atom feed (RFC 4287): title, systems and first words of the newest entries, with the way to
 * each. Ids come from the names in the book and never change, not even when the site moves. An entry knows its
 * day only; it is told as noon of that day by UTC, which is the same day nearly everywhere.
 *
 * Written here and not by a library, since those refuse the relative addresses that a feed has as long as nobody
 * knows where its site will lie.
 */
export function diaryFeed(reckoning: Reckoning, place: FeedPlace): string {
  const { book, asOf } = reckoning;
  const entries = feedEntries(reckoning);
  const { name } = book.subject;
  return [
    '<?xml version="1.0" encoding="utf-8"?>',
    `<feed xmlns="http://www.w3.org/2005/Atom" xml:lang="${escaped(book.language)}">`,
    `<id>${stableId(book.id, 'diary')}</id>`,
    `<title>${escaped(name)}: log</title>`,
    `<updated>${noon(entries[0]?.date ?? asOf)}</updated>`,
    // People are not named: who may be named is the book's affair, and a feed goes everywhere.
    `<author><name>${escaped(name)}</name></author>`,
    '<generator>Ribband</generator>',
    ...(place.self === null ? [] : [`<link rel="self" type="${FEED_TYPE}" href="${escaped(place.self)}"/>`]),
    `<link rel="alternate" type="text/html" href="${escaped(place.site)}"/>`,
    ...entries.map((entry) => entryXml(reckoning, entry, place)),
    '</feed>\n',
  ].join('\n');
}

function entryXml({ book }: Reckoning, entry: Entry, place: FeedPlace): string {
  const day = noon(entry.date);
  return [
    '<entry>',
    `<id>${stableId(book.id, `entries/${entry.id}`)}</id>`,
    `<title>${escaped(entry.title)}</title>`,
    `<updated>${day}</updated>`,
    `<published>${day}</published>`,
    `<link rel="alternate" type="text/html" href="${escaped(place.entry(entry.id))}"/>`,
    ...entry.systems.map(
      (id) => `<category term="${escaped(id)}" label="${escaped(book.systems.get(id)?.title ?? id)}"/>`,
    ),
    `<summary>${escaped(firstWords(entry.body) ?? entry.title)}</summary>`,
    '</entry>',
  ].join('\n');
}

function noon(day: string): string {
  return `${day}T12:00:00Z`;
}

/** A text inside XML, between tags and in quoted attributes; characters that XML cannot carry are left out. */
function escaped(text: string): string {
  return text
    .replaceAll(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, '')
    .replaceAll(/[&<>"']/g, (letter) => `&#${letter.charCodeAt(0)};`);
}
