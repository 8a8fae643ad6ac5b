import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CODES } from '../../src/check/codes.js';
import { type Lately, lastOf, remember } from '../../src/check/plausible.js';
import { remarkReading } from '../../src/draft/remarks.js';
import { bookFacts } from '../../src/reckon/facts.js';
import { reckon } from '../../src/reckon/reckon.js';
import { DEMO, loadBook } from '../site/demo.js';

const book = await loadBook(DEMO);

describe('what a form has to know of a book', () => {
  test('the last values are those that the checker holds the next reading against', () => {
    fc.assert(
      fc.property(fc.array(fc.option(fc.integer())), (values) => {
        const lately: Lately = { inOrder: [], bySize: [] };
        for (const value of values) if (value !== null) remember(lately, value);
        expect(lastOf(values, (value) => value)).toEqual(lately.bySize);
      }),
    );
  });

  test('names every system once, worked on last first, with all that can be read, ticked and tested', () => {
    const facts = bookFacts(reckon(book, '2026-12-31'));
    expect(facts.systems.map(({ id }) => id).sort()).toEqual([...book.systems.keys()].sort());
    const days = facts.systems.map(({ lately }) => lately ?? '');
    expect(days).toEqual([...days].sort().reverse());
    const read = new Set(book.entries.flatMap(({ readings }) => readings.map(({ point }) => point)));
    for (const system of facts.systems) {
      const declared = book.systems.get(system.id);
      // What only a logger has read nobody is asked for, nor what is no longer there.
      const asked = [...(declared?.points.values() ?? [])].filter(
        ({ ref, until }) => until === null && (!book.series.has(ref) || read.has(ref)),
      );
      expect(system.points.map(({ ref }) => ref).sort()).toEqual(asked.map(({ ref }) => ref).sort());
      expect(system.upkeep).toHaveLength(declared?.upkeep.size ?? -1);
      expect(system.tests).toHaveLength(declared?.tests.size ?? -1);
      expect(system.meters).toHaveLength(declared?.meters.size ?? -1);
    }
    const last = facts.systems[0]?.lately;
    expect(last).toBe(book.entries.at(-1)?.date);
  });

  test('is plain data, and as it was on the day', () => {
    const facts = bookFacts(reckon(book, '2025-01-01'));
    expect(JSON.parse(JSON.stringify(facts))).toEqual(facts);
    for (const { points } of facts.systems)
      for (const { last } of points) if (last !== null) expect(last.date <= '2025-01-01').toBe(true);
  });

  test('no reading of the book that the checker takes is refused while it is typed', () => {
    const reckoning = reckon(book, '2026-12-31');
    const facts = bookFacts(reckoning);
    const instruments = new Map(facts.instruments.map((one) => [one.id, one] as const));
    for (const { points } of facts.systems) {
      for (const point of points) {
        for (const { reading } of reckoning.timelines.get(point.ref)?.readings.slice(-50) ?? []) {
          const value = reading.quantity.written;
          const instrument = reading.test === null ? (instruments.get(reading.with ?? '') ?? null) : null;
          const said = remarkReading({ value }, point, instrument);
          expect(
            said.filter(({ severity }) => severity === 'error'),
            `${point.ref} ${value}`,
          ).toEqual([]);
        }
      }
    }
  });

  test('what only warns while it is typed only warns in the book', () => {
    expect([CODES['far-off'].severity, CODES['instrument-kind'].severity]).toEqual(['warning', 'warning']);
    for (const code of [
      'reading-implausible',
      'out-of-range',
      'meter-backwards',
      'wrong-kind',
      'no-unit',
    ] as const)
      expect(CODES[code].severity, code).toBe('error');
  });
});
