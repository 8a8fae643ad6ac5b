import { describe, expect, it } from 'vitest';
import { addDays, addInterval, daysBetween } from '../../src/reckon/calendar.js';
import { interval } from '../reckon/book.js';

// From memory: POSIX counts 10,957 days from 1970-01-01 to 2000-01-01 (946,684,800 s); the Modified Julian Date of
// 2000-01-01 is 51544, of 2026-01-01 61041, and its day 0 is 1858-11-17.
describe('days between days', () => {
  it.each([
    ['1970-01-01', '2000-01-01', 10_957],
    ['1858-11-17', '2000-01-01', 51_544],
    ['1858-11-17', '2026-01-01', 61_041],
    ['2000-02-28', '2000-03-01', 2],
    ['1900-02-28', '1900-03-01', 1],
  ])('%s to %s: %i', (from, to, days) => {
    expect(daysBetween(from, to)).toBe(days);
    expect(daysBetween(to, from)).toBe(-days);
    expect(addDays(from, days)).toBe(to);
    expect(addDays(to, -days)).toBe(from);
  });
});

// The documentation of ECMAScript's Temporal, `PlainDate.add` (from memory): a day that the month has not is taken
// back to its last day, and years and months are added before weeks and days.
describe('periods of the calendar', () => {
  it.each([
    ['2019-01-31', '1 month', '2019-02-28'],
    ['2020-01-31', '1 month', '2020-02-29'],
    ['2020-02-29', '1 year', '2021-02-28'],
    ['2020-02-29', '4 years', '2024-02-29'],
    ['2019-01-31', '1 month 1 day', '2019-03-01'],
    ['2019-12-31', '2 months', '2020-02-29'],
    ['2006-08-24', '20 years 4 months', '2026-12-24'],
    ['2026-12-25', '1 week', '2027-01-01'],
  ])('%s and %s is %s', (from, period, to) => {
    expect(addInterval(from, interval(period))).toBe(to);
  });
});
