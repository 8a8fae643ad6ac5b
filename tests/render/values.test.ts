import { describe, expect, test } from 'vitest';
import type { Uncertainty } from '../../src/check/model.js';
import { inUnit, type Kind, parseQuantity, type Quantity, spreadIn } from '../../src/quantity/index.js';
import { showConditions, showHours, showMoney, showReading } from '../../src/render/values.js';

const AS_WRITTEN = { system: 'as-written' } as const;

function quantity(text: string, kind: Kind): Quantity {
  const result = parseQuantity(text, kind);
  if (!result.ok) throw new Error(text);
  return result.quantity;
}

const instrument = (si: number): Uncertainty => ({ si, from: 'instrument' });

describe('a reading with its uncertainty', () => {
  test.each([
    ['318 ± 6 Ah', 'charge', { si: 21_600, from: 'written' }, '318 ± 6 Ah', 'stated'],
    ['12.71 V', 'voltage', instrument(0.08), '12.71 ± 0.08 V', 'instrument'],
    ['27 1/2 in', 'length', instrument(0.001), '27 1/2 in ± 1 mm', 'instrument'],
    // A half-width of a temperature is a difference: nothing is added to it.
    ['19 °C', 'temperature', instrument(0.5), '19 ± 0.5 °C', 'instrument'],
    ['2 bar', 'gauge-pressure', instrument(10_000), '2 ± 0.10 bar', 'instrument'],
    ['12.71 V', 'voltage', { si: null, from: 'unknown' }, '12.71 V', 'not known'],
  ] as const)('%s', (text, kind, uncertainty, shown, spread) => {
    const value = showReading(quantity(text, kind), uncertainty, AS_WRITTEN);
    expect(value.spread).toBe(spread);
    expect(value.text).toBe(shown);
  });
});

test('a number of SI units in another unit, and a half-width without an offset', () => {
  expect(inUnit(293.15, 'temperature', '°C')).toBeCloseTo(20, 9);
  expect(spreadIn(1, 'temperature', '°C')).toBeCloseTo(1, 9);
  expect(spreadIn(0.0254, 'length', 'in')).toBeCloseTo(1, 12);
});

test('money and hours', () => {
  expect(showMoney({ amount: 1480, currency: 'EUR' })).toBe('1480.00 EUR');
  expect(showMoney({ amount: -12_345.5, currency: 'GBP' })).toBe('−12\u202f345.50 GBP');
  expect(showMoney({ amount: 9000, currency: 'JPY' })).toBe('9000 JPY');
  expect(showHours(3.25)).toBe('3.3 h');
});

test('conditions in one line', () => {
  const under = [
    { name: 'rest-time', value: { type: 'quantity', quantity: quantity('12 h', 'time') } },
    { name: 'weather', value: { type: 'text', text: 'dry' } },
  ] as const;
  expect(showConditions(under, AS_WRITTEN)).toBe('rest time 12 h, weather dry');
  expect(showConditions([], AS_WRITTEN)).toBeNull();
});
