import type { Due, DueSort } from '../reckon/due.js';
import { type Link, type Links, paths } from './links.js';
import { count, datesInWords } from './words.js';

/** Something that comes due, as a row. */
export interface DueRow {
  readonly sort: DueSort;
  readonly what: Link;
  readonly system: Link | null;
  readonly on: string | null;
  /** `in 4 days`, `12 days over`, `overdue by hours`. */
  readonly when: string;
  readonly overdue: boolean;
  readonly safety: boolean;
  readonly because: string;
}

/** One thing that comes due, with links as seen from a page. */
export function dueRow(links: Links, due: Due): DueRow {
  return {
    sort: due.sort,
    what: { text: due.what, href: dueLink(links, due).href },
    system: due.system === null ? null : links.system(due.system),
    // Hours that are overrun have no day of their own.
    on: due.overdue && (due.inDays ?? 0) >= 0 ? null : due.on,
    when: whenInWords(due),
    overdue: due.overdue,
    safety: due.safety,
    because: datesInWords(due.because),
  };
}

/** The way to where something that comes due is shown. */
export function dueLink(links: Links, { sort, id }: Due): Link {
  switch (sort) {
    case 'upkeep':
      return links.upkeep(id);
    case 'check':
      return links.spec(id);
    case 'test':
      return links.test(id);
    case 'item':
      return links.item(id);
    case 'part':
      return links.part(id);
    case 'instrument':
      return { text: id, href: links.to(`${paths.about}#instruments`) };
  }
}

function whenInWords({ inDays, overdue }: Due): string {
  if (inDays === null) return overdue ? 'overdue by hours' : '';
  if (overdue && inDays >= 0) return 'overdue by hours';
  if (inDays === 0) return 'today';
  return overdue ? `${count(-inDays, 'day')} over` : `in ${count(inDays, 'day')}`;
}
