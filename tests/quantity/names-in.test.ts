import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { namesIn, parseFormula } from '../../src/quantity/index.js';

/** The names in a formula with their places, held against what the formula itself says that it names. */

const KINDS = new Map([
  ['capacity', 'charge'],
  ['house-dc.capacity', 'charge'],
  ['h', 'charge'],
  ['2nd-bank', 'charge'],
  ['a.b-c', 'charge'],
] as const);
const isName = (name: string) => KINDS.has(name as 'h');
const namesOf = (text: string) => namesIn(text, isName).map(({ name }) => name);

describe('the names in a formula', () => {
  it.each([
    ['0.5 * capacity', ['capacity']],
    ['house-dc.capacity >= 320 Ah', ['house-dc.capacity']],
    ['capacity between 3 Ah and h', ['capacity', 'h']],
    ['max(capacity, 2nd-bank) - 5 h * 2 A', ['capacity', '2nd-bank']],
    ['capacity - capacity', ['capacity', 'capacity']],
    ['318 ± 6 Ah + a.b-c', ['a.b-c']],
    ['1/0 AWG', []],
    ['5 ft 3 in', []],
    ['(capacity + ', ['capacity']],
    ['%%% capacity', ['capacity']],
    ['unknown-thing * 2', ['unknown-thing']],
    ['', []],
  ])('%s', (text, names) => {
    expect(namesOf(text)).toEqual(names);
  });

  it('lie where they stand', () => {
    const text = ' 2nd-bank+house-dc.capacity ';
    expect(namesIn(text, isName).map(({ offset, length }) => text.slice(offset, offset + length))).toEqual([
      '2nd-bank',
      'house-dc.capacity',
    ]);
  });

  const term = fc.oneof(
    fc.constantFrom(...KINDS.keys()),
    fc.constantFrom('5 Ah', '318 ± 6 Ah', '200 mAh'),
    fc.constantFrom('max(capacity, 3 Ah)', 'abs(h)', '(a.b-c)', '2 * capacity', '2nd-bank / 2'),
  );

  it('are those that a sound formula says it names', () => {
    fc.assert(
      fc.property(
        fc.array(term, { minLength: 1, maxLength: 5 }),
        fc.constantFrom(' + ', ' - '),
        fc.constantFrom('', ' >= 3 Ah', ' < capacity', ' between 1 Ah and h'),
        (terms, sign, end) => {
          const text = terms.join(sign) + end;
          const read = parseFormula(text, (name) => KINDS.get(name as 'h'));
          expect(read.ok, text).toBe(true);
          if (read.ok) expect([...new Set(namesOf(text))]).toEqual(read.formula.names);
        },
      ),
      { numRuns: 300 },
    );
  });
});
