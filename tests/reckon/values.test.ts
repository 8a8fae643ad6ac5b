import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Quantity } from '../../src/quantity/index.js';
import { reckon } from '../../src/reckon/reckon.js';
import { valuesInForce } from '../../src/reckon/values.js';
import { bookOf, entry, type Files, quantity, reckoned, system } from './book.js';

const SYSTEM = (derived: string, more = ''): Files =>
  system(
    's',
    `points:
  a: { quantity: charge, unit: Ah }
  b: { quantity: charge, unit: Ah }
  unread: { quantity: charge, unit: Ah }
specs:
  claimed: { value: 400 ± 20 Ah, basis: told, point: a }
  other: { value: 300 Ah, basis: told, within: 10 Ah, point: a }
  model: { value: TL-400, basis: told }
${more}derived:
${derived
  .trim()
  .split('\n')
  .map((line) => `  ${line.trim()}`)
  .join('\n')}`,
  );

const read = (date: string, ...lines: readonly string[]): Files =>
  entry(date, `measurements:\n${lines.map((line) => `  - ${line}\n`).join('')}`, 'read');

const AH = 3600;

describe('values in force', () => {
  it('a point has its last reading, a spec what is claimed of it', async () => {
    const { values } = await reckoned(
      '2026-12-31',
      SYSTEM('twice: { from: 2 * a, quantity: charge }'),
      read('2026-01-01', 's.a: 390 ± 4 Ah'),
      read('2026-02-01', 's.a: 395 ± 5 Ah'),
    );
    expect(values.of('s.a')).toMatchObject({
      si: 395 * AH,
      siUncertainty: 5 * AH,
      date: '2026-02-01',
      restsOn: ['s.a'],
    });
    expect(values.of('s.claimed')).toMatchObject({ si: 400 * AH, siUncertainty: 20 * AH, date: null });
    expect(values.of('s.twice')).toMatchObject({ si: 790 * AH, siUncertainty: 10 * AH, date: '2026-02-01' });
  });

  it('a contradicted spec has the value and the uncertainty of the evidence', async () => {
    const { values } = await reckoned(
      '2026-12-31',
      SYSTEM('twice: { from: 2 * claimed, quantity: charge }'),
      read('2026-02-01', 's.a: 318 ± 6 Ah'),
    );
    expect(values.of('s.claimed')).toMatchObject({
      si: 318 * AH,
      siUncertainty: 6 * AH,
      date: '2026-02-01',
    });
    expect(values.of('s.twice')).toMatchObject({ si: 636 * AH, siUncertainty: 12 * AH });
  });

  it('nothing is known of what nobody has read, nor of what is made of it, nor of texts', async () => {
    const { values } = await reckoned(
      '2026-12-31',
      SYSTEM('of-unread: { from: unread + a, quantity: charge }'),
      read('2026-01-01', 's.a: 390 Ah'),
    );
    for (const ref of ['s.unread', 's.of-unread', 's.model', 's.nothing'])
      expect(values.of(ref)).toBeUndefined();
  });

  it('an unknown uncertainty stays unknown', async () => {
    const { values } = await reckoned(
      '2026-12-31',
      SYSTEM('sum: { from: a + b, quantity: charge }'),
      read('2026-01-01', 's.a: 390 ± 4 Ah', 's.b: 10 Ah'),
    );
    expect(values.of('s.sum')).toMatchObject({ si: 400 * AH, siUncertainty: null });
  });
});

describe('a value that comes in by several ways', () => {
  // With a and b independent: (a − b) has √(4² + 3²) = 5.
  const BOTH = read('2026-01-01', 's.a: 100 ± 4 Ah', 's.b: 60 ± 3 Ah');

  it.each([
    ['independent ones', 'out: { from: a - b, quantity: charge }', 40 * AH, 5 * AH],
    ['itself taken from itself', 'out: { from: a - a, quantity: charge }', 0, 0],
    ['itself over itself', 'out: { from: a / a, quantity: ratio }', 1, 0],
    [
      'through another name',
      'same: { from: a, quantity: charge }\nout: { from: a - same, quantity: charge }',
      0,
      0,
    ],
    [
      'through several names on each side',
      'one: { from: 2 * a, quantity: charge }\ntwo: { from: one + b, quantity: charge }\nout: { from: two - one - b, quantity: charge }',
      0,
      0,
    ],
    // d/da (a/(a+b)) = b/(a+b)², d/db = −a/(a+b)²; with 100 ± 4 and 60 ± 3: √((60·4)² + (100·3)²)/160².
    [
      'a share of a sum',
      'out: { from: a / (a + b), quantity: ratio }',
      100 / 160,
      Math.hypot(60 * 4, 100 * 3) / 160 ** 2,
    ],
    [
      'a share of a sum, the sum under its own name',
      'sum: { from: a + b, quantity: charge }\nout: { from: a / sum, quantity: ratio }',
      100 / 160,
      Math.hypot(60 * 4, 100 * 3) / 160 ** 2,
    ],
  ])('%s', async (_why, derived, si, siUncertainty) => {
    const value = (await reckoned('2026-12-31', SYSTEM(derived), BOTH)).values.of('s.out');
    expect(value?.si).toBeCloseTo(si, 9);
    expect(value?.siUncertainty).toBeCloseTo(siUncertainty, 9);
  });

  it('a contradicted spec and the point that contradicts it are one reading', async () => {
    const { values } = await reckoned(
      '2026-12-31',
      SYSTEM(
        'out: { from: claimed - a, quantity: charge }\ntwo: { from: claimed - other, quantity: charge }',
      ),
      read('2026-01-01', 's.a: 318 ± 6 Ah'),
    );
    expect(values.of('s.out')).toMatchObject({ si: 0, siUncertainty: 0 });
    // Both specs are contradicted by the same reading.
    expect(values.of('s.two')).toMatchObject({ si: 0, siUncertainty: 0 });
  });

  it('a contradicted spec and a newer reading that does not contradict it are two', async () => {
    const { values } = await reckoned(
      '2026-12-31',
      SYSTEM('out: { from: claimed - a, quantity: charge }'),
      read('2026-01-01', 's.a: 318 ± 6 Ah'),
      read('2026-02-01', '{ point: s.a, value: 318 ± 8 Ah, basis: marked }'),
    );
    expect(values.of('s.out')?.si).toBe(0);
    expect(values.of('s.out')?.siUncertainty).toBeCloseTo(10 * AH, 6);
  });

  it('stated correlations count', async () => {
    const withBy = (by: number) =>
      SYSTEM(`out: { from: a + b, quantity: charge, correlated: [{ between: [a, b], by: ${by} }] }`);
    const half = async (by: number) =>
      (await reckoned('2026-12-31', withBy(by), BOTH)).values.of('s.out')?.siUncertainty;
    expect(await half(1)).toBeCloseTo(7 * AH, 6);
    expect(await half(0)).toBeCloseTo(5 * AH, 6);
    expect(await half(-1)).toBeCloseTo(1 * AH, 6);
  });
});

describe('what a value rests on', () => {
  it('goes all the way down, each once, with a contradicted spec under its own name too', async () => {
    const { values } = await reckoned(
      '2026-12-31',
      SYSTEM(`one: { from: claimed + b, quantity: charge }
        two: { from: 2 * one, quantity: charge }
        three: { from: two + b, quantity: charge }`),
      read('2026-01-01', 's.a: 318 ± 6 Ah', 's.b: 2 ± 1 Ah'),
    );
    const rests = values.of('s.three')?.restsOn ?? [];
    expect([...rests].sort()).toEqual(['s.a', 's.b', 's.claimed', 's.one', 's.three', 's.two']);
  });
});

describe('supposed values', () => {
  it('stand in place of readings, claims and evidence', async () => {
    const book = await bookOf(
      SYSTEM('twice: { from: 2 * a, quantity: charge }\nmore: { from: claimed + a, quantity: charge }'),
      read('2026-01-01', 's.a: 318 ± 6 Ah'),
    );
    const supposed = new Map([['s.a', quantity('100 Ah', 'charge')]]);
    const { values } = reckon(book, '2026-12-31', supposed);
    expect(values.of('s.a')).toMatchObject({ si: 100 * AH, siUncertainty: null, date: null });
    expect(values.of('s.twice')?.si).toBe(200 * AH);
    // The spec is contradicted by the reading on record, which is not the value supposed of the point.
    expect(values.of('s.more')?.si).toBe(418 * AH);
    const claim = reckon(book, '2026-12-31', new Map([['s.claimed', quantity('1 ± 1 Ah', 'charge')]])).values;
    expect(claim.of('s.more')).toMatchObject({ si: 319 * AH });
    expect(claim.of('s.more')?.siUncertainty).toBeCloseTo(Math.hypot(1, 6) * AH, 6);
  });
});

describe('circles and long chains', () => {
  it('a circle, which the checker reports, has no value and does not hang', async () => {
    const book = await bookOf(
      SYSTEM('one: { from: 2 * a, quantity: charge }\ntwo: { from: 3 * one, quantity: charge }'),
    );
    const s = book.systems.get('s');
    const [one, two] = [s?.derived.get('one'), s?.derived.get('two')];
    if (s === undefined || one === undefined || two === undefined) throw new Error('not as made');
    const again = (name: string, with_: typeof one) => ({
      ...one,
      name,
      ref: `s.${name}`,
      formula: with_.formula,
      uses: with_.uses,
    });
    // `one` is made of itself here, through `two`.
    const round = new Map([
      ['two', { ...two }],
      ['one', { ...again('one', two), uses: ['s.one'] }],
    ]);
    const values = valuesInForce(new Map([['s', { ...s, derived: round }]]), new Map(), new Map());
    expect(values.of('s.one')).toBeUndefined();
    expect(values.of('s.two')).toBeUndefined();
  });

  it('doubles sixty times over without taking sixty doublings of time', async () => {
    const lines = ['d0: { from: a + a, quantity: charge }'];
    for (let at = 1; at < 60; at += 1)
      lines.push(`d${at}: { from: d${at - 1} + d${at - 1}, quantity: charge }`);
    const { values } = await reckoned(
      '2026-12-31',
      SYSTEM(lines.join('\n')),
      read('2026-01-01', 's.a: 1 ± 1 Ah'),
    );
    expect(values.of('s.d59')?.si).toBe(2 ** 60 * AH);
    expect(values.of('s.d59')?.siUncertainty).toBe(2 ** 60 * AH);
  });

  it('sums unfolded through names are the sums written out', async () => {
    const numbers = fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 2, maxLength: 6 });
    await fc.assert(
      fc.asyncProperty(numbers, numbers, async (first, second) => {
        const sum = (of: readonly number[]) =>
          of
            .map((n) => `${n} * a + ${n * n} * b`)
            .join(' + ')
            .replaceAll('+ -', '- ');
        const { values } = await reckoned(
          '2026-12-31',
          SYSTEM(`one: { from: "${sum(first)}", quantity: charge }
            two: { from: "${sum(second)} + one", quantity: charge }
            flat: { from: "${sum([...second, ...first])}", quantity: charge }`),
          read('2026-01-01', 's.a: 100 ± 4 Ah', 's.b: 60 ± 3 Ah'),
        );
        const [two, flat] = [values.of('s.two'), values.of('s.flat')];
        expect(two?.si).toBeCloseTo(flat?.si ?? Number.NaN, 3);
        expect(two?.siUncertainty).toBeCloseTo(flat?.siUncertainty ?? Number.NaN, 3);
      }),
      { numRuns: 30 },
    );
  });

  it('looks each value up once', () => {
    const given = new Map<string, Quantity>([['s.x', quantity('1 Ah', 'charge')]]);
    const values = valuesInForce(new Map(), new Map(), new Map(), given);
    expect(values.of('s.x')).toBe(values.of('s.x'));
  });
});
