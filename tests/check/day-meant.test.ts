import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dayMeant } from '../../src/check/day-meant.js';

describe('a day in another form', () => {
  it.each([
    ['18 April 2026', '2026-04-18'],
    ['18. April 2026', '2026-04-18'],
    ['18th Apr 2026', '2026-04-18'],
    ['1-Sept-2026', '2026-09-01'],
    ['April 18, 2026', '2026-04-18'],
    ['Apr. 18th 2026', '2026-04-18'],
    ['2026/04/18', '2026-04-18'],
    ['2026-4-8', '2026-04-08'],
    ['2026.4.8', '2026-04-08'],
    ['20260408', '2026-04-08'],
    ['25/12/2026', '2026-12-25'],
    ['12/25/2026', '2026-12-25'],
    ['5.5.2026', '2026-05-05'],
    ['29 February 2028', '2028-02-29'],
  ])('%s is %s', (written, day) => {
    expect(dayMeant(written)).toBe(day);
  });

  it.each([
    '04/05/2026',
    '4.5.2026',
    '18/04/26',
    '26-04-18',
    '29 February 2026',
    '31 April 2026',
    '2026-13-01',
    '18 Ma 2026',
    '18 Mai 2026',
    '18/04-2026',
    'April 2026',
    '18 April',
    '2026-04-18T10:00',
    'soon',
    '',
  ])('%s is left alone', (written) => {
    expect(dayMeant(written)).toBeNull();
  });

  it('gives the day of every day of the calendar written in words, and of none with day and month below 13', () => {
    const name = new Intl.DateTimeFormat('en-GB', { dateStyle: 'long', timeZone: 'UTC' });
    const range = { min: new Date('1900-01-01'), max: new Date('2100-01-01'), noInvalidDate: true };
    fc.assert(
      fc.property(fc.date(range), (date) => {
        const day = date.toISOString().slice(0, 10);
        expect(dayMeant(name.format(date))).toBe(day);
        const [year, month, ofMonth] = day.split('-').map(Number) as [number, number, number];
        const sure = ofMonth > 12 || ofMonth === month;
        expect(dayMeant(`${ofMonth}/${month}/${year}`)).toBe(sure ? day : null);
      }),
    );
  });
});
