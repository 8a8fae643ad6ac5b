import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { productType, sumType, type Typed, typeOf } from '../../src/quantity/formula/algebra.js';
import {
  ALL_KINDS,
  differenceKind,
  evaluate,
  type Kind,
  parseFormula,
  substitute,
} from '../../src/quantity/index.js';
import { formula, near, reckon } from './helpers.js';

describe('kinds of formulas', () => {
  it.each([
    ['0.5 * capacity', undefined, 'charge'],
    ['capacity * 50 %', undefined, 'charge'],
    ['capacity / house-dc.capacity', undefined, 'ratio'],
    ['volts * amps', 'power', 'power'],
    ['volts * amps', 'apparent-power', 'apparent-power'],
    ['volts * amps + watts', undefined, 'power'],
    ['volt-amperes * power-factor', undefined, 'power'],
    ['watts / power-factor', undefined, 'apparent-power'],
    ['volt-amperes * 0.8', undefined, 'apparent-power'],
    ['volts / amps', undefined, 'resistance'],
    ['capacity * volts', 'energy', 'energy'],
    ['capacity / amps', undefined, 'time'],
    ['capacity / 5 A', undefined, 'time'],
    ['wrench * shaft', undefined, 'power'],
    ['pull * beam', 'torque', 'torque'],
    ['pull * beam', 'energy', 'energy'],
    ['pull * beam + wrench', undefined, 'torque'],
    ['inlet - outlet', undefined, 'temperature-difference'],
    ['inlet + rise', undefined, 'temperature'],
    ['rise + inlet', undefined, 'temperature'],
    ['inlet + 5 K', undefined, 'temperature'],
    ['inlet - 5 K', 'temperature', 'temperature'],
    ['20 °C - -5 °C', undefined, 'temperature-difference'],
    ['mean(inlet, outlet)', undefined, 'temperature'],
    ['oil - oil-idle', undefined, 'pressure-difference'],
    ['oil + drop', undefined, 'gauge-pressure'],
    ['oil + 0.2 bar', undefined, 'gauge-pressure'],
    ['beam ^ 2', undefined, 'area'],
    ['beam ^ 3', undefined, 'volume'],
    ['beam * 1.2 m * 27 1/2 in', undefined, 'volume'],
    ['sqrt(beam ^ 2)', undefined, 'length'],
    ['ballast / tank', undefined, 'density'],
    ['electrolyte * 1000 kg/m3', undefined, 'density'],
    ['2nd-tank.level + tank', undefined, 'volume'],
    ['lamps * 4 W', undefined, 'power'],
    ['max(beam, 5 ft 3 in)', undefined, 'length'],
    ['abs(drop)', undefined, 'pressure-difference'],
    ['factor + 10 %', undefined, 'ratio'],
    ['wood + 2 %', 'moisture', 'moisture'],
    ['ballast * beam', undefined, 'moment-of-mass'],
    ['2/0 AWG + 10 mm2', undefined, 'area'],
    ['capacity >= 320 Ah', undefined, 'truth'],
    ['house-dc.capacity >= 320 Ah and rest-voltage > 12 V', 'truth', 'truth'],
    ['13.8 V <= volts <= 14.4 V', undefined, 'truth'],
    ['volts between 13.8 V and 14.4 V and amps < 30 A', undefined, 'truth'],
    ['acid > 7', undefined, 'truth'],
    ['noise < 70 dB(A)', undefined, 'truth'],
    ['-5 °C <= inlet', undefined, 'truth'],
    ['lamps = 4', undefined, 'truth'],
  ] as const)('%s (due: %s) gives %s', (text, due, kind) => {
    const result = formula(text, due);
    expect(result).toMatchObject({ ok: true, formula: { kind, written: text } });
  });

  it('lists names once, in the order of their use', () => {
    const result = formula('capacity / amps + capacity / (2 * amps)');
    expect(result.ok && result.formula.names).toEqual(['capacity', 'amps']);
  });
});

describe('what is wrong with a formula', () => {
  it.each([
    ['wrench + heat', 'wrong-kind', 'An energy cannot be added to a torque.'],
    ['watts + volt-amperes', 'wrong-kind', 'An apparent power cannot be added to a power.'],
    ['oil - air', 'wrong-kind', 'An absolute pressure cannot be taken from a gauge pressure.'],
    [
      'inlet + outlet',
      'wrong-kind',
      'Two values of temperature cannot be added; for their average write mean(…, …).',
    ],
    ['volts + 1', 'wrong-kind', 'A plain number cannot be added to a voltage.'],
    ['volts > 12 A', 'wrong-kind', 'A voltage cannot be compared with a current.'],
    ['max(volts, amps)', 'wrong-kind', 'A voltage cannot be compared with a current.'],
    [
      'inlet * 2',
      'wrong-kind',
      'A temperature cannot be multiplied, divided or negated; only a temperature difference can.',
    ],
    [
      '-inlet',
      'wrong-kind',
      'A temperature cannot be multiplied, divided or negated; only a temperature difference can.',
    ],
    ['acid + 1', 'wrong-kind', 'A plain number cannot be added to a pH.'],
    ['noise * 2', 'wrong-kind', 'A sound level cannot be multiplied, divided or negated.'],
    [
      'noise - 3 dB(A)',
      'wrong-kind',
      'Values of sound level are compared or averaged, not added or subtracted.',
    ],
    [
      'volts * amps',
      'wrong-kind',
      'The formula may give a power, an apparent power or a reactive power: say which by `quantity`.',
    ],
    ['beam ^ 5', 'wrong-kind', 'The formula gives a quantity in m^5, which has no name here.'],
    ['capacity-2', 'unknown-name', '`capacity-2` is not a value of this book.'],
    ['capacityy', 'unknown-name', '`capacityy` is not a value of this book.'],
    ['constructor', 'unknown-name', '`constructor` is not a value of this book.'],
    ['2 capacity', 'bad-formula', 'A sign is missing before `capacity`.'],
    ['2 foo', 'unknown-unit', '`foo` is not a unit that is known here.'],
    ['tank > 5 gal', 'ambiguous-unit', undefined],
    ['beam > 3/2 in', 'bad-number', undefined],
    ['318 ± 6 - capacity', 'no-unit', 'A value with ± needs its unit.'],
    ['beam ^ 0.5', 'bad-formula', 'A power is a whole number of one digit; for a root write sqrt(…).'],
    ['volts or amps', 'bad-formula', '`or` is not expected here.'],
    ['volts == 12 V', 'bad-formula', '`=` is not expected here.'],
    ['volts > 12 V and', 'bad-formula', 'The formula ends too early.'],
    ['volts > 12 V and amps', 'bad-formula', 'After “and” a comparison is due.'],
    ['volts between 12 V', 'bad-formula', '“between” needs two limits with “and” between them.'],
    ['(volts', 'bad-formula', 'This bracket is not closed, or holds more than one value.'],
    ['volts)', 'bad-formula', '`)` is not expected here.'],
    ['sin(volts)', 'bad-formula', 'There is no function `sin`.'],
    ['abs(volts, volts)', 'bad-formula', 'abs takes one value.'],
    ['__proto__', 'bad-formula', 'A value is due here, not `_`.'],
    ['volts.__proto__', 'bad-formula', '`.` is not expected here.'],
    ['volts; amps', 'bad-formula', '`;` is not expected here.'],
    ['', 'empty', 'A formula is missing.'],
  ] as const)('%s is %s', (text, code, message) => {
    const result = formula(text);
    expect(result).toMatchObject({
      ok: false,
      problem: { code, ...(message === undefined ? {} : { message }) },
    });
  });

  it('names both kinds where another is due', () => {
    expect(formula('capacity / 2', 'energy')).toMatchObject({
      problem: { code: 'wrong-kind', message: 'The formula gives a charge, and an energy is due.' },
    });
    expect(formula('capacity', 'truth')).toMatchObject({ problem: { code: 'wrong-kind' } });
    expect(formula('capacity > 3 Ah', 'charge')).toMatchObject({ problem: { code: 'wrong-kind' } });
  });

  it('helps with a minus without blanks and with a slip in a name', () => {
    expect(formula('capacity-2')).toMatchObject({ problem: { hint: 'For a minus put blanks around it.' } });
    expect(formula('rest-voltag')).toMatchObject({ problem: { choices: ['rest-voltage'] } });
  });

  it('marks the place', () => {
    const text = 'capacity + 2 * (volts + 3 oz)';
    const result = formula(text);
    if (result.ok) throw new Error('was read');
    const { offset, length } = result.problem;
    expect(text.slice(offset, offset + length)).toBe('volts + 3 oz');
  });

  it('is found at once in a formula nested without end', () => {
    expect(formula(`${'('.repeat(200)}a${')'.repeat(200)}`)).toMatchObject({
      problem: { code: 'bad-formula' },
    });
    expect(formula(`${'-'.repeat(400)}a`)).toMatchObject({ problem: { code: 'bad-formula' } });
    expect(formula(`${'abs('.repeat(100)}a`)).toMatchObject({ problem: { code: 'bad-formula' } });
    expect(formula('a'.repeat(10_000))).toMatchObject({ problem: { code: 'too-long' } });
  });
});

/** A random formula of plain numbers, as text and as what JavaScript makes of it. */
type Sample = { readonly text: string; readonly value: (a: number, b: number, c: number) => number };

const sample = fc.letrec<{ sum: Sample }>((tie) => ({
  sum: fc.oneof(
    { maxDepth: 5 },
    fc.integer({ min: 0, max: 99 }).map((n): Sample => ({ text: String(n), value: () => n })),
    fc.constantFrom<Sample>(
      { text: 'a', value: (a) => a },
      { text: 'b', value: (_, b) => b },
      { text: 'c', value: (_, __, c) => c },
    ),
    fc.tuple(fc.constantFrom('+', '-', '*', '/'), tie('sum'), tie('sum')).map(
      ([op, x, y]): Sample => ({
        text: `(${x.text} ${op} ${y.text})`,
        value: (a, b, c) => {
          const [left, right] = [x.value(a, b, c), y.value(a, b, c)];
          const result =
            op === '+' ? left + right : op === '-' ? left - right : op === '*' ? left * right : left / right;
          // What cannot be reckoned in one part leaves the whole without a value.
          return Number.isFinite(result) ? result : Number.NaN;
        },
      }),
    ),
    tie('sum').map((x): Sample => ({ text: `-(${x.text})`, value: (a, b, c) => -x.value(a, b, c) })),
    tie('sum').map((x): Sample => ({ text: `(${x.text}) ^ 2`, value: (a, b, c) => x.value(a, b, c) ** 2 })),
    fc.tuple(tie('sum'), tie('sum')).map(
      ([x, y]): Sample => ({
        text: `min(${x.text}, ${y.text})`,
        value: (a, b, c) => Math.min(x.value(a, b, c), y.value(a, b, c)),
      }),
    ),
  ),
})).sum;

const [A, B, C] = [1.25, -3, 0.5];
const VALUES = {
  a: { si: A, siUncertainty: 0.01 },
  b: { si: B, siUncertainty: 0.02 },
  c: { si: C, siUncertainty: 0.03 },
};

describe('reckoning', () => {
  it('agrees with JavaScript on random formulas', () => {
    const seen = { values: 0 };
    fc.assert(
      fc.property(sample, ({ text, value }) => {
        fc.pre(text.length <= 500);
        const read = formula(text, 'ratio');
        if (!read.ok) throw new Error(`${text}: ${read.problem.message}`);
        const result = evaluate(read.formula, (name) => VALUES[name as keyof typeof VALUES]);
        const expected = value(A, B, C);
        if (!Number.isFinite(expected)) {
          expect(result).toEqual({ is: 'undefined' });
          return;
        }
        if (result.is !== 'value') throw new Error(`${text} is ${result.is}`);
        seen.values++;
        // 0 and −0 are one number, of which `min` may pick either.
        expect(result.si + 0).toBe(expected + 0);
      }),
      { numRuns: 3000 },
    );
    expect(seen.values).toBeGreaterThan(1000);
  });

  it('has the derivatives of a smooth formula exactly', () => {
    const f = (a: number, b: number, c: number) => (a * b + c ** 3) / (a - 2 * b) - Math.sqrt(c);
    const result = reckon('(a * b + c ^ 3) / (a - 2 * b) - sqrt(c)', VALUES);
    if (result.is !== 'value') throw new Error('no value');
    const h = 1e-6;
    const slopes = [
      (f(A + h, B, C) - f(A - h, B, C)) / (2 * h),
      (f(A, B + h, C) - f(A, B - h, C)) / (2 * h),
      (f(A, B, C + h) - f(A, B, C - h)) / (2 * h),
    ];
    const expected = Math.hypot(slopes[0]! * 0.01, slopes[1]! * 0.02, slopes[2]! * 0.03);
    expect(result.si).toBe(f(A, B, C));
    expect(result.siUncertainty! / expected).toBeCloseTo(1, 8);
  });

  it('keeps the usual order of signs', () => {
    const value = (text: string) => {
      const result = reckon(text, VALUES);
      return result.is === 'value' ? result.si : Number.NaN;
    };
    expect(value('2 + 3 * 4')).toBe(14);
    expect(value('2 - 3 - 4')).toBe(-5);
    expect(value('24 / 2 / 3')).toBe(4);
    expect(value('24 / 1/2')).toBe(12);
    expect(value('-2 ^ 2')).toBe(-4);
    expect(value('2 ^ -1')).toBe(0.5);
    expect(value('1/2 * 8')).toBe(4);
    expect(value('3/2 * 8')).toBe(12);
    expect(value('7-1/2')).toBe(6.5);
    expect(value('a * 3/2')).toBe(1.875);
    expect(value('2 · 3 − 1')).toBe(5);
    expect(value('50 % * 8')).toBe(4);
    expect(value('mean(1, 2, 6)')).toBe(3);
  });
});

describe('uncertainty of a formula', () => {
  const u = (
    text: string,
    values = VALUES as Record<string, { si: number; siUncertainty: number | null }>,
  ) => {
    const result = reckon(text, values, 'ratio');
    if (result.is !== 'value') throw new Error(`${text} is ${result.is}`);
    return result.siUncertainty;
  };

  it('knows a value used twice for the same', () => {
    expect(reckon('a - a', VALUES)).toMatchObject({ si: 0, siUncertainty: 0 });
    expect(reckon('a / a', VALUES)).toMatchObject({ si: 1, siUncertainty: 0 });
    expect(u('a + a')).toBeCloseTo(0.02, 15);
    expect(u('a * a')).toBeCloseTo(2 * A * 0.01, 15);
    expect(u('a ^ 2')).toBeCloseTo(2 * A * 0.01, 15);
  });

  it('adds independent ones in squares', () => {
    expect(u('a + b')).toBeCloseTo(Math.hypot(0.01, 0.02), 15);
    expect(u('a - b')).toBeCloseTo(Math.hypot(0.01, 0.02), 15);
    expect(u('a * b')! / Math.abs(A * B)).toBeCloseTo(Math.hypot(0.01 / A, 0.02 / B), 15);
    expect(u('a / b')! / Math.abs(A / B)).toBeCloseTo(Math.hypot(0.01 / A, 0.02 / B), 15);
    expect(u('mean(a, b, c)')).toBeCloseTo(Math.hypot(0.01, 0.02, 0.03) / 3, 15);
  });

  it('counts a ± in the formula itself, each by itself', () => {
    const result = reckon('318 ± 6 Ah - 318 ± 6 Ah', {});
    expect(result).toMatchObject({ is: 'value', si: 0 });
    expect(result.is === 'value' && result.siUncertainty! / 3600).toBeCloseTo(6 * Math.SQRT2, 10);
  });

  it('is unknown where an input that matters has none known', () => {
    const values = { a: { si: 1, siUncertainty: null }, b: { si: 2, siUncertainty: 0.1 } };
    expect(u('a + b', values)).toBeNull();
    expect(u('a - a + b', values)).toBeCloseTo(0.1, 15);
    expect(u('max(a, b)', values)).toBeCloseTo(0.1, 15);
    expect(u('sqrt(a - a)', values)).toBe(0);
  });

  it('carries the place of the last digit along', () => {
    const result = reckon('0.5 * a', { a: { si: 318, siUncertainty: null, siResolution: 1 } });
    expect(result).toMatchObject({ si: 159, siResolution: 0.5 });
  });
});

describe('comparisons', () => {
  const volts = (si: number, siUncertainty: number | null) => ({ volts: { si, siUncertainty } });
  it.each([
    ['volts >= 12 V', 12.5, 0.4, 'holds'],
    ['volts >= 12 V', 12.4, 0.4, 'holds'],
    ['volts >= 12 V', 12.3, 0.4, 'undecided'],
    ['volts >= 12 V', 11.7, 0.4, 'undecided'],
    ['volts >= 12 V', 11.5, 0.4, 'fails'],
    ['volts > 12 V', 12, null, 'fails'],
    ['volts >= 12 V', 12, null, 'holds'],
    ['volts < 12 V', 12, null, 'fails'],
    ['volts <= 12 V', 12, null, 'holds'],
    ['volts = 12 V', 12, null, 'holds'],
    ['volts = 12 V', 12.1, null, 'fails'],
    ['volts = 12 V', 12.1, 0.2, 'undecided'],
    ['volts = 12 V', 12.3, 0.2, 'fails'],
    ['volts between 12 V and 13 V', 12.5, 0.1, 'holds'],
    ['volts between 12 V and 13 V', 12.95, 0.1, 'undecided'],
    ['volts between 12 V and 13 V', 13.2, 0.1, 'fails'],
    ['12 V < volts < 13 V', 12.5, 0.1, 'holds'],
    ['volts > 12 V and volts < 12.2 V', 12.3, 0.2, 'undecided'],
  ] as const)('%s at %s ± %s V: %s', (text, si, half, verdict) => {
    expect(reckon(text, volts(si, half))).toEqual({ is: 'truth', verdict, missing: [] });
  });

  it('are not put out by the last bit of a conversion', () => {
    expect(reckon('beam <= 27 1/2 in', { beam: { si: 0.1 + 0.5985, siUncertainty: null } })).toMatchObject({
      verdict: 'holds',
    });
    expect(
      reckon('a + b <= 0.3', { a: { si: 0.1, siUncertainty: null }, b: { si: 0.2, siUncertainty: null } }),
    ).toMatchObject({
      verdict: 'holds',
    });
  });

  it('know correlated sides', () => {
    expect(reckon('volts <= volts', volts(12, 5))).toMatchObject({ verdict: 'holds' });
    expect(reckon('volts < 2 * volts', volts(12, 5))).toMatchObject({ verdict: 'holds' });
  });

  it('fail on one failure whatever else is missing, and are unknown otherwise', () => {
    const text = 'volts > 12 V and amps < 3 A';
    expect(reckon(text, volts(11, 0.1))).toEqual({ is: 'truth', verdict: 'fails', missing: ['amps'] });
    expect(reckon(text, volts(13, 0.1))).toEqual({ is: 'truth', verdict: 'unknown', missing: ['amps'] });
    expect(reckon('amps', {})).toEqual({ is: 'unknown', missing: ['amps'] });
    expect(reckon('volts / 0 > 1 V', volts(1, 0))).toMatchObject({ verdict: 'unknown' });
  });

  it('have no value where there is none', () => {
    expect(reckon('1 / (a - a)', VALUES, 'ratio')).toEqual({ is: 'undefined' });
    expect(reckon('sqrt(b)', VALUES, 'ratio')).toEqual({ is: 'undefined' });
  });
});

describe('putting formulas in the place of names', () => {
  const read = (text: string) => {
    const result = formula(text, 'ratio');
    if (!result.ok) throw new Error(result.problem.message);
    return result.formula;
  };

  it('knows a value that comes in by two ways for the same one', () => {
    const parts: Record<string, string> = { b: '2 * a', c: 'a + 1' };
    const whole = substitute(read('b - 2 * c'), (name) =>
      Object.hasOwn(parts, name) ? read(parts[name]!) : name,
    );
    expect(whole.names).toEqual(['a']);
    expect(evaluate(whole, () => ({ si: 5, siUncertainty: 0.1 }))).toMatchObject({
      si: -2,
      siUncertainty: 0,
    });
  });

  it('keeps a ± inside a formula one value wherever it is put', () => {
    const whole = substitute(read('b - b'), () => read('3 ± 1 %'));
    expect(evaluate(whole, () => undefined)).toMatchObject({ si: 0, siUncertainty: 0 });
  });

  it('is quick for a chain that doubles at each of a hundred steps', () => {
    let chain = read('a');
    for (let i = 0; i < 100; i++) chain = substitute(read('b + b'), () => chain);
    expect(evaluate(chain, () => ({ si: 1, siUncertainty: 0.5 }))).toMatchObject({
      si: 2 ** 100,
      siUncertainty: 2 ** 99,
    });
  });
});

describe('laws of kinds', () => {
  const two = (a: Kind, b: Kind) => (name: string) => (name === 'a' ? a : name === 'b' ? b : undefined);
  const kindOf = (text: string, a: Kind, b: Kind, due?: Kind) => {
    const result = parseFormula(text, two(a, b), due);
    return result.ok ? result.formula.kind : undefined;
  };
  const kindsOf = (typed: Typed) => (typed.ok ? [...typed.type.kinds].sort() : undefined);

  it('sums and products do not mind the order', () => {
    for (const a of ALL_KINDS) {
      for (const b of ALL_KINDS) {
        const [left, right] = [typeOf(a), typeOf(b)];
        expect(kindsOf(sumType(left, right, false)), `${a} + ${b}`).toEqual(
          kindsOf(sumType(right, left, false)),
        );
        expect(kindsOf(productType(left, right, false)), `${a} * ${b}`).toEqual(
          kindsOf(productType(right, left, false)),
        );
        expect(kindOf('a < b', a, b), `${a} < ${b}`).toBe(kindOf('b > a', a, b));
      }
    }
  });

  it('only like compares with like', () => {
    for (const a of ALL_KINDS) {
      for (const b of ALL_KINDS) expect(kindOf('a < b', a, b) === 'truth', `${a} < ${b}`).toBe(a === b);
    }
  });

  it('a difference added to what it was taken from gives that back', () => {
    for (const kind of ALL_KINDS) {
      const difference = kindOf('a - b', kind, kind);
      if (difference === undefined) {
        expect(['ph', 'sound-level']).toContain(kind);
        continue;
      }
      expect(difference).toBe(differenceKind(kind));
      expect(kindOf('a + b', kind, differenceKind(kind))).toBe(kind);
    }
  });

  it('a product divided by one of its factors can be the other', () => {
    const skipped = new Set<Kind>(['temperature', 'ph', 'sound-level', 'power-factor']);
    for (const a of ALL_KINDS.filter((kind) => !skipped.has(kind))) {
      for (const b of ALL_KINDS.filter((kind) => !skipped.has(kind))) {
        expect(kindOf('a * b / b', a, b, a), `${a} * ${b} / ${b}`).toBe(a);
      }
    }
  });

  it('values divided by their like are ratios', () => {
    for (const kind of ALL_KINDS) {
      const scale = ['temperature', 'ph', 'sound-level'].includes(kind);
      expect(kindOf('a / b', kind, kind, 'ratio'), kind).toBe(scale ? undefined : 'ratio');
    }
  });
});

describe('numbers close to others', () => {
  it('are told apart by the helper of these tests', () => {
    expect(near(1, 1 + 1e-15)).toBe(true);
    expect(near(1, 1 + 1e-9)).toBe(false);
  });
});
