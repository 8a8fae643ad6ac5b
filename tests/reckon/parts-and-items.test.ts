import { describe, expect, it } from 'vitest';
import { entry, type Files, reckoned, system } from './book.js';

const PLAIN: Files = { ...system('s', ''), ...system('t', '') };

const moves = (date: string, ...lines: readonly string[]): Files =>
  entry(date, `parts:\n${lines.map((line) => `  - { ${line} }\n`).join('')}`, 'parts', ['s', 't']);

const part = async (asOf: string, id: string, ...files: readonly Files[]) =>
  (await reckoned(asOf, PLAIN, ...files)).parts.get(id);

describe('what has become of a part', () => {
  const STORY = [
    moves(
      '2026-01-05',
      'part: pump, move: ordered, what: a pump, cost: 100.10 EUR, from-supplier: Quay, due: 2026-02-01',
    ),
    moves('2026-02-10', 'part: pump, move: arrived, serial: "0042", cost: 9.20 EUR'),
    moves('2026-03-01', 'part: pump, move: fitted, system: t'),
    moves('2026-06-01', 'part: pump, move: removed'),
    moves('2026-07-01', 'part: pump, move: sold, cost: -40.00 GBP'),
  ];

  it.each([
    ['2026-01-05', 'ordered', false],
    ['2026-02-01', 'ordered', false],
    ['2026-02-02', 'ordered', true],
    ['2026-02-10', 'ashore', false],
    ['2026-05-31', 'fitted', false],
    ['2026-06-30', 'removed', false],
    ['2026-07-01', 'sold', false],
  ] as const)('on %s it is %s, late: %s', async (asOf, now, late) => {
    expect(await part(asOf, 'pump', ...STORY)).toMatchObject({ now, late });
  });

  it('is late only until it comes; from then on it came late by so many days', async () => {
    const told = async (asOf: string, ...files: readonly Files[]) => {
      const state = await part(asOf, 'pump', ...files);
      return [state?.late, state?.cameLateDays];
    };
    expect(await told('2026-02-02', ...STORY)).toEqual([true, null]);
    expect(await told('2026-12-31', ...STORY)).toEqual([false, 9]);
    const order = moves('2026-01-05', 'part: pump, move: ordered, due: 2026-02-01');
    expect(await told('2026-12-31', order, moves('2026-02-01', 'part: pump, move: arrived'))).toEqual([
      false,
      null,
    ]);
  });

  it('is nowhere before it is told of', async () => {
    expect(await part('2026-01-04', 'pump', ...STORY)).toBeUndefined();
  });

  it('keeps dates, costs by currency, and what was said of it once', async () => {
    expect(await part('2026-12-31', 'pump', ...STORY)).toMatchObject({
      what: 'a pump',
      supplier: 'Quay',
      serial: '0042',
      ordered: '2026-01-05',
      arrived: '2026-02-10',
      leadDays: 36,
      costs: [
        { currency: 'EUR', amount: 109.3 },
        { currency: 'GBP', amount: -40 },
      ],
    });
  });

  it('moves with its last move, to another system too', async () => {
    const found = await part('2026-03-02', 'pump', ...STORY);
    expect(found).toMatchObject({ system: 't', since: '2026-03-01' });
    expect(found?.moves.map(({ move }) => move)).toEqual(['ordered', 'arrived', 'fitted']);
  });

  it('is on order again where it is ordered again, by the dates of that order', async () => {
    const again = [...STORY, moves('2026-08-01', 'part: pump, move: ordered, from-supplier: Quay')];
    expect(await part('2026-09-01', 'pump', ...again)).toMatchObject({
      now: 'ordered',
      ordered: '2026-08-01',
      arrived: null,
      due: null,
      late: false,
      leadDays: null,
    });
    const here = [...again, moves('2026-08-11', 'part: pump, move: arrived')];
    expect(await part('2026-09-01', 'pump', ...here)).toMatchObject({ arrived: '2026-08-11', leadDays: 10 });
  });

  it('was aboard already where nobody ordered it', async () => {
    expect(await part('2026-12-31', 'bank', moves('2026-01-05', 'part: bank, move: fitted'))).toMatchObject({
      now: 'fitted',
      ordered: null,
      arrived: null,
      leadDays: null,
    });
  });
});

const opens = (...lines: readonly string[]): string =>
  `opens:\n${lines.map((line) => `  - { ${line} }\n`).join('')}`;

describe('open items', () => {
  const BOOK = [
    PLAIN,
    entry(
      '2026-01-01',
      opens(
        'item: fit, what: Fit it, waits-on: [part pump, item vent], by: 2026-03-01',
        'item: vent, what: Cut the vent, size: 2 h',
        'item: paint, what: Paint, waits-on: [item fit, item vent]',
        'item: hose, what: Hose, waits-on: [part pump]',
        'item: choose, what: As decided, waits-on: [decision which, part pump]',
      ),
      'open',
    ),
    moves('2026-01-02', 'part: pump, move: ordered'),
    entry('2026-02-01', 'closes: [vent]', 'vent'),
    moves('2026-02-10', 'part: pump, move: arrived'),
    entry(
      '2026-02-20',
      'decisions:\n  - { decision: which, question: Which?, chose: a, because: b }',
      'which',
    ),
    entry('2026-03-05', 'closes: [fit]', 'fit'),
    moves('2026-03-06', 'part: pump, move: returned'),
  ];

  const all = async (asOf: string) => (await reckoned(asOf, ...BOOK)).items;
  const statuses = async (asOf: string) =>
    Object.fromEntries([...(await all(asOf))].map(([id, { status }]) => [id, status]));

  it.each([
    ['2026-01-31', { fit: 'blocked', vent: 'ready', paint: 'blocked', hose: 'waiting', choose: 'blocked' }],
    ['2026-02-09', { fit: 'waiting', vent: 'done', paint: 'blocked', hose: 'waiting', choose: 'blocked' }],
    ['2026-02-10', { fit: 'ready', vent: 'done', paint: 'blocked', hose: 'ready', choose: 'blocked' }],
    ['2026-02-20', { fit: 'ready', vent: 'done', paint: 'blocked', hose: 'ready', choose: 'ready' }],
    ['2026-03-05', { fit: 'done', vent: 'done', paint: 'ready', hose: 'ready', choose: 'ready' }],
    // The part has gone back.
    ['2026-03-06', { fit: 'done', vent: 'done', paint: 'ready', hose: 'waiting', choose: 'waiting' }],
  ])('on %s', async (asOf, due) => {
    expect(await statuses(asOf)).toEqual(due);
  });

  it('say what they wait on, and what waits on them', async () => {
    const items = await all('2026-01-31');
    expect(items.get('fit')).toMatchObject({ blockedBy: ['vent'], waitsFor: ['pump'], holdsUp: ['paint'] });
    expect(items.get('vent')?.holdsUp).toEqual(['fit', 'paint']);
    expect(items.get('choose')).toMatchObject({ undecided: ['which'], waitsFor: ['pump'] });
  });

  it('hold up nothing once they are done', async () => {
    const vent = (await all('2026-02-01')).get('vent');
    expect(vent).toMatchObject({
      status: 'done',
      holdsUp: [],
      closed: { date: '2026-02-01', entry: '2026-02-01-vent' },
    });
  });

  it('are overdue after their day, and no longer once done', async () => {
    const overdue = async (asOf: string) => (await all(asOf)).get('fit')?.overdue;
    expect(await overdue('2026-03-01')).toBe(false);
    expect(await overdue('2026-03-02')).toBe(true);
    expect(await overdue('2026-03-05')).toBe(false);
  });
});

describe('hours', () => {
  it('are split equally between the systems of an entry, unless said otherwise', async () => {
    const { hours } = await reckoned(
      '2026-12-31',
      PLAIN,
      entry(
        '2026-01-31',
        'hours:\n  - { by: owner, spent: 3 h }\n  - { by: friend, spent: 90 min, on: t }',
        'a',
        ['s', 't'],
      ),
      entry('2026-02-01', 'hours:\n  - { by: owner, spent: 0.1 h }', 'b'),
      entry('2026-02-02', 'hours:\n  - { by: owner, spent: 0.2 h }', 'c'),
    );
    expect(hours).toEqual({
      total: 4.8,
      bySystem: [
        { key: 't', hours: 3 },
        { key: 's', hours: 1.8 },
      ],
      byMonth: [
        { key: '2026-01', hours: 4.5 },
        { key: '2026-02', hours: 0.3 },
      ],
      byPerson: [
        { key: 'owner', hours: 3.3 },
        { key: 'friend', hours: 1.5 },
      ],
    });
  });
});

describe('money', () => {
  it('is never added across currencies', async () => {
    const { money } = await reckoned(
      '2026-12-31',
      PLAIN,
      moves(
        '2026-01-05',
        'part: a, move: ordered, cost: 0.10 EUR, from-supplier: Quay',
        'part: b, move: ordered, cost: 0.20 EUR, system: t',
        'part: c, move: ordered, cost: 5.00 GBP, from-supplier: Quay',
      ),
      moves('2026-02-05', 'part: a, move: returned, cost: -0.10 EUR, from-supplier: Quay'),
    );
    expect(money).toEqual([
      {
        currency: 'EUR',
        total: 0.2,
        bySystem: [
          { key: 't', amount: 0.2 },
          { key: 's', amount: 0 },
        ],
        byMonth: [
          { key: '2026-01', amount: 0.3 },
          { key: '2026-02', amount: -0.1 },
        ],
        bySupplier: [
          { key: '', amount: 0.2 },
          { key: 'Quay', amount: 0 },
        ],
      },
      {
        currency: 'GBP',
        total: 5,
        bySystem: [{ key: 's', amount: 5 }],
        byMonth: [{ key: '2026-01', amount: 5 }],
        bySupplier: [{ key: 'Quay', amount: 5 }],
      },
    ]);
  });
});
