import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import type { CheckedBook } from '../../src/check/model.js';
import { addDays } from '../../src/reckon/calendar.js';
import { changesBetween, findingsMoved } from '../../src/reckon/changes.js';
import { earlierStates } from '../../src/reckon/earlier.js';
import type { Reckoning } from '../../src/reckon/model.js';
import { reckon } from '../../src/reckon/reckon.js';
import { DEMO, loadBook } from '../site/demo.js';
import { bookOf, entry, system } from './book.js';
import { randomBook } from './random-book.js';

const SYSTEM = system(
  's',
  `points:
  bank: { quantity: charge, unit: Ah, at-least: 300 Ah }
specs:
  size: { value: 400 Ah, quantity: charge, basis: told, within: 5 %, point: bank }
  model: { value: TL-1, basis: told }
tests:
  rest: { requires: { volts: ">= 12.6 V" } }
upkeep:
  posts: { what: Clean the posts, every: 6 months, safety: true }`,
);

const BEFORE = entry(
  '2028-12-20',
  `measurements: [{ s.bank: 390 ± 4 Ah }]
tests: [{ test: s.rest, readings: { volts: 12.7 ± 0.02 V } }]
opens: [{ item: old, what: An old job }]
decisions: [{ decision: keep, question: Keep it?, chose: "yes", because: It holds. }]`,
  'before',
);
const FIRST = entry(
  '2029-01-01',
  `hours: [{ by: owner, spent: 2 h }]
done: [s.posts]
parts: [{ part: bank, move: ordered, what: a bank, cost: 500.00 EUR }]
opens: [{ item: new, what: A new job, defect: true }]`,
  'first',
);
const LAST = entry(
  '2029-12-31',
  `measurements: [{ s.bank: 280 ± 4 Ah }]
tests: [{ test: s.rest, readings: { volts: 12.2 ± 0.02 V } }]
closes: [old]
parts: [{ part: bank, move: arrived }, { part: pump, move: fitted, what: a pump, cost: 20.00 GBP }]
decisions: [{ decision: change, question: Change it?, chose: "yes", because: It failed., undoes: keep }]`,
  'last',
);
const LATER = entry('2030-01-01', 'hours: [{ by: owner, spent: 9 h }]', 'later');

describe('what changed between two days', () => {
  let book: CheckedBook;
  beforeAll(async () => {
    book = await bookOf(SYSTEM, BEFORE, FIRST, LAST, LATER);
  });

  it('is what happened after the one and up to the other', () => {
    const changes = changesBetween(reckon(book, '2028-12-31'), reckon(book, '2029-12-31'));
    expect(changes.entries.map(({ id }) => id)).toEqual(['2029-01-01-first', '2029-12-31-last']);
    expect(changes.hours.total).toBe(2);
    expect(changes.money.map(({ currency, total }) => [currency, total])).toEqual([
      ['EUR', 500],
      ['GBP', 20],
    ]);
    expect(changes.standings).toMatchObject([
      {
        id: 's.size',
        from: 'verified',
        to: 'contradicted',
        by: { date: '2029-12-31', entry: '2029-12-31-last' },
      },
    ]);
    expect(changes.tests).toMatchObject([{ id: 's.rest', from: 'pass', to: 'fail' }]);
    expect(changes.testRuns).toBe(1);
    expect(changes.limits).toMatchObject([{ id: 's.bank', from: 'inside', to: 'outside' }]);
    expect(changes.opened.map(({ id }) => id)).toEqual(['new']);
    expect(changes.closed).toEqual([{ id: 'old', date: '2029-12-31', entry: '2029-12-31-last' }]);
    expect(changes.upkeep).toMatchObject([{ id: 's.posts', safety: true, done: [{ date: '2029-01-01' }] }]);
    expect(changes.parts.map(({ part, move }) => [part, move])).toEqual([
      ['bank', 'ordered'],
      ['bank', 'arrived'],
      ['pump', 'fitted'],
    ]);
    expect(changes.decided.map(({ id }) => id)).toEqual(['change']);
    expect(changes.undone.map(({ id, by }) => [id, by.id])).toEqual([['keep', 'change']]);
  });

  it('is nothing between a day and itself', () => {
    const state = reckon(book, '2029-06-01');
    const { from, to, hours, testRuns, ...lists } = changesBetween(state, state);
    expect([from, to, hours.total, testRuns]).toEqual(['2029-06-01', '2029-06-01', 0, 0]);
    for (const [name, list] of Object.entries(lists)) expect(list, name).toEqual([]);
  });

  it('has findings that came up, and turned round those that were settled', () => {
    const [early, late] = [reckon(book, '2028-12-31'), reckon(book, '2029-12-31')];
    const { opened, settled } = findingsMoved(early, late);
    expect(opened.length).toBeGreaterThan(0);
    expect(findingsMoved(late, early)).toEqual({ opened: settled, settled: opened });
    expect(findingsMoved(late, late)).toEqual({ opened: [], settled: [] });
  });
});

describe('the state of a book on an earlier day, from what is known of it later', () => {
  it('is what a reckoning of that day finds, so far as it is compared', async () => {
    let found = 0;
    await fc.assert(
      fc.asyncProperty(
        randomBook,
        fc.array(fc.nat({ max: 900 }), { minLength: 2 }),
        async (made, offsets) => {
          const book = await bookOf(made.system, ...made.entries.map(({ files }) => files));
          const stateOn = earlierStates(reckon(book, '2026-08-01'));
          const days = offsets.map((days) => addDays('2024-01-01', days)).sort();
          for (const [at, day] of days.entries()) {
            const then = reckon(book, day);
            expect(stateOn(day).findings).toEqual(then.findings);
            found += then.findings.length;
            const before = days[at - 1] ?? '2023-12-31';
            expect(changesBetween(stateOn(before), stateOn(day))).toEqual(
              changesBetween(reckon(book, before), then),
            );
          }
        },
      ),
      { numRuns: 60 },
    );
    expect(found).toBeGreaterThan(200);
  });
});

describe('the state of the demo book on an earlier day, from what is known now', () => {
  let now: Reckoning;
  let book: CheckedBook;
  beforeAll(async () => {
    book = await loadBook(DEMO);
    now = reckon(book, '2026-11-20');
  });

  it.each(['2024-03-01', '2024-12-31', '2025-06-30', '2025-12-31', '2026-05-05'])(
    'on %s leads to the same changes as a reckoning of that day',
    (day) => {
      const stateOn = earlierStates(now);
      const then = reckon(book, day);
      expect(changesBetween(stateOn(day), now)).toEqual(changesBetween(then, now));
      const year = `${Number(day.slice(0, 4)) - 1}-12-31`;
      expect(changesBetween(stateOn(year), stateOn(day))).toEqual(changesBetween(reckon(book, year), then));
      expect(stateOn(day).findings).toEqual(then.findings);
    },
  );
});
