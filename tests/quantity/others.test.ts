import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  currencyDecimals,
  halfWidthAt,
  parseInterval,
  parseMoney,
  parseWithin,
  printInterval,
} from '../../src/quantity/index.js';

describe('tolerances and accuracies', () => {
  it.each([
    ['5 %', 'charge', 0.05, 0],
    ['10 Ah', 'charge', 0, 36000],
    ['0.5 % + 0.02 V', 'voltage', 0.005, 0.02],
    ['± 0.1 V', 'voltage', 0, 0.1],
    ['2 %', 'moisture', 0, 0.02],
    ['2 % of value', 'moisture', 0.02, 0],
    ['1 % of reading + 2 %', 'relative-humidity', 0.01, 0.02],
    ['1.5 %', 'resistance', 0.015, 0],
    ['5 K', 'temperature', 0, 5],
    ['9 °F', 'temperature', 0, 5],
    ['0.2 bar', 'gauge-pressure', 0, 20000],
    ['1/16 in', 'length', 0, 0.0015875],
    ['0.1', 'ph', 0, 0.1],
  ] as const)('%s of %s', (text, kind, share, amount) => {
    const result = parseWithin(text, kind);
    if (!result.ok) throw new Error(result.problem.message);
    expect(result.within.written).toBe(text);
    expect(result.within.share).toBeCloseTo(share, 15);
    expect(result.within.amount).toBeCloseTo(amount, 12);
  });

  it.each([
    ['5 A', 'wrong-kind', 'A'],
    ['2 % + 3 A', 'wrong-kind', 'A'],
    ['-2 V', 'bad-uncertainty', '-2 V'],
    ['0 V', 'bad-uncertainty', '0 V'],
    ['1 ± 0.1 V', 'bad-uncertainty', '1 ± 0.1 V'],
    ['2', 'no-unit', '2'],
    ['', 'empty', ''],
  ] as const)('%s is %s', (text, code, marked) => {
    const result = parseWithin(text, 'voltage');
    if (result.ok) throw new Error('was read');
    expect(result.problem.code).toBe(code);
    expect(text.slice(result.problem.offset, result.problem.offset + result.problem.length)).toBe(marked);
  });

  it('are no share of a temperature or of a level, whose zero is only agreed upon', () => {
    expect(parseWithin('5 %', 'temperature')).toMatchObject({
      ok: false,
      problem: { hint: 'Write it in K.' },
    });
    expect(parseWithin('5 %', 'ph')).toMatchObject({ ok: false, problem: { code: 'bad-uncertainty' } });
  });

  it('widen with the value, whatever its sign', () => {
    expect(halfWidthAt({ written: '', share: 0.01, amount: 0.5 }, 100)).toBeCloseTo(1.5, 12);
    expect(halfWidthAt({ written: '', share: 0.01, amount: 0.5 }, -100)).toBeCloseTo(1.5, 12);
  });
});

describe('periods of the calendar', () => {
  it.each([
    ['6 months', { years: 0, months: 6, weeks: 0, days: 0 }],
    ['1 month', { years: 0, months: 1, weeks: 0, days: 0 }],
    ['1 year 6 months', { years: 1, months: 6, weeks: 0, days: 0 }],
    ['  2 weeks 3 days ', { years: 0, months: 0, weeks: 2, days: 3 }],
    ['18months', { years: 0, months: 18, weeks: 0, days: 0 }],
  ])('%s', (text, interval) => expect(parseInterval(text)).toEqual({ ok: true, interval }));

  it.each([
    ['250 h', '250 h'],
    ['6 mo', '6 mo'],
    ['1.5 years', '1.5 years'],
    ['months', 'months'],
    ['6', '6'],
    ['-6 months', '-6 months'],
    ['6 months 1 year', '1 year'],
    ['6 months 6 months', '6 months'],
    ['0 days', '0 days'],
    ['99999 years', '99999 years'],
    ['6 constructor', '6 constructor'],
  ])('%s is not one', (text, marked) => {
    const result = parseInterval(text);
    if (result.ok) throw new Error('was read');
    const { code, offset, length } = result.problem;
    expect(code).toBe('bad-period');
    expect(text.slice(offset, offset + length)).toBe(marked);
  });

  it('are printed so that they are read back', () => {
    const number = fc.integer({ min: 0, max: 10_000 });
    fc.assert(
      fc.property(fc.record({ years: number, months: number, weeks: number, days: number }), (interval) => {
        fc.pre(Object.values(interval).some((n) => n > 0));
        expect(parseInterval(printInterval(interval))).toEqual({ ok: true, interval });
      }),
    );
    expect(printInterval({ years: 1, months: 6, weeks: 0, days: 1 })).toBe('1 year 6 months 1 day');
  });
});

describe('money', () => {
  it.each([
    ['1480.00 EUR', 1480, 'EUR'],
    ['1480 EUR', 1480, 'EUR'],
    ['0.05 GBP', 0.05, 'GBP'],
    ['-20 GBP', -20, 'GBP'],
    ['−20 GBP', -20, 'GBP'],
    ['100 JPY', 100, 'JPY'],
    ['1.125 KWD', 1.125, 'KWD'],
    [' 12 USD ', 12, 'USD'],
  ])('%s', (text, amount, currency) =>
    expect(parseMoney(text)).toEqual({ ok: true, money: { written: text, amount, currency } }),
  );

  it.each([
    ['1480', 'bad-money', '1480', []],
    ['1480 eur', 'bad-money', 'eur', ['1480 EUR']],
    ['1480 XYZ', 'bad-money', 'XYZ', []],
    ['€1480', 'bad-money', '€', ['1480 EUR']],
    ['EUR 1480', 'bad-money', 'EUR', ['1480 EUR']],
    ['12.345 EUR', 'bad-money', '12.345', ['12345 EUR']],
    ['100.5 JPY', 'bad-money', '100.5', []],
    ['1/2 EUR', 'bad-money', '1/2', []],
    ['1,480 EUR', 'comma', '1,480', ['1480 EUR', '1.48 EUR']],
    ['12 constructor', 'bad-money', 'constructor', []],
    ['', 'empty', '', []],
  ])('%s is %s', (text, code, marked, choices) => {
    const result = parseMoney(text);
    if (result.ok) throw new Error('was read');
    expect(result.problem.code).toBe(code);
    expect(result.problem.choices).toEqual(choices);
    expect(text.slice(result.problem.offset, result.problem.offset + result.problem.length)).toBe(marked);
  });

  it.each([
    ['£12.50', ['12.50 GBP']],
    ['-£5', ['-5 GBP']],
    ['$180', ['180 USD', '180 CAD', '180 AUD', '180 NZD']],
    ['A$ 180', ['180 AUD']],
    ['180 €', ['180 EUR']],
    ['180,- EUR', ['180 EUR']],
    ['1.180,-- €', ['1180 EUR']],
    ['100 kr.', ['100 DKK', '100 NOK', '100 SEK', '100 ISK']],
    ['12,50 EUR', ['12.50 EUR']],
    ['1,180.50 EUR', ['1180.50 EUR']],
    ['1.180,50 EUR', ['1180.50 EUR']],
    ['1,180,500.00 EUR', ['1180500.00 EUR']],
    ["1'180.50 CHF", ['1180.50 CHF']],
    ['1 180 EUR', ['1180 EUR']],
    ['1.180 EUR', ['1180 EUR', '1.18 EUR']],
    ['1,180 EUR', ['1180 EUR', '1.18 EUR']],
    ['0.180 EUR', ['0.18 EUR']],
    ['1,18,0 EUR', []],
    ['3.5.6 EUR', []],
  ])('%s can be meant for %j', (text, meant) => {
    const result = parseMoney(text);
    if (result.ok) throw new Error('was read');
    expect(result.problem.choices).toEqual(meant);
    for (const one of meant) {
      expect(parseMoney(one).ok, one).toBe(true);
      expect(result.problem.hint).toContain(`\`${one}\``);
    }
  });

  it('has the decimals of its currency', () => {
    expect(['EUR', 'JPY', 'KWD'].map(currencyDecimals)).toEqual([2, 0, 3]);
  });
});
