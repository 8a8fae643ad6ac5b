import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addressOf,
  atOnce,
  BEST_FIRST,
  type FindState,
  type Mark,
  NO_QUERY,
  type Order,
  pageOf,
  pairs,
  planOf,
  type Query,
  run,
  type Sorting,
  START,
  stateFrom,
  textAt,
  thinned,
  writtenValue,
} from '../../src/find/index.js';
import { parseQuantity } from '../../src/quantity/index.js';
import type { BookRecord } from '../../src/reckon/records.js';
import { ambient, NAMES, quantity, reading, record, tableOf } from './made.js';

/** The search against the plainest there is: a look at each record, one after the other. */

const WORDS = ['alpha', 'bravo', 'charlie', 'delta'] as const;
const DAYS = ['2024-02-29', '2024-05-01', '2025-01-01', '2025-06-14', '2025-12-31'] as const;
const ENTRIES = [...NAMES.titles.keys(), null];

const values = fc.oneof(
  fc
    .tuple(fc.integer({ min: -500, max: 500 }), fc.constantFrom('mm', 'cm', 'in', 'm'))
    .map(([n, unit]) => [`${n / 10} ${unit}`, 'length'] as const),
  fc
    .tuple(fc.integer({ min: 0, max: 500 }), fc.constantFrom('V', 'mV', 'kV'))
    .map(([n, unit]) => [`${n / 10} ± 0.5 ${unit}`, 'voltage'] as const),
  fc
    .tuple(fc.integer({ min: -30, max: 80 }), fc.constantFrom('°C', '°F'))
    .map(([n, unit]) => [`${n} ${unit}`, 'temperature'] as const),
  fc.constantFrom(
    ['1 1/4 in', 'length'] as const,
    ['5 ft 3 in', 'length'] as const,
    ['2 AWG', 'area'] as const,
    ['1.265', 'specific-gravity'] as const,
  ),
);

const extras = fc.record({
  date: fc.constantFrom(...DAYS, null),
  system: fc.constantFrom('house-dc', 'steering', 'hull'),
  title: fc.constantFrom(...WORDS),
  note: fc.option(fc.constantFrom(...WORDS, 'alpha charlie')),
  says: fc.option(fc.constantFrom(...WORDS)),
  how: fc.option(fc.constantFrom(...WORDS)),
  standing: fc.option(fc.constantFrom('verified' as const, 'contradicted' as const)),
  outcome: fc.option(fc.constantFrom('pass' as const, 'fail' as const)),
  entry: fc.constantFrom(...ENTRIES),
  sort: fc.constantFrom('reading' as const, 'part' as const, 'test' as const),
  under: fc.constantFrom([], [ambient('4 °C')], [ambient('19 °C')]),
});

const records: fc.Arbitrary<BookRecord[]> = fc.array(
  fc.oneof(
    fc.tuple(values, extras).map(([[written, kind], parts]) => reading(written, kind, parts)),
    extras.map(record),
    extras.map((parts) => reading('12.5 V', 'voltage', { ...parts, point: 'house-dc.rest-voltage' })),
  ),
  { maxLength: 30 },
);

type Test = (record: BookRecord) => boolean;

const textsOf = ({ title, note, says, how, entry }: BookRecord) =>
  [title, note, says, how, NAMES.titles.get(entry ?? '')].join(' ');

/** A limit, and the same thing in plain code. */
const limits: fc.Arbitrary<readonly [Partial<Query>, Test]> = fc.oneof(
  fc
    .constantFrom(...WORDS)
    .map((word) => [{ words: word }, (one: BookRecord) => textsOf(one).includes(word)] as const),
  fc
    .constantFrom('reading', 'part', 'test')
    .map((sort) => [{ sort }, (one: BookRecord) => one.sort === sort] as const),
  fc
    .constantFrom('house-dc', 'hull')
    .map((system) => [{ system }, (one: BookRecord) => one.system === system] as const),
  fc
    .constantFrom('verified', 'contradicted')
    .map((standing) => [{ standing }, (one: BookRecord) => one.standing === standing] as const),
  fc
    .constantFrom('pass', 'fail')
    .map((outcome) => [{ outcome }, (one: BookRecord) => one.outcome === outcome] as const),
  fc
    .constantFrom(...DAYS)
    .map((since) => [{ since }, (one: BookRecord) => one.date !== null && one.date >= since] as const),
  fc
    .constantFrom('2024', '2025')
    .map(
      (until) =>
        [{ until }, (one: BookRecord) => one.date !== null && one.date.slice(0, 4) <= until] as const,
    ),
  fc
    .constantFrom('2024', '2025-06')
    .map((entry) => [{ entry }, (one: BookRecord) => one.entry?.startsWith(entry) === true] as const),
  fc.constant([
    { under: 'ambient below 50 °F' },
    (one: BookRecord) =>
      one.under.some(({ value }) => value.type === 'quantity' && value.quantity.si < 283.15),
  ] as const),
  fc
    .tuple(fc.integer({ min: -200, max: 200 }), fc.constantFrom('mm', 'in', 'ft'))
    .map(
      ([n, unit]) =>
        [
          { below: `${n} ${unit}` },
          (one: BookRecord) =>
            one.quantity?.kind === 'length' && one.quantity.si < quantity(`${n} ${unit}`, 'length').si,
        ] as const,
    ),
  fc
    .tuple(fc.integer({ min: 0, max: 90 }), fc.constantFrom('°C', '°F', 'K'))
    .map(
      ([n, unit]) =>
        [
          { above: `${n} ${unit}` },
          (one: BookRecord) =>
            one.quantity?.kind === 'temperature' &&
            one.quantity.si > quantity(`${n} ${unit}`, 'temperature').si,
        ] as const,
    ),
  fc.constant([{ quantity: 'voltage' }, (one: BookRecord) => one.quantity?.kind === 'voltage'] as const),
);

/** One limit for each field, so that none is said twice. */
const queries = fc
  .uniqueArray(limits, { maxLength: 5, selector: ([query]) => Object.keys(query)[0] })
  .map((all) => ({
    query: { ...NO_QUERY, ...Object.assign({}, ...all.map(([query]) => query)) } as Query,
    tests: all.map(([, test]) => test),
  }));

describe('what is found', () => {
  it('is what a look at each record finds', () => {
    let hits = 0;
    fc.assert(
      fc.property(records, queries, fc.integer({ min: 1, max: 9 }), (all, { query, tests }, partSize) => {
        const table = tableOf(all, partSize);
        const plan = planOf(query, table.head);
        const expected = all.flatMap((one, row) => (tests.every((test) => test(one)) ? [row] : []));
        const { rows } = atOnce(run(table, plan));
        // A kind that the book has nothing of is a problem and not a search; nothing answers to it either way.
        expect([...rows]).toEqual(expected);
        hits += rows.length;
      }),
      { numRuns: 600 },
    );
    expect(hits).toBeGreaterThan(500);
  });

  it('does not hang on the order of the words', () => {
    const parts = [...WORDS, 'below 30 mm', 'since 2025', 'above 1 V', 'house'];
    fc.assert(
      fc.property(records, fc.shuffledSubarray(parts, { minLength: 2 }), (all, some) => {
        const table = tableOf(all);
        const rowsFor = (words: string) => {
          const found = atOnce(run(table, planOf({ ...NO_QUERY, words }, table.head)));
          return [[...found.rows], [...found.scores]];
        };
        expect(rowsFor(some.join(' '))).toEqual(rowsFor([...some].reverse().join(' ')));
      }),
    );
  });

  it('is the same after other searches were left off in the middle', () => {
    fc.assert(
      fc.property(records, queries, fc.array(fc.tuple(queries, fc.nat(30))), (all, { query }, dropped) => {
        const [table, fresh] = [tableOf(all), tableOf(all)];
        for (const [other, most] of dropped) {
          const steps = run(table, planOf(other.query, table.head));
          for (let step = 0; step < most; step++) steps.next();
        }
        const plan = planOf(query, table.head);
        expect(atOnce(run(table, plan))).toEqual(atOnce(run(fresh, plan)));
      }),
    );
  });

  it('does not hang on how many parts it came in', () => {
    fc.assert(
      fc.property(records, queries, (all, { query }) => {
        const [one, many] = [tableOf(all, 1000), tableOf(all, 1)];
        expect([...atOnce(run(many, planOf(query, many.head))).rows]).toEqual([
          ...atOnce(run(one, planOf(query, one.head))).rows,
        ]);
      }),
    );
  });

  it('compares as the values themselves do, in whatever unit they are written', () => {
    fc.assert(
      fc.property(records, (all) => {
        const table = tableOf(all);
        for (const [row, { quantity: value, title }] of all.entries()) {
          expect(textAt(table, table.title[row] as number)).toBe(title);
          expect(table.si[row]).toEqual(value === null ? Number.NaN : value.si);
          if (value === null) continue;
          const back = parseQuantity(writtenValue(table, row), value.kind);
          expect(back.ok && [back.quantity.value, back.quantity.unit, back.quantity.resolution]).toEqual([
            value.value,
            value.unit,
            value.resolution,
          ]);
        }
      }),
    );
  });

  it('never throws, whatever is typed', () => {
    const table = tableOf([reading('12.5 V', 'voltage'), reading('3 mm', 'length')]);
    const pieces = fc.constantFrom(
      'below',
      'between',
      'and',
      '5',
      'mm',
      '±',
      'since',
      '2025',
      '-',
      '<',
      '>=',
      'in',
      '"',
      '`',
      '__proto__',
      'constructor',
      '1/0',
      '\u0000',
      '界',
      '5 ft',
    );
    const typed = fc.oneof(
      fc.string(),
      fc.array(pieces, { maxLength: 9 }).map((all) => all.join(' ')),
    );
    const fields = Object.keys(NO_QUERY) as (keyof Query)[];
    fc.assert(
      fc.property(fc.constantFrom(...fields), typed, (field, text) => {
        const plan = planOf({ ...NO_QUERY, [field]: text }, table.head);
        expect(atOnce(run(table, plan)).rows.length).toBeLessThanOrEqual(2);
      }),
      { numRuns: 2000 },
    );
  });
});

describe('a page of results', () => {
  const orders: Order[] = ['best', 'date', 'system', 'what', 'value', 'state', 'around'];

  it('is a stretch of all of them in order, and the stretches are all of them', () => {
    fc.assert(
      fc.property(
        records,
        fc.constantFrom(...orders),
        fc.boolean(),
        fc.integer({ min: 1, max: 7 }),
        (all, by, descending, size) => {
          const table = tableOf(all);
          const found = atOnce(run(table, planOf({ ...NO_QUERY, since: '1900' }, table.head)));
          const whole = atOnce(pageOf(table, found, { by, descending }, 0, found.rows.length));
          expect([...whole].sort((a, b) => a - b)).toEqual([...found.rows]);
          const stretches: number[] = [];
          for (let from = 0; from < whole.length; from += size)
            stretches.push(...atOnce(pageOf(table, found, { by, descending }, from, from + size)));
          expect(stretches).toEqual(whole);
        },
      ),
    );
  });

  it('has values of one kind from the smallest to the largest, and the other way round', () => {
    fc.assert(
      fc.property(records, (all) => {
        const table = tableOf(all);
        const found = atOnce(run(table, planOf({ ...NO_QUERY, quantity: 'length' }, table.head)));
        const values = (descending: boolean) =>
          atOnce(pageOf(table, found, { by: 'value', descending }, 0, 99)).map(
            (row) => table.si[row] as number,
          );
        const sorted = [...values(false)].sort((a, b) => a - b);
        expect(values(false)).toEqual(sorted);
        expect(values(true)).toEqual([...sorted].reverse());
      }),
    );
  });

  it('has thousands of texts in the order of the alphabet', () => {
    const titles = Array.from({ length: 3000 }, (_, at) => `t${(at * 7919) % 3001}`);
    const table = tableOf(
      titles.map((title) => record({ title })),
      1000,
    );
    const found = atOnce(run(table, planOf({ ...NO_QUERY, since: '1900' }, table.head)));
    const rows = atOnce(pageOf(table, found, { by: 'what', descending: false }, 0, found.rows.length));
    const order = new Intl.Collator('en', { numeric: true });
    expect(rows.map((row) => titles[row])).toEqual([...titles].sort(order.compare));
  });

  it('has what answers best first, then the newest', () => {
    const table = tableOf([
      record({ title: 'x', note: 'alpha' }),
      record({ title: 'alpha' }),
      record({ title: 'alphabet' }),
      record({ title: 'alpha' }),
    ]);
    const found = atOnce(run(table, planOf({ ...NO_QUERY, words: 'alpha' }, table.head)));
    expect(atOnce(pageOf(table, found, BEST_FIRST, 0, 9))).toEqual([1, 3, 0, 2]);
  });
});

describe('what a logger has read', () => {
  const logged = (date: string, title: string) =>
    record({ title, date, entry: null, anchor: null, how: 'by a logger' });
  const RECORDS = [
    logged('2026-05-02', 'tank'),
    logged('2026-05-01', 'tank'),
    record({ title: 'hose', note: 'to the tank', date: '2026-04-01' }),
    record({ sort: 'statement', title: 'metal of the tank', entry: null, date: null }),
  ];
  const table = tableOf(RECORDS);
  const rowsOf = (query: Partial<Query>, sorting: Sorting) => {
    const found = atOnce(run(table, planOf({ ...NO_QUERY, ...query }, table.head)));
    return atOnce(pageOf(table, found, sorting, 0, 9));
  };

  it('comes after what somebody wrote where words alone order the results', () => {
    expect(rowsOf({ words: 'tank' }, BEST_FIRST)).toEqual([3, 2, 0, 1]);
    expect(rowsOf({ words: 'tank', since: '2026-01-01' }, BEST_FIRST)).toEqual([2, 0, 1]);
  });

  it('stands in its place where an order or limits alone are asked for', () => {
    expect(rowsOf({ words: 'tank' }, { by: 'date', descending: true }).slice(0, 3)).toEqual([0, 1, 2]);
    expect(rowsOf({ sort: 'reading' }, BEST_FIRST)).toEqual([0, 1, 2]);
  });
});

describe('the address', () => {
  const states: fc.Arbitrary<FindState> = fc.record({
    query: fc
      .record({ words: fc.string(), below: fc.string(), system: fc.string() })
      .map((some) => ({ ...NO_QUERY, ...some })),
    sorting: fc.oneof(
      fc.constant(START.sorting),
      fc.record({ by: fc.constantFrom<Order>('date', 'value', 'what'), descending: fc.boolean() }),
    ),
    page: fc.integer({ min: 1, max: 5000 }),
    units: fc.constantFrom(null, 'metric', 'us', 'as-written'),
    plot: fc.option(
      fc.record({ point: fc.constantFrom('a.b', 'c.d'), against: fc.option(fc.constant('e.f')) }),
    ),
  });

  it('says all of a state, and gives it back', () => {
    fc.assert(
      fc.property(states, (state) => {
        const blank = Object.fromEntries(
          Object.entries(state.query).map(([field, text]) => [field, text.trim() === '' ? '' : text]),
        );
        expect(stateFrom(addressOf(state))).toEqual({ ...state, query: blank });
      }),
    );
  });

  it('takes places in the page for what they are, and nonsense for nothing', () => {
    expect(stateFrom('#latest')).toBeNull();
    expect(stateFrom('')).toEqual(START);
    expect(stateFrom('#?by=nothing&page=-3&units=furlongs&zzz=1')).toEqual(START);
  });
});

describe('what is drawn', () => {
  const marks = fc
    .array(fc.tuple(fc.integer({ min: 0, max: 60 }), fc.integer({ min: -100, max: 100 })), { maxLength: 40 })
    .map((all) =>
      all
        .map(([day, si]): Mark => ({ day, si, spread: null, limit: 'inside', comparable: true }))
        .sort((a, b) => a.day - b.day),
    );

  it('pairs each reading with the nearest in time, and none too far away', () => {
    fc.assert(
      fc.property(marks, marks, fc.integer({ min: 0, max: 9 }), (first, second, most) => {
        const paired = pairs(first, second, most);
        const nearest = (day: number) => Math.min(...second.map((mark) => Math.abs(mark.day - day)));
        expect(paired.map(({ x }) => x)).toEqual(first.filter(({ day }) => nearest(day) <= most));
        for (const { x, y, apart } of paired) {
          expect(apart).toBe(nearest(x.day));
          expect(Math.abs(x.day - y.day)).toBe(apart);
          const sooner = second.some(({ day }) => day === x.day - apart);
          if (sooner) expect(y.day).toBeLessThanOrEqual(x.day);
        }
      }),
    );
  });

  it('is thinned without losing the lowest, the highest, the first and the last', () => {
    fc.assert(
      fc.property(marks, fc.integer({ min: 4, max: 20 }), (all, most) => {
        const kept = thinned(all, most);
        expect(kept.length).toBeLessThanOrEqual(Math.max(most, 4));
        const ends = (some: readonly Mark[]) => [
          Math.min(...some.map(({ si }) => si)),
          Math.max(...some.map(({ si }) => si)),
          some[0],
          some.at(-1),
        ];
        expect(ends(kept)).toEqual(ends(all));
        expect(kept).toEqual(all.filter((mark) => kept.includes(mark)));
      }),
    );
  });
});
