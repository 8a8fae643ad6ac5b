import ical, { ICalEventTransparency } from 'ical-generator';
import { dayNumber } from '../reckon/calendar.js';
import { type Due, type DueSort, dueList } from '../reckon/due.js';
import type { Reckoning } from '../reckon/model.js';
import { SECONDS_A_DAY } from '../reckon/series.js';

/** Where things of a book are shown, for forms that lead there. */
export type PageOf = (due: Due) => string | null;

/**
 * What is due as a calendar (RFC 5545). Each thing is an event of a whole day that takes no time, since calendars
 * that are subscribed to show no to-dos. Its UID is what it is called in the book, so that a calendar that is
 * taken again moves the event when it was done and leaves no double; SEQUENCE and the stamps come from the day of
 * the reckoning, not from the clock, so that the same book gives the same bytes.
 *
 * What is overdue stands on the day of the reckoning: on the day it was due nobody looks any more.
 *
 * @param pageOf the absolute address of the page that shows it, where that is known.
 */
export function dueCalendar(reckoning: Reckoning, pageOf: PageOf): string {
  const { book, asOf } = reckoning;
  const stamp = midnight(asOf);
  const calendar = ical({
    name: `${book.subject.name}: due`,
    prodId: { company: 'Ribband', product: 'due', language: 'EN' },
    ttl: SECONDS_A_DAY,
    description: `What is due on ${book.subject.name}, as of ${asOf}.`,
  });
  for (const due of dueList(reckoning, null)) {
    const url = pageOf(due);
    calendar.createEvent({
      id: `${due.sort}-${due.id}@${book.id}.ribband.invalid`,
      stamp,
      lastModified: stamp,
      sequence: dayNumber(asOf),
      start: midnight(dayShown(due, asOf)),
      allDay: true,
      transparency: ICalEventTransparency.TRANSPARENT,
      summary: summaryOf(due, asOf),
      description: due.because,
      categories: [{ name: SORTS[due.sort] }, ...(due.safety ? [{ name: 'safety' }] : [])],
      ...(url === null ? {} : { url }),
    });
  }
  // Every line ends, the last one too (3.1).
  return `${calendar.toString()}\r\n`;
}

/** How many events the calendar has. */
export function dueCount(reckoning: Reckoning): number {
  return dueList(reckoning, null).length;
}

const SORTS: Readonly<Record<DueSort, string>> = {
  upkeep: 'upkeep',
  check: 'check again',
  test: 'test again',
  item: 'open work',
  part: 'part on order',
  instrument: 'instrument',
};

function dayShown({ on, overdue }: Due, asOf: string): string {
  return on === null || (overdue && on < asOf) ? asOf : on;
}

function summaryOf({ what, on, overdue }: Due, asOf: string): string {
  if (!overdue) return what;
  return on !== null && on < asOf ? `Overdue since ${on}: ${what}` : `Overdue: ${what}`;
}

function midnight(day: string): Date {
  return new Date(`${day}T00:00:00Z`);
}
