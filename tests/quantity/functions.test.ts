import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nearestFunctions, tradeFunction } from '../../src/quantity/formula/functions.js';
import {
  evaluate,
  FORMULA_FUNCTIONS,
  FUNCTIONS_ADVISE,
  isKind,
  parseFormula,
} from '../../src/quantity/index.js';
import { near, reckon } from './helpers.js';

const TRADE = FORMULA_FUNCTIONS.filter(({ source }) => source !== null);

/** Values inside the domain of an argument, of a size that is met aboard. */
function inside(kind: string, name: string): fc.Arbitrary<number> {
  const from = (min: number, max: number) => fc.double({ min, max, noNaN: true });
  switch (`${kind} ${name}`) {
    case 'temperature rating':
      return fc.constantFrom(...[60, 75, 80, 90, 105, 125, 200].map((celsius) => celsius + 273.15));
    case 'temperature temperature':
      return from(275, 340);
    case 'temperature reference':
      return from(275, 310);
    case 'area area':
      return from(1e-6, 1e-4);
    case 'specific-gravity reading':
      return from(1.05, 1.35);
    case 'ratio exponent':
      return from(1.01, 1.5);
    case 'power-factor power-factor':
      return from(0.1, 0.99);
    case 'count conductors':
      return fc.integer({ min: 1, max: 40 });
    default:
      return from(0.5, 1e4);
  }
}

describe('functions of the trade', () => {
  it.each(TRADE)(
    '$call is documented',
    ({ name, about, arguments: takes, gives, relation, source, example }) => {
      expect(about).toMatch(/^[A-Z].*\.$/);
      expect(isKind(gives)).toBe(true);
      expect(takes.length).toBeGreaterThan(0);
      for (const one of takes) {
        expect(isKind(one.kind)).toBe(true);
        expect(one.about).not.toBe('');
        expect(one.hasToBe).not.toBe('');
      }
      expect(relation).not.toBe('');
      expect(source).toMatch(/\.$/);
      expect(example).toContain(`${name}(`);
    },
  );

  it.each(TRADE)('the example of $name is read and has a value', ({ example }) => {
    const read = parseFormula(example ?? '', () => undefined);
    if (!read.ok) throw new Error(read.problem.message);
    expect(evaluate(read.formula, () => undefined)).toMatchObject({ is: 'value', siUncertainty: 0 });
  });

  it.each(TRADE)('the derivatives of $name are those of its values', ({ name, arguments: takes }) => {
    const trade = tradeFunction(name);
    if (trade === undefined) throw new Error('no such function');
    const stepped = name.startsWith('allowable') || name === 'bundle-factor';
    fc.assert(
      fc.property(fc.tuple(...takes.map((one) => inside(one.kind, one.name))), (values) => {
        const { value, slopes } = trade.reckon(...values);
        expect(slopes).toHaveLength(values.length);
        for (const [i, at] of values.entries()) {
          const step = Math.abs(at) * 1e-5;
          const moved = (by: number) => trade.reckon(...values.with(i, at + by)).value;
          const expected = stepped ? 0 : (moved(step) - moved(-step)) / (2 * step);
          const floor = 1e-6 * Math.abs(value / at);
          expect(Math.abs((slopes[i] ?? Number.NaN) - expected)).toBeLessThanOrEqual(
            1e-6 * Math.abs(expected) + floor,
          );
        }
      }),
    );
  });

  it('say that others decide', () => {
    expect(FUNCTIONS_ADVISE).toContain('local codes and licensed people decide');
  });
});

describe('uncertainty through a function', () => {
  it('is carried on by first order', () => {
    const result = reckon('peukert-time(capacity, 20 h, amps, 1.2)', {
      capacity: { si: 360_000, siUncertainty: 7200 },
      amps: { si: 10, siUncertainty: 0.2 },
    });
    if (result.is !== 'value') throw new Error(result.is);
    expect(near(result.siUncertainty ?? 0, result.si * Math.hypot(1.2 * 0.02, 1.2 * 0.02))).toBe(true);
  });

  it('knows an input that comes in twice', () => {
    const values = { volts: { si: 230, siUncertainty: 2 }, amps: { si: 8, siUncertainty: 0.1 } };
    expect(
      reckon('single-phase-power(volts, amps, 0.9) - volts * amps * 0.9', values, 'power'),
    ).toMatchObject({ siUncertainty: 0 });
    const twice = reckon(
      'single-phase-power(volts, amps, 0.9) + single-phase-power(volts, amps, 0.9)',
      values,
    );
    const once = reckon('single-phase-power(volts, amps, 0.9)', values);
    if (twice.is !== 'value' || once.is !== 'value') throw new Error('no value');
    expect(near(twice.siUncertainty ?? 0, 2 * (once.siUncertainty ?? 0))).toBe(true);
  });

  it('is unknown where that of an input is', () => {
    const values = { volts: { si: 230, siUncertainty: null }, amps: { si: 8, siUncertainty: 0.1 } };
    expect(reckon('single-phase-apparent-power(volts, amps)', values)).toMatchObject({ siUncertainty: null });
  });
});

describe('what is wrong with a call', () => {
  const problem = (text: string) => {
    const kinds = new Map([['amps', 'current'] as const, ['beam', 'length'] as const]);
    const read = parseFormula(text, (name) => kinds.get(name as 'amps'));
    if (read.ok) throw new Error(`${text} was read`);
    return {
      ...read.problem,
      marked: text.slice(read.problem.offset, read.problem.offset + read.problem.length),
    };
  };

  it('names a near function', () => {
    expect(problem('voltage-drp(10 AWG, 3 m, amps, 20 °C)')).toMatchObject({
      code: 'bad-formula',
      message: 'There is no function `voltage-drp`.',
      hint: 'Did you mean voltage-drop?',
      marked: 'voltage-drp',
    });
    expect(problem('peukert(100 Ah, 20 h, amps, 1.2)').hint).toBe('Did you mean peukert-time?');
    expect(problem('average(amps)').hint).toMatch(
      /^There are min, max, mean, abs, sqrt, conductor-resistance/,
    );
    expect(nearestFunctions('shaftpower')).toEqual(['shaft-power']);
  });

  it('counts the arguments', () => {
    expect(problem('voltage-drop(10 AWG, 3 m, amps)')).toMatchObject({
      code: 'bad-formula',
      message: 'voltage-drop takes 4 values, not 3.',
      hint: 'Write `voltage-drop(area, length, current, temperature)`, such as `voltage-drop(10 AWG, 12 m, 15 A, 30 °C)`.',
    });
    expect(problem('bundle-factor(3, 4)').message).toBe('bundle-factor takes one value, not 2.');
  });

  it('names both kinds', () => {
    expect(problem('voltage-drop(beam, 3 m, amps, 20 °C)')).toMatchObject({
      code: 'wrong-kind',
      message: 'As the area of voltage-drop an area is due, and this is a length.',
      marked: 'beam',
    });
    expect(problem('single-phase-apparent-power(230 V, amps) + 5 W').code).toBe('wrong-kind');
  });

  it('is told at once where a written value is outside what the function is for', () => {
    expect(problem('allowable-current(10 AWG, 85 °C)')).toMatchObject({
      code: 'bad-formula',
      message:
        'For allowable-current the rating has to be one of 60, 75, 80, 90, 105, 125 and 200 °C, the columns of the table.',
      marked: '85 °C',
    });
    expect(problem('allowable-current(20 AWG, 105 °C)').marked).toBe('20 AWG');
    expect(problem('peukert-time(100 Ah, 20 h, amps, 12)').marked).toBe('12');
  });

  it('leaves a value that turns out to be outside without a result, and says why', () => {
    const values = { amps: { si: 0, siUncertainty: null } };
    const why = 'For peukert-time the current has to be more than nought.';
    expect(reckon('peukert-time(100 Ah, 20 h, amps, 1.2)', values)).toEqual({ is: 'undefined', why });
    expect(reckon('2 * peukert-time(100 Ah, 20 h, amps, 1.2) + 3 h', values)).toEqual({
      is: 'undefined',
      why,
    });
    expect(reckon('3 h - peukert-time(100 Ah, 20 h, amps, 1.2) / 2', values)).toEqual({
      is: 'undefined',
      why,
    });
    expect(reckon('peukert-time(100 Ah, 20 h, amps, 1.2) > 3 h', values)).toMatchObject({
      verdict: 'unknown',
    });
  });

  it('is not a value that is missing', () => {
    expect(reckon('shaft-power(wrench, shaft)', {})).toEqual({ is: 'unknown', missing: ['wrench', 'shaft'] });
  });
});

describe('sizes of the table of allowable currents', () => {
  it.each([
    ['6 mm2', 60],
    ['5 mm2', 45],
    ['100 mm2', 385],
    ['1 mm2', 20],
  ] as const)('%s counts as the next smaller one: %s A', (area, amperes) => {
    expect(reckon(`allowable-current(${area}, 105 °C)`, {})).toMatchObject({ is: 'value', si: amperes });
  });

  it('never falls with the size', () => {
    const area = fc.double({ min: 0.83e-6, max: 107e-6, noNaN: true });
    const current = tradeFunction('allowable-current');
    fc.assert(
      fc.property(area, area, (a, b) => {
        const [small, large] = [a, b].map((size) => current?.reckon(size, 378.15).value ?? Number.NaN);
        expect(Math.sign((small ?? 0) - (large ?? 0)) * Math.sign(a - b)).toBeGreaterThanOrEqual(0);
      }),
    );
  });
});
