import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Entry, Hours } from '../../src/check/model.js';
import { addDays } from '../../src/reckon/calendar.js';
import { arrivalOf, type LeadTime } from '../../src/reckon/lead-times.js';
import type { PartState } from '../../src/reckon/model.js';
import { paceOf } from '../../src/reckon/work.js';
import { entry, type Files, reckoned, system } from './book.js';

const entryWith = (date: string, spent: number): Entry =>
  ({ date, hours: [{ spent } as Hours] }) as unknown as Entry;

/** So many hours in each week up to the day, oldest first. */
function weeksOf(asOf: string, hours: readonly number[]): readonly Entry[] {
  return [
    entryWith(addDays(asOf, -7 * hours.length), 0),
    ...hours.map((spent, at) => entryWith(addDays(asOf, -7 * (hours.length - at - 1)), spent)),
  ];
}

describe('the pace of work', () => {
  const ASOF = '2026-06-01';

  it('is not told from less than four weeks, nor from none logged', () => {
    expect(paceOf([], ASOF)).toBeNull();
    expect(paceOf(weeksOf(ASOF, [5, 5, 5]), ASOF)).toBeNull();
    expect(paceOf(weeksOf(ASOF, [0, 0, 0, 0]), ASOF)).toBeNull();
    expect(paceOf(weeksOf(ASOF, [5, 5, 5, 5]), ASOF)).toEqual({
      usual: 5,
      slow: 5,
      fast: 5,
      weeks: 4,
      since: '2026-05-04',
    });
  });

  it('counts the weeks in which nothing was done', () => {
    expect(paceOf(weeksOf(ASOF, [20, 0, 0, 0]), ASOF)?.usual).toBe(5);
  });

  it('looks back half a year and no further', () => {
    const pace = paceOf(weeksOf(ASOF, [...Array<number>(30).fill(100), ...Array<number>(26).fill(3)]), ASOF);
    expect(pace).toMatchObject({ usual: 3, slow: 3, fast: 3, weeks: 26, since: '2025-12-01' });
  });

  it('has slow weeks no faster and fast weeks no slower than the usual', () => {
    const logged = fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 4, maxLength: 40 });
    fc.assert(
      fc.property(logged, (hours) => {
        const pace = paceOf(weeksOf(ASOF, hours), ASOF);
        if (pace === null) return expect(hours.slice(-26).every((spent) => spent === 0)).toBe(true);
        expect(pace.slow).toBeLessThanOrEqual(pace.usual);
        expect(pace.fast).toBeGreaterThanOrEqual(pace.usual);
      }),
    );
  });
});

describe('when a part will come', () => {
  const LEAD: LeadTime = { supplier: 'Quay', count: 5, median: 20, ninety: 60, late: 0, promised: 0 };
  const ordered = (due: string | null) =>
    ({ id: 'pump', now: 'ordered', ordered: '2026-01-01', due, supplier: 'Quay' }) as PartState;
  const range = (due: string | null, lead: LeadTime | undefined, asOf: string) => {
    const arrival = arrivalOf(ordered(due), lead, asOf);
    return arrival === null ? null : `${arrival.earliest} ${arrival.latest}`;
  };

  it.each([
    ['as promised, and later as the supplier is', '2026-01-15', LEAD, '2026-01-05', '2026-01-15 2026-03-02'],
    [
      'as promised, where nothing is known of the supplier',
      '2026-01-15',
      undefined,
      '2026-01-05',
      '2026-01-15 2026-01-15',
    ],
    ['as the supplier is, where nothing was promised', null, LEAD, '2026-01-05', '2026-01-21 2026-03-02'],
    ['not before today, where it is late', '2026-01-15', LEAD, '2026-02-01', '2026-02-01 2026-03-02'],
    [
      'today at the earliest and at the latest, where it is later than ever',
      '2026-01-15',
      LEAD,
      '2026-04-01',
      '2026-04-01 2026-04-01',
    ],
    [
      'no later than promised, where the supplier is quicker',
      '2026-06-01',
      LEAD,
      '2026-02-01',
      '2026-06-01 2026-06-01',
    ],
    ['who knows', null, undefined, '2026-01-05', null],
    [
      'who knows, from too few deliveries',
      null,
      { ...LEAD, count: 2, median: null, ninety: null },
      '2026-01-05',
      null,
    ],
  ] as const)('%s', (_why, due, lead, asOf, expected) => {
    expect(range(due, lead, asOf)).toBe(expected);
  });

  it('is not asked of what is not on order', () => {
    expect(arrivalOf({ ...ordered('2026-01-15'), now: 'ashore' }, LEAD, '2026-01-05')).toBeNull();
  });

  it('says why', () => {
    expect(arrivalOf(ordered('2026-01-15'), LEAD, '2026-01-05')?.because).toBe(
      'promised for 2026-01-15; Quay takes 20 days in the middle and up to 60 (5 deliveries)',
    );
  });
});

const ASOF = '2026-06-01';

/** Seven hours in each of so many weeks: an hour a day. */
const hourADay: Files = Object.assign(
  {},
  ...Array.from({ length: 9 }, (_, week) =>
    entry(addDays(ASOF, -7 * week), 'hours: [{ by: owner, spent: 7 h }]', 'hours'),
  ),
) as Files;

const goal = async (opens: readonly string[], ...more: readonly Files[]) => {
  const list = entry('2026-04-06', `opens:\n${opens.map((line) => `  - { ${line} }`).join('\n')}`, 'open');
  return (await reckoned(ASOF, system('s', ''), hourADay, ...more, list)).work.goals[0];
};

describe('when a goal can be reached', () => {
  it('is when its chain is done', async () => {
    const found = await goal([
      'item: launch, what: Launch, goal: true, size: 1 h, waits-on: [item paint]',
      'item: paint, what: Paint, size: 6 h, waits-on: [item sand]',
      'item: sand, what: Sand, size: 3 h',
      'item: idle, what: Something else, size: 100 h',
    ]);
    expect(found).toMatchObject({
      chain: ['sand', 'paint', 'launch'],
      hours: 10,
      chainHours: 10,
      forecast: { earliest: '2026-06-11', latest: '2026-06-11' },
      unsized: [],
      unpromised: [],
    });
  });

  it('is not before all the work for it is done, whatever the chain', async () => {
    const found = await goal([
      'item: launch, what: Launch, goal: true, waits-on: [item a, item b, item c]',
      'item: a, what: A, size: 10 h',
      'item: b, what: B, size: 9 h',
      'item: c, what: C, size: 8 h',
    ]);
    expect(found).toMatchObject({
      chain: ['a', 'launch'],
      hours: 27,
      chainHours: 10,
      forecast: { earliest: '2026-06-28', latest: '2026-06-28' },
    });
  });

  it('moves with a late part on the chain, and only on it', async () => {
    const order = (due: string) =>
      entry('2026-05-01', `parts: [{ part: shaft, move: ordered, due: ${due} }]`, 'order');
    const opens = [
      'item: launch, what: Launch, goal: true, waits-on: [item fit, item paint]',
      'item: fit, what: Fit, size: 2 h, waits-on: [part shaft]',
      'item: paint, what: Paint, size: 6 h',
    ];
    expect(await goal(opens, order('2026-06-03'))).toMatchObject({
      chain: ['paint', 'launch'],
      forecast: { earliest: '2026-06-09' },
    });
    expect(await goal(opens, order('2026-07-31'))).toMatchObject({
      chain: ['part shaft', 'fit', 'launch'],
      forecast: { earliest: '2026-08-02', latest: '2026-08-02' },
    });
  });

  it('leaves out what is done, and lists what nobody has sized or promised', async () => {
    const found = await goal(
      [
        'item: launch, what: Launch, goal: true, waits-on: [item done, item open, part bolt]',
        'item: done, what: Done, size: 50 h',
        'item: open, what: Open',
      ],
      entry('2026-05-02', 'closes: [done]\nparts: [{ part: bolt, move: ordered }]', 'close'),
    );
    expect(found).toMatchObject({ hours: 0, unsized: ['open'], unpromised: ['bolt'] });
    expect(found?.because).toContain('1 of the jobs has no size');
    expect(found?.because).toContain('nothing tells when bolt will come');
  });

  it('cannot be told without a pace', async () => {
    const list = entry(
      '2026-05-30',
      'opens: [{ item: launch, what: Launch, goal: true, size: 3 h }]',
      'open',
    );
    const [found] = (await reckoned(ASOF, system('s', ''), list)).work.goals;
    expect(found).toMatchObject({ hours: 3, forecast: null, chain: ['launch'] });
    expect(found?.because).toContain('no pace can be told');
  });

  it('is no longer asked once it is reached', async () => {
    const list = entry('2026-05-30', 'opens: [{ item: launch, what: Launch, goal: true }]', 'open');
    const done = entry('2026-05-31', 'closes: [launch]', 'close');
    expect((await reckoned(ASOF, system('s', ''), list, done)).work.goals).toEqual([]);
  });

  it('is a range in order, from today on, in which the chain has room', async () => {
    const job = fc.record({
      size: fc.nat({ max: 30 }),
      before: fc.array(fc.nat({ max: 9 }), { maxLength: 3 }),
    });
    await fc.assert(
      fc.asyncProperty(fc.array(job, { minLength: 1, maxLength: 8 }), async (jobs) => {
        const lines = jobs.map(({ size, before }, at) => {
          const waits = at === 0 ? [] : [...new Set(before.map((one) => `item j${one % at}`))];
          const sized = size === 0 ? '' : `, size: ${size} h`;
          return `item: j${at}, what: Job, waits-on: [${waits.join(', ')}]${sized}${at === jobs.length - 1 ? ', goal: true' : ''}`;
        });
        const found = await goal(lines);
        const { earliest = '', latest = '' } = found?.forecast ?? {};
        expect(ASOF <= earliest && earliest <= latest).toBe(true);
        expect(found?.chainHours).toBeLessThanOrEqual(found?.hours ?? Number.NaN);
        expect(found?.chain.at(-1)).toBe(`j${jobs.length - 1}`);
        expect(earliest >= addDays(ASOF, found?.hours ?? Number.NaN)).toBe(true);
      }),
      { numRuns: 40 },
    );
  });
});

describe('lead times', () => {
  const delivery = (id: string, from: string, to: string, due = '') => ({
    ...entry(from, `parts: [{ part: ${id}, move: ordered, from-supplier: Quay${due} }]`, `${id}-order`),
    ...entry(to, `parts: [{ part: ${id}, move: arrived }]`, `${id}-came`),
  });

  it('are told from three deliveries on, with how many came late', async () => {
    const two = [
      delivery('a', '2026-01-01', '2026-01-11', ', due: 2026-01-10'),
      delivery('b', '2026-01-01', '2026-01-21', ', due: 2026-01-21'),
    ];
    const book = system('s', '');
    expect((await reckoned(ASOF, book, ...two)).work.leadTimes).toEqual([
      { supplier: 'Quay', count: 2, median: null, ninety: null, promised: 2, late: 1 },
    ]);
    const three = [...two, delivery('c', '2026-02-01', '2026-03-03')];
    const [lead] = (await reckoned(ASOF, book, ...three)).work.leadTimes;
    expect(lead).toMatchObject({ count: 3, median: 20, promised: 2, late: 1 });
    expect(lead?.ninety).toBeCloseTo(28, 9);
  });

  it('count every delivery of what is ordered again and again', async () => {
    const again = [
      delivery('impeller', '2024-01-01', '2024-01-11'),
      delivery('impeller', '2025-01-01', '2025-01-21'),
      delivery('impeller', '2026-01-01', '2026-01-31'),
    ];
    const [lead] = (await reckoned(ASOF, system('s', ''), ...again)).work.leadTimes;
    expect(lead).toMatchObject({ supplier: 'Quay', count: 3, median: 20 });
  });
});
