import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addDays } from '../../src/reckon/calendar.js';
import { reckon } from '../../src/reckon/reckon.js';
import { bookOf, entry, reckoned, system } from './book.js';
import { dataOf, deepFrozen } from './data.js';
import { randomBook } from './random-book.js';

describe('the book as of a day', () => {
  it('is the book made only of the entries up to it', async () => {
    await fc.assert(
      fc.asyncProperty(randomBook, fc.nat({ max: 900 }), async (made, days) => {
        const asOf = addDays('2024-01-01', days);
        const whole = await bookOf(made.system, ...made.entries.map(({ files }) => files));
        const upTo = made.entries.filter(({ date }) => date <= asOf).map(({ files }) => files);
        const early = await bookOf(made.system, ...upTo);
        expect(dataOf(reckon(whole, asOf))).toEqual(dataOf(reckon(early, asOf)));
      }),
      { numRuns: 40 },
    );
  });

  it('is the same every time, and leaves the book as it is', async () => {
    await fc.assert(
      fc.asyncProperty(randomBook, async (made) => {
        const files = [made.system, ...made.entries.map((one) => one.files)];
        const book = deepFrozen(await bookOf(...files));
        const first = dataOf(reckon(book, '2026-01-01'));
        expect(dataOf(reckon(book, '2026-01-01'))).toEqual(first);
        expect(first).toEqual(dataOf(reckon(await bookOf(...files), '2026-01-01')));
      }),
      { numRuns: 12 },
    );
  });

  it('has what happened on the day itself, and no spec that was stated later', async () => {
    const files = [
      system(
        's',
        'points: { p: { quantity: charge } }\nspecs: { c: { value: 1 Ah, within: 5 %, basis: told, since: 2026-02-01 } }',
      ),
      entry('2026-02-01', 'measurements: [{ s.p: 1 Ah }]'),
    ];
    const on = await reckoned('2026-02-01', ...files);
    expect([on.specs.has('s.c'), on.entries.size, on.timelines.get('s.p')?.readings.length]).toEqual([
      true,
      1,
      1,
    ]);
    const before = await reckoned('2026-01-31', ...files);
    expect([before.specs.has('s.c'), before.entries.size, before.readings.length]).toEqual([false, 0, 0]);
  });

  it('before anything was written is empty, and no trouble', async () => {
    const made = fc.sample(randomBook, { numRuns: 1, seed: 7 })[0];
    if (made === undefined) throw new Error('no book');
    const book = await bookOf(made.system, ...made.entries.map(({ files }) => files));
    const found = reckon(book, '1999-01-01');
    expect([found.entries.size, found.parts.size, found.items.size, found.hours.total]).toEqual([0, 0, 0, 0]);
  });
});
