import type { Reading } from '../check/model.js';
import type { LimitState } from '../reckon/model.js';
import type { Link } from './links.js';
import { instrumentName, personName, type Site } from './site-context.js';
import { type ShownValue, showConditions, showReading } from './values.js';

/** Rows that more than one page shows. */

/** A reading as a row. */
export interface ReadingRow {
  readonly date: string;
  readonly system: Link;
  readonly what: Link;
  readonly value: ShownValue;
  readonly basis: Reading['basis'];
  /** Null where the reading belongs to no point. */
  readonly limit: LimitState | null;
  /** Instrument, person and conditions in one line; null where nothing is said. */
  readonly taken: string | null;
  readonly note: string | null;
  /** Address of the entry. */
  readonly entry: string | null;
}

/** One reading, with links as seen from a page in a folder. */
export function readingRow(site: Site, reading: Reading): ReadingRow {
  const links = site.nested;
  const what: Link =
    reading.point === null ? { text: reading.what ?? '', href: null } : links.point(reading.point);
  return {
    date: reading.date,
    system: links.system(reading.system),
    what,
    value: showReading(reading.quantity, reading.uncertainty, site.display),
    basis: reading.basis,
    limit: site.inTimeline(reading)?.limit ?? null,
    taken: takenWords(site, reading),
    note: reading.note,
    entry: links.entry(reading.entry).href,
  };
}

/** How something was taken: `clamp meter, by the owner, ambient 19 °C`. */
export function takenWords(site: Site, how: Pick<Reading, 'with' | 'by' | 'under'>): string | null {
  const by = personName(site, how.by);
  const parts = [
    instrumentName(site, how.with),
    by === null ? null : `by ${by}`,
    showConditions(how.under, site.display),
  ].filter((part) => part !== null);
  return parts.length === 0 ? null : parts.join(', ');
}
