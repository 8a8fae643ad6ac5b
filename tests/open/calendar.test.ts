import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { dueCalendar } from '../../src/open/calendar.js';
import { dueList } from '../../src/reckon/due.js';
import { entry, reckoned, system } from '../reckon/book.js';
import { demo } from './demo.js';
import { HOSTILE } from './hostile-texts.js';

/** Calendars read back by ical.js, and the rules of RFC 5545 that it lets pass. */

interface Event {
  readonly uid: string;
  readonly summary: string;
  readonly start: string;
  readonly sequence: number;
}

function read(text: string): readonly Event[] {
  const calendar = new ICAL.Component(ICAL.parse(text) as object[]);
  return calendar.getAllSubcomponents('vevent').map((component) => {
    const event = new ICAL.Event(component);
    expect(event.startDate.isDate).toBe(true);
    return {
      uid: event.uid,
      summary: event.summary,
      start: event.startDate.toString(),
      sequence: event.sequence,
    };
  });
}

const NOWHERE = () => null;

describe('the calendar of the demo book', () => {
  it('has everything that is due, once, and nothing in the past', async () => {
    const reckoning = await demo();
    const due = dueList(reckoning, null);
    const events = read(dueCalendar(reckoning, NOWHERE));
    expect(events.length).toBe(due.length);
    expect(due.length).toBeGreaterThan(50);
    expect(new Set(events.map(({ uid }) => uid)).size).toBe(events.length);
    expect(events.filter(({ start }) => start < reckoning.asOf)).toEqual([]);
    const later = due.find(({ overdue, on }) => !overdue && on !== null);
    expect(events.find(({ summary }) => summary === later?.what)?.start).toBe(later?.on);
  });

  it('keeps the rules that a lenient reader lets pass', async () => {
    const text = dueCalendar(await demo(), (due) => `https://example.org/x#${due.id}`);
    expect(text.endsWith('END:VCALENDAR\r\n')).toBe(true);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    for (const line of text.split('\r\n')) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
    const whole = text.replaceAll(/\r\n[ \t]/g, '');
    expect(whole).toMatch(/^BEGIN:VCALENDAR\r\nVERSION:2\.0\r\nPRODID:[^\r]+\r\n/);
    const events = whole.split('BEGIN:VEVENT\r\n').slice(1);
    for (const event of events) {
      // 3.6.1: each of these once; a day begins and ends by itself, so that there is no DTEND.
      for (const once of [
        'UID',
        'DTSTAMP',
        'DTSTART',
        'SEQUENCE',
        'LAST-MODIFIED',
        'SUMMARY',
        'TRANSP',
        'URL',
      ])
        expect(event.match(new RegExp(`^${once}[:;]`, 'gm'))?.length, once).toBe(1);
      expect(event).toMatch(/^DTSTAMP:20261120T000000Z\r$/m);
      expect(event).toMatch(/^DTSTART;VALUE=DATE:\d{8}\r$/m);
    }
  });

  it('is the same for the same book and day, whatever the clock', async () => {
    const first = dueCalendar(await demo(), NOWHERE);
    await new Promise((resolve) => setTimeout(resolve, 1100));
    expect(dueCalendar(await demo(), NOWHERE)).toBe(first);
  });
});

describe('a calendar that is taken again', () => {
  const files = system('s', 'upkeep:\n  oil: { what: Change the oil, every: 6 months }');
  const done = entry('2029-01-10', 'done: [s.oil]');

  it('moves an event instead of doubling it', async () => {
    const [before] = read(dueCalendar(await reckoned('2029-02-01', files, done), NOWHERE));
    const again = entry('2029-06-20', 'done: [s.oil]', 'again');
    const [after] = read(dueCalendar(await reckoned('2029-07-01', files, done, again), NOWHERE));
    expect(before).toMatchObject({ start: '2029-07-10', summary: 'Change the oil' });
    expect(after).toMatchObject({ uid: before?.uid, start: '2029-12-20' });
    expect(after?.sequence).toBeGreaterThan(before?.sequence ?? Number.NaN);
  });

  it('shows what is overdue on the day of the book', async () => {
    const [late] = read(dueCalendar(await reckoned('2029-08-01', files, done), NOWHERE));
    expect(late).toMatchObject({ start: '2029-08-01', summary: 'Overdue since 2029-07-10: Change the oil' });
  });
});

describe('texts that look like lines of a calendar', () => {
  it.each(HOSTILE)('%j stays a text', async (text) => {
    const items = JSON.stringify([{ item: 'x', what: text, by: '2029-05-01' }]);
    const made = await reckoned('2029-02-01', system('s', ''), entry('2029-01-10', `opens: ${items}`));
    const events = read(dueCalendar(made, NOWHERE));
    // A calendar knows one sort of line end inside a text (3.3.11).
    expect(events.map(({ summary }) => summary)).toEqual([text.replaceAll(/\r\n?/g, '\n')]);
  });
});
