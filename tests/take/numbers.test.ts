import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decimalsOf, plainNumber } from '../../src/take/numbers.js';

describe('numbers of a table', () => {
  it.each([
    ['61.30', 'point', '61.30'],
    ['-0.5', 'point', '-0.5'],
    ['−4', 'point', '-4'],
    ['+7', 'point', '7'],
    ['1,234,567.8', 'point', '1234567.8'],
    ["1'234.5", 'point', '1234.5'],
    ['1 234', 'point', '1234'],
    ['61,30', 'comma', '61.30'],
    ['1.234,5', 'comma', '1234.5'],
    ['1 234,5', 'comma', '1234.5'],
    ['12', 'comma', '12'],
  ] as const)('%s with a decimal %s is %s', (written, decimal, plain) => {
    expect(plainNumber(written, decimal)).toBe(plain);
  });

  it.each([
    ['12,700', 'point'],
    ['1,234,567', 'point'],
    ['61.3', 'comma'],
    ['1.234', 'comma'],
    ['12,34.5', 'point'],
    ['1.2.3', 'point'],
    ['1e3', 'point'],
    ['', 'point'],
    ['-', 'point'],
    ['.5', 'point'],
    ['5 V', 'point'],
    ['0x10', 'point'],
  ] as const)('%j with a decimal %s is none', (written, decimal) => {
    expect(plainNumber(written, decimal)).toBeNull();
  });

  it('are those that other formatters write', () => {
    const value = fc.integer({ min: -99_999_999, max: 99_999_999 }).map((cents) => cents / 100);
    const [english, german] = ['en-GB', 'de-DE'].map(
      (language) => new Intl.NumberFormat(language, { minimumFractionDigits: 2, maximumFractionDigits: 2 }),
    );
    fc.assert(
      fc.property(value, (number) => {
        expect(Number(plainNumber(english?.format(number) ?? '', 'point'))).toBe(number + 0);
        expect(Number(plainNumber(german?.format(number) ?? '', 'comma'))).toBe(number + 0);
      }),
    );
    expect(['12', '12.5', '12.50'].map(decimalsOf)).toEqual([0, 1, 2]);
  });
});
