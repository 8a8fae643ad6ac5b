import { describe, expect, it } from 'vitest';
import { entry, type Files, reckoned, system } from '../reckon/book.js';

const meter = (date: string, reads: string) =>
  entry(date, `meters: [{ meter: s.hours, reads: ${reads} h }]`, 'meter');
const done = (date: string) => entry(date, 'done: [s.inspection]', 'done');

const job = (every: string, counts: string) =>
  system(
    's',
    `in-service: 2024-01-01
meters: { hours: {} }
upkeep: { inspection: { what: Inspect, every: ${every}, ${every.includes('h') && !every.includes('month') ? 'meter: hours, ' : ''}counts: ${counts} } }`,
  );

const state = async (asOf: string, ...files: readonly Files[]) =>
  (await reckoned(asOf, ...files)).upkeep.get('s.inspection');

// 14 CFR 91.409(b), as read in the regulation: the limit of 100 hours may be exceeded by not more than 10 hours while
// en route to a place where the inspection can be done, and "the excess time used to reach a place where the
// inspection can be done must be included in computing the next 100 hours". The figures (done at 104.5 where it
// was due at 100, so next due at 200 and not at 204.5) are worked out from that rule.
describe('inspections by hours, 14 CFR 91.409(b)', () => {
  const late = [meter('2024-01-01', '0'), meter('2024-06-01', '104.5'), done('2024-06-01')];

  it('counts the excess into the next hundred hours where upkeep counts from when it was due', async () => {
    const found = await state('2024-06-01', job('100 h', 'from-due'), ...late);
    expect(found?.byHours?.atReading).toBe(200);
    expect(found?.byHours?.left).toBeCloseTo(95.5, 9);
  });

  it('does not, where it counts from when it was done', async () => {
    const found = await state('2024-06-01', job('100 h', 'from-done'), ...late);
    expect(found?.byHours?.atReading).toBe(204.5);
  });

  // The rule forgives nothing for being early either: it has no word on it, and shops count from when it was done
  // (common practice, no source). `from-due` keeps to its raster there, which is later than that.
  it('keeps to the raster for what was done early', async () => {
    const early = [meter('2024-01-01', '0'), meter('2024-06-01', '90'), done('2024-06-01')];
    expect((await state('2024-06-01', job('100 h', 'from-due'), ...early))?.byHours?.atReading).toBe(200);
    expect((await state('2024-06-01', job('100 h', 'from-done'), ...early))?.byHours?.atReading).toBe(190);
  });
});

// 14 CFR 91.409(a), as read in the regulation: "within the preceding 12 calendar months". That such a month runs to its
// end (done on any day of March 2024, good until the end of March 2025) is from memory. Here an interval runs from
// day to day, so what is due by the calendar here is due on or before the day of that rule, never after it.
describe('inspections by calendar months, 14 CFR 91.409(a)', () => {
  const END = '2025-03-31';

  it.each([
    ['2024-03-01', '2025-03-01'],
    ['2024-03-15', '2025-03-15'],
    ['2024-03-31', END],
  ])('done on %s it is due on %s, no later than the end of March', async (day, on) => {
    const found = await state('2024-04-01', job('12 months', 'from-done'), done(day));
    expect(found?.byCalendar?.on).toBe(on);
    expect(on <= END).toBe(true);
  });
});
