import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Meter, MeterReading, System, Upkeep } from '../../src/check/model.js';
import { addDays, addInterval, daysBetween } from '../../src/reckon/calendar.js';
import { hoursOn, runningHours } from '../../src/reckon/running-hours.js';
import { type UpkeepFacts, upkeepState } from '../../src/reckon/upkeep.js';
import { entry, type Files, interval, quantity, reckoned, system } from './book.js';

const place = { file: 'systems/s.md', path: [] };

const meterOf = (wrapsAt: string | null = null): Meter => ({
  ref: 's.hours',
  system: 's',
  name: 'hours',
  title: 'Hours',
  unit: 'h',
  wrapsAt: wrapsAt === null ? null : quantity(wrapsAt),
  place,
});

/** `2026-01-01 100`, `2026-02-01 5 replaced`, `2026-02-01 5 wrapped`. */
function readMeter(...lines: readonly string[]): MeterReading[] {
  return lines.map((line) => {
    const [date = '', reads = '', why] = line.split(' ');
    return {
      date,
      meter: 's.hours',
      reads: quantity(`${reads} h`),
      replaced: why === 'replaced',
      wrapped: why === 'wrapped',
      entry: `${date}-work`,
      place,
    };
  });
}

interface Work {
  readonly every?: string;
  readonly hours?: number;
  readonly counts?: Upkeep['counts'];
}

const upkeepOf = ({ every, hours, counts = 'from-done' }: Work): Upkeep => ({
  ref: 's.job',
  system: 's',
  name: 'job',
  what: 'Do it',
  every: every === undefined ? null : interval(every),
  everyHours: hours === undefined ? null : quantity(`${hours} h`),
  meter: hours === undefined ? null : 's.hours',
  everyWritten: '',
  counts,
  safety: false,
  hazards: [],
  place,
});

interface Past {
  readonly since?: string | null;
  readonly first?: string | null;
  readonly done?: readonly string[];
  readonly meter?: readonly string[];
}

function due(work: Work, { since = '2024-01-01', first = null, done = [], meter = [] }: Past, asOf: string) {
  const readings = readMeter(...meter);
  const facts: UpkeepFacts = {
    system: { inService: since } as System,
    done: done.map((date) => ({ date, entry: `${date}-work` })),
    run: meter.length === 0 ? null : runningHours(meterOf(), readings),
    offset: (readings[0]?.reads.si ?? 0) / 3600,
    wrapsAt: null,
    firstEntry: first,
  };
  return upkeepState(upkeepOf(work), facts, asOf);
}

/** How late each time was, oldest first: `3 d`, `2 h`, `3 d 2 h`, `-`. */
function lateness(work: Work, past: Past): string {
  return due(work, past, '2030-01-01')
    .done.map(({ late }) => {
      const parts = [
        late?.days == null ? null : `${late.days} d`,
        late?.hours == null ? null : `${late.hours} h`,
      ];
      return parts.filter((part) => part !== null).join(' ') || '-';
    })
    .reverse()
    .join(', ');
}

describe('how late upkeep was done', () => {
  it.each<readonly [what: string, work: Work, past: Past, late: string]>([
    [
      'by the time before',
      { every: '6 months' },
      { done: ['2024-03-01', '2024-09-01', '2025-03-04', '2027-08-04'] },
      '-, -, 3 d, 699 d',
    ],
    [
      'from when it was due, so that what was late does not make the next one late as well',
      { every: '6 months', counts: 'from-due' },
      { done: ['2024-08-20', '2025-01-01', '2025-07-02'] },
      '-, -, 1 d',
    ],
    ['two entries of one day', { every: '1 month' }, { done: ['2024-05-01', '2024-05-01'] }, '-, -'],
    [
      'the first time, where the record goes back to the day it came into service',
      { every: '6 months' },
      { since: '2024-01-01', first: '2024-01-01', done: ['2024-07-11'] },
      '10 d',
    ],
    [
      'the first time of which the record cannot know',
      { every: '6 months' },
      { since: '2020-01-01', first: '2024-01-01', done: ['2024-07-11'] },
      '-',
    ],
    [
      'by the meter, and by both',
      { every: '1 year', hours: 100 },
      {
        done: ['2024-03-01', '2024-09-01', '2026-09-01'],
        meter: ['2024-01-01 0', '2024-03-01 50', '2024-09-01 162', '2026-09-01 300'],
      },
      '-, 12 h, 365 d 38 h',
    ],
    [
      // 14 CFR 91.409(b): an inspection flown over by up to 10 hours is counted from when it was due.
      'inspections of 100 hours that were flown over',
      { hours: 100, counts: 'from-due' },
      {
        first: '2024-01-01',
        done: ['2024-03-01', '2024-06-01', '2024-09-01'],
        meter: ['2024-01-01 0', '2024-03-01 109', '2024-06-01 200', '2024-09-01 304'],
      },
      '9 h, -, 4 h',
    ],
  ])('%s', (_what, work, past, late) => {
    expect(lateness(work, past)).toBe(late);
  });
});

describe('upkeep by the calendar', () => {
  it.each([
    ['never done', { every: '6 months' }, {}, '2024-07-01'],
    ['never done, month end', { every: '1 month' }, { since: '2024-01-31' }, '2024-02-29'],
    ['done', { every: '6 months' }, { done: ['2024-03-31'] }, '2024-09-30'],
    ['done on 31 January', { every: '1 month' }, { done: ['2025-01-31'] }, '2025-02-28'],
    ['a leap day and a year', { every: '1 year' }, { done: ['2024-02-29'] }, '2025-02-28'],
    ['weeks and days', { every: '1 week 3 days' }, { done: ['2024-12-25'] }, '2025-01-04'],
    ['the last time counts', { every: '6 months' }, { done: ['2024-03-01', '2024-08-15'] }, '2025-02-15'],
    ['done early, from when it was done', { every: '6 months' }, { done: ['2024-05-01'] }, '2024-11-01'],
    [
      'done early, from when it was due',
      { every: '6 months', counts: 'from-due' },
      { done: ['2024-05-01'] },
      '2025-01-01',
    ],
    [
      'done late, from when it was due',
      { every: '6 months', counts: 'from-due' },
      { done: ['2024-08-20'] },
      '2025-01-01',
    ],
    [
      'done on the day, from when it was due',
      { every: '6 months', counts: 'from-due' },
      { done: ['2024-07-01'] },
      '2025-01-01',
    ],
    [
      'done a whole turn late, from when it was due',
      { every: '6 months', counts: 'from-due' },
      { done: ['2025-02-10'] },
      '2025-07-01',
    ],
    [
      'done on the day it came into service',
      { every: '6 months', counts: 'from-due' },
      { done: ['2024-01-01'] },
      '2024-07-01',
    ],
    [
      'done twice before it was due',
      { every: '6 months', counts: 'from-due' },
      { done: ['2024-05-01', '2024-06-01'] },
      '2025-01-01',
    ],
    [
      'done in two entries of one day',
      { every: '6 months', counts: 'from-due' },
      { done: ['2024-08-20', '2024-08-20'] },
      '2025-01-01',
    ],
    [
      'month ends stay on their raster',
      { every: '1 month', counts: 'from-due' },
      { since: '2024-01-31', done: ['2024-02-29', '2024-03-31'] },
      '2024-04-30',
    ],
    [
      'and come back to the 31st',
      { every: '1 month', counts: 'from-due' },
      { since: '2024-01-31', done: ['2024-02-29'] },
      '2024-03-31',
    ],
  ] as const)('%s', (_why, work, past, on) => {
    expect(due(work, past, '2024-01-01').byCalendar?.on).toBe(on);
  });

  it('is overdue the day after, not on the day', () => {
    const on = (asOf: string) => due({ every: '6 months' }, {}, asOf);
    expect(on('2024-07-01')).toMatchObject({ overdueByDate: false, byCalendar: { inDays: 0 } });
    expect(on('2024-07-02')).toMatchObject({ overdueByDate: true, byCalendar: { inDays: -1 } });
    expect(on('2024-07-02').because).toBe(
      'Overdue since 2024-07-01. Never done on record; counts from 2024-01-01, when the system came into service.',
    );
  });

  it('counts from the first entry where nothing says when the system came into service', () => {
    const state = due({ every: '6 months' }, { since: null, first: '2024-03-01' }, '2024-04-01');
    expect(state).toMatchObject({ dueOn: '2024-09-01', from: { date: '2024-03-01', why: 'first-entry' } });
    expect(state.because).toContain('the first entry about it');
  });

  it('is not due where nothing tells when it began', () => {
    const state = due({ every: '6 months' }, { since: null }, '2024-04-01');
    expect(state).toMatchObject({ dueOn: null, byCalendar: null, from: null, overdueByDate: false });
    expect(state.because).toBe('Nothing tells when it began.');
  });
});

describe('running hours', () => {
  const hours = (lines: readonly string[], date: string, wraps: string | null = null) =>
    hoursOn(runningHours(meterOf(wraps), readMeter(...lines)), date);

  it('are interpolated between readings and held before and after', () => {
    const lines = ['2026-01-01 100', '2026-01-11 120', '2026-01-21 120'];
    expect(hours(lines, '2026-01-01')).toBe(0);
    expect(hours(lines, '2026-01-04')).toBeCloseTo(6, 12);
    expect(hours(lines, '2026-01-11')).toBe(20);
    expect(hours(lines, '2026-01-16')).toBe(20);
    expect(hours(lines, '2025-01-01')).toBe(0);
    expect(hours(lines, '2027-01-01')).toBe(20);
    expect(hours([], '2027-01-01')).toBeNull();
  });

  it('go on over a new meter, whatever it shows', () => {
    const lines = ['2026-01-01 100', '2026-02-01 150', '2026-02-02 3 replaced', '2026-03-01 13'];
    expect(hours(lines, '2026-03-01')).toBe(60);
    expect(hours(['2026-01-01 100', '2026-02-01 700 replaced', '2026-03-01 710'], '2026-03-01')).toBe(10);
  });

  it('go on over a meter that has gone round', () => {
    expect(hours(['2026-01-01 9990', '2026-02-01 5 wrapped'], '2026-02-01', '10000 h')).toBe(15);
  });

  it('take the last of several readings of one day', () => {
    expect(hours(['2026-01-01 100', '2026-01-11 120', '2026-01-11 125'], '2026-01-11')).toBe(25);
  });

  const rate = (...lines: readonly string[]) => runningHours(meterOf(), readMeter(...lines)).rate;

  it('tell a rate from two readings on', () => {
    expect(rate('2026-01-01 100')).toBeNull();
    expect(rate('2026-01-01 100', '2026-01-01 105')).toBeNull();
    expect(rate('2026-01-01 100', '2026-02-01 100')).toBeNull();
    expect(rate('2026-05-01 100', '2026-05-11 120')).toMatchObject({
      usual: 2,
      slow: 2,
      fast: 2,
      days: 10,
      since: '2026-05-01',
    });
  });

  const SUMMER = ['2025-05-01 100', '2025-06-01 131', '2025-07-01 161', '2025-08-01 192', '2025-10-01 253'];

  it('leave out a winter laid up, looked at once or every week', () => {
    const once = rate(...SUMMER, '2026-04-01 253', '2026-05-01 283');
    expect(once?.usual).toBeCloseTo(1, 12);
    const weeks = Array.from({ length: 26 }, (_, week) => `${addDays('2025-10-01', 7 * (week + 1))} 253`);
    const weekly = rate(...SUMMER, ...weeks, '2026-05-01 283');
    expect(weekly?.usual).toBeGreaterThan(0.95);
    expect(weekly?.since).toBe(once?.since);
  });

  it('keep a month without a trip', () => {
    expect(rate('2025-05-01 100', '2025-06-01 131', '2025-06-28 131', '2025-07-29 162')?.usual).toBeCloseTo(
      62 / 89,
      12,
    );
  });

  it('look back on half a year of use and no further', () => {
    const state = rate('2023-01-01 0', '2023-06-30 1800', '2024-01-01 1985', '2024-06-30 2166');
    expect(state?.usual).toBeCloseTo(1, 2);
    expect(state?.since).toBe('2024-01-01');
  });

  it('have slow and fast weeks about the usual', () => {
    fc.assert(
      fc.property(
        fc.array(fc.record({ days: fc.integer({ min: 1, max: 90 }), hours: fc.nat({ max: 400 }) }), {
          minLength: 1,
          maxLength: 20,
        }),
        (steps) => {
          let [date, shown] = ['2020-01-01', 0];
          const lines = [`${date} 0`];
          for (const step of steps) {
            date = addDays(date, step.days);
            shown += step.hours;
            lines.push(`${date} ${shown}`);
          }
          const found = rate(...lines);
          expect(found === null).toBe(shown === 0);
          if (found === null) return;
          expect(found.slow).toBeLessThanOrEqual(found.usual);
          expect(found.fast).toBeGreaterThanOrEqual(found.usual);
          expect(found.usual).toBeGreaterThan(0);
        },
      ),
    );
  });
});

describe('upkeep by running hours', () => {
  const meter = ['2024-01-01 0', '2024-02-10 80', '2024-03-21 160'];

  it.each([
    ['never done', { hours: 100 }, [], 100],
    ['done', { hours: 100 }, ['2024-02-10'], 180],
    ['done early, from when it was due', { hours: 100, counts: 'from-due' }, ['2024-02-10'], 200],
    ['done late, from when it was due', { hours: 100, counts: 'from-due' }, ['2024-03-01'], 200],
    ['done late, from when it was done', { hours: 100 }, ['2024-03-01'], 220],
    ['done twice before it was due', { hours: 100, counts: 'from-due' }, ['2024-02-01', '2024-02-10'], 200],
    [
      'done twice while it did not run',
      { hours: 100, counts: 'from-due' },
      ['2024-03-21', '2024-04-21'],
      200,
    ],
    ['done on the day it came into service', { hours: 100, counts: 'from-due' }, ['2024-01-01'], 100],
  ] as const)('%s', (_why, work, done, at) => {
    expect(due(work, { done, meter }, '2024-04-21').byHours?.atReading).toBeCloseTo(at, 9);
  });

  it('is projected at the recent rate, as a range with its reason', () => {
    const state = due(
      { hours: 200 },
      { meter: ['2024-01-01 0', '2024-01-11 10', '2024-01-21 40', '2024-01-31 60'] },
      '2024-02-01',
    );
    expect(state.byHours).toMatchObject({
      left: 140,
      expected: { earliest: '2024-03-18', usual: '2024-04-10', latest: '2024-06-19' },
    });
    expect(state.byHours?.because).toBe('at 14 h a week while in use, since 2024-01-01');
    expect(state.dueOn).toBe('2024-04-10');
  });

  it('tells about when and no range, where the meter was read at one pace only', () => {
    const state = due({ hours: 200 }, { meter: ['2024-01-01 0', '2024-01-31 60'] }, '2024-02-01');
    expect(state.byHours?.expected).toMatchObject({ earliest: '2024-04-10', latest: '2024-04-10' });
    expect(state.because).toContain('forecast to run out about 2024-04-10');
  });

  it('cannot tell when, where the meter was read once', () => {
    const state = due({ hours: 200 }, { meter: ['2024-01-01 0'] }, '2024-02-01');
    expect(state.byHours).toMatchObject({ left: 200, expected: null });
    expect(state.dueOn).toBeNull();
    expect(state.because).toContain('cannot be told');
  });

  it('is not due before its hours are run, however few are left', () => {
    const state = due({ hours: 161 }, { meter }, '2024-03-21');
    expect(state.byHours?.left).toBeCloseTo(1, 9);
    expect(state).toMatchObject({ overdueByHours: false, dueOn: '2024-03-22' });
  });

  it('is overdue by hours, and due at once', () => {
    const state = due({ hours: 150 }, { meter }, '2024-04-01');
    expect(state).toMatchObject({ overdueByHours: true, overdueByDate: false, dueOn: '2024-04-01' });
    expect(state.because).toContain('Was due at 150 h, 10 h over: the meter shows 160 h.');
  });

  it('shows what the meter will show, also after it was replaced or went round', async () => {
    const job = (more: string) =>
      system(
        's',
        `in-service: 2024-01-01\nmeters: { hours: { ${more} } }\nupkeep: { job: { what: Do, every: 100 h, meter: hours } }`,
      );
    const shows = (date: string, reads: string, more = '') =>
      entry(date, `meters: [{ meter: s.hours, reads: ${reads} h${more} }]`);
    const done = entry('2024-02-01', 'done: [s.job]', 'done');
    const at = async (...files: readonly Files[]) =>
      (await reckoned('2024-06-01', ...files)).upkeep.get('s.job')?.byHours;
    const before = [shows('2024-01-01', '9900'), shows('2024-02-01', '9950'), done];
    expect(await at(job(''), ...before)).toMatchObject({ atReading: 10050, left: 100 });
    expect(await at(job('wraps-at: 10000 h'), ...before)).toMatchObject({ atReading: 50, left: 100 });
    const round = shows('2024-03-01', '10', ', wrapped: true');
    expect(await at(job('wraps-at: 10000 h'), ...before, round)).toMatchObject({ atReading: 50, left: 40 });
    const replaced = shows('2024-03-01', '3', ', replaced: true');
    expect(await at(job(''), ...before, replaced)).toMatchObject({ atReading: 103, left: 100 });
  });
});

describe('whichever comes first', () => {
  const meter = ['2024-01-01 0', '2024-01-31 60'];

  it('is the calendar where the boat lies still, the hours where she does not', () => {
    expect(due({ every: '12 months', hours: 1000 }, { meter }, '2024-02-01').dueOn).toBe('2025-01-01');
    expect(due({ every: '12 months', hours: 100 }, { meter }, '2024-02-01').dueOn).toBe('2024-02-20');
  });

  it('can be overdue by one and not by the other', () => {
    expect(due({ every: '12 months', hours: 50 }, { meter }, '2024-02-01')).toMatchObject({
      overdueByHours: true,
      overdueByDate: false,
    });
    expect(due({ every: '1 week', hours: 500 }, { meter }, '2024-02-01')).toMatchObject({
      overdueByHours: false,
      overdueByDate: true,
      dueOn: '2024-01-08',
    });
  });

  const steps = fc.array(fc.record({ days: fc.integer({ min: 1, max: 60 }), hours: fc.nat({ max: 100 }) }), {
    minLength: 1,
    maxLength: 10,
  });
  const pastOf = (made: readonly { days: number; hours: number }[], doneAfter: readonly number[]) => {
    let [date, shown] = ['2024-01-01', 0];
    const lines = [`${date} 0`];
    for (const step of made) {
      date = addDays(date, step.days);
      shown += step.hours;
      lines.push(`${date} ${shown}`);
    }
    const done = doneAfter.map((days) => addDays('2024-01-01', days)).filter((day) => day <= date);
    return { past: { meter: lines, done: done.sort() }, asOf: date };
  };
  const never = (day: string | null | undefined) => day ?? '9999-12-31';

  it('never comes later for a shorter interval, nor earlier for a longer one', () => {
    fc.assert(
      fc.property(
        steps,
        fc.uniqueArray(fc.nat({ max: 300 }), { maxLength: 3 }),
        fc.tuple(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 1, max: 40 })),
        fc.tuple(fc.integer({ min: 1, max: 1000 }), fc.integer({ min: 1, max: 1000 })),
        (made, doneAfter, months, hours) => {
          const { past, asOf } = pastOf(made, doneAfter);
          const [short, long] = [0, 1].map((which) =>
            due(
              {
                every: `${months.sort((a, b) => a - b)[which]} months`,
                hours: hours.sort((a, b) => a - b)[which] ?? 1,
              },
              past,
              asOf,
            ),
          );
          expect(never(short?.dueOn) <= never(long?.dueOn)).toBe(true);
        },
      ),
    );
  });

  it('is the earlier of what either would be alone', () => {
    fc.assert(
      fc.property(
        steps,
        fc.integer({ min: 1, max: 40 }),
        fc.integer({ min: 1, max: 1000 }),
        (made, months, hours) => {
          const { past, asOf } = pastOf(made, []);
          const alone = [{ every: `${months} months` }, { hours }].map((work) =>
            never(due(work, past, asOf).dueOn),
          );
          const both = never(due({ every: `${months} months`, hours }, past, asOf).dueOn);
          expect(both).toBe(alone.sort()[0]);
        },
      ),
    );
  });

  it('gives ranges in order, none of them past', () => {
    fc.assert(
      fc.property(steps, fc.integer({ min: 1, max: 1000 }), fc.nat({ max: 400 }), (made, hours, later) => {
        const { past, asOf: read } = pastOf(made, []);
        const asOf = addDays(read, later);
        const expected = due({ hours }, past, asOf).byHours?.expected;
        if (expected == null) return;
        const { earliest, usual, latest } = expected;
        expect(asOf <= earliest && earliest <= usual && (latest === null || usual <= latest)).toBe(true);
      }),
    );
  });

  it('with the raster kept: never more than one interval after the last due day that is past', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.nat({ max: 1500 }), { maxLength: 6 }),
        fc.integer({ min: 1, max: 14 }),
        (doneAfter, months) => {
          const done = doneAfter.sort((a, b) => a - b).map((days) => addDays('2024-01-31', days));
          const every = interval(`${months} months`);
          const { byCalendar } = due(
            { every: `${months} months`, counts: 'from-due' },
            { since: '2024-01-31', done },
            '2024-01-31',
          );
          const last = done.at(-1) ?? '2024-01-31';
          const on = byCalendar?.on ?? '';
          expect(on > last || done.length === 0).toBe(true);
          expect(daysBetween(last, on)).toBeLessThanOrEqual(
            daysBetween(last, addInterval(addInterval(last, every), every)),
          );
        },
      ),
    );
  });
});
