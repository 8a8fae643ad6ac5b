import { describe, expect, it } from 'vitest';
import {
  convert,
  type DisplayPreference,
  formatNumber,
  fromSi,
  parseQuantity,
  preferred,
  printQuantity,
} from '../../src/quantity/index.js';
import { read } from './helpers.js';

const METRIC: DisplayPreference = { system: 'metric' };
const US: DisplayPreference = { system: 'us' };

describe('printing as written', () => {
  it.each([
    ['318 ± 6 Ah', '318 ± 6 Ah'],
    ['318.123 ± 6 Ah', '318 ± 6 Ah'],
    ['318 ± 6.5 Ah', '318 ± 6.5 Ah'],
    ['12.71 ± 0.1 V', '12.71 ± 0.10 V'],
    ['12.7 ± 0.1 V', '12.7 ± 0.1 V'],
    ['12.70 V', '12.70 V'],
    ['1480 kg', '1480 kg'],
    ['-4 °C', '−4 °C'],
    ['0.0 °C', '0.0 °C'],
    ['45 Nm', '45 N·m'],
    ['12 l/min', '12 L/min'],
    ['27 1/2 in', '27 1/2 in'],
    ['-3/8  in', '−3/8 in'],
    ['27 1/2 +/- 1/16 in', '27 1/2 ± 1/16 in'],
    ['5 ft 3 1/4 in', '5 ft 3 1/4 in'],
    ['0000 AWG', '4/0 AWG'],
    ['AWG 12', '12 AWG'],
    ['0 AWG', '1/0 AWG'],
    ['8.1 pH', 'pH 8.1'],
    ['12.5 deg', '12.5°'],
    ['12.5 ± 0.5 deg', '12.5 ± 0.5 °'],
    ['1.265 SG', '1.265 SG'],
    ['4 pcs', '4 pcs'],
  ])('%s prints as %s', (text, printed) => expect(printQuantity(read(text))).toBe(printed));

  it('prints a plain number without a unit', () => expect(printQuantity(read('0.85', 'ratio'))).toBe('0.85'));
});

describe('printing in the units a reader prefers', () => {
  it.each([
    ['700 mm', undefined, '700 mm', '27.56 in'],
    ['27 in', undefined, '690 mm', '27 in'],
    ['27 1/2 in', undefined, '699 mm', '27 1/2 in'],
    ['3/8 in', undefined, '9.5 mm', '3/8 in'],
    ['1/4 in', undefined, '6.4 mm', '1/4 in'],
    ['5 ft 3 1/4 in', undefined, '1607 mm', '5 ft 3 1/4 in'],
    ['118 kg', undefined, '118 kg', '260 lb'],
    ['118.0 kg', undefined, '118.0 kg', '260.1 lb'],
    ['20 ± 1 °C', undefined, '20 ± 1 °C', '68.0 ± 1.8 °F'],
    ['2.1 ± 0.1 m', undefined, '2.1 ± 0.1 m', '6.89 ± 0.33 ft'],
    ['5 K', undefined, '5 K', '5 K'],
    ['3.2 bar', 'gauge-pressure', '3.2 bar', '46 psi'],
    ['3.2 bar(g)', undefined, '3.2 bar(g)', '46 psig'],
    ['14.7 psia', undefined, '1.014 bar(a)', '14.7 psia'],
    ['40 imp gal', undefined, '182 L', '48 US gal'],
    ['12 AWG', undefined, '3.31 mm²', '12 AWG'],
    ['7.2 kn', undefined, '7.2 kn', '7.2 kn'],
    ['318 ± 6 Ah', undefined, '318 ± 6 Ah', '318 ± 6 Ah'],
    ['45 N·m', undefined, '45 N·m', '33.2 lbf·ft'],
  ] as const)('%s', (text, kind, metric, us) => {
    const q = read(text, kind);
    expect(printQuantity(q, METRIC)).toBe(metric);
    expect(printQuantity(q, US)).toBe(us);
  });

  it('puts a unit chosen for a kind before the system', () => {
    const q = read('1500 W');
    expect(printQuantity(q, { system: 'us', units: { power: 'kW' } })).toBe('1.500 kW');
    expect(printQuantity(q, { system: 'metric', units: { length: 'in' } })).toBe('1500 W');
  });

  it('leaves a value alone where the chosen unit is of another kind or unknown', () => {
    const q = read('1500 W');
    for (const unit of ['V', 'furlong', '__proto__', 'AWG']) {
      expect(preferred(q, { system: 'as-written', units: { power: unit } })).toBe(q);
    }
  });
});

describe('values that were reckoned', () => {
  it('are printed to their uncertainty', () => {
    expect(printQuantity(fromSi('charge', { si: 572400, siUncertainty: 10800 }, 'Ah'))).toBe('159 ± 3 Ah');
    expect(printQuantity(fromSi('voltage', { si: 12.3456, siUncertainty: 0.0123 }))).toBe('12.346 ± 0.012 V');
  });

  it('are printed to the digits they came from, or to four where there are none', () => {
    expect(
      printQuantity(fromSi('charge', { si: 571234, siUncertainty: null, siResolution: 3600 }, 'Ah')),
    ).toBe('159 Ah');
    expect(printQuantity(fromSi('power', { si: 1234.5678, siUncertainty: null }))).toBe('1235 W');
    expect(printQuantity(fromSi('power', { si: 0.5, siUncertainty: null }))).toBe('0.5 W');
  });

  it('take the commonest unit of the kind where the asked one does not fit', () => {
    expect(fromSi('length', { si: 1, siUncertainty: null }, 'kg').unit).toBe('mm');
    expect(fromSi('area', { si: 1e-6, siUncertainty: null }, 'AWG').unit).toBe('mm²');
    expect(fromSi('temperature-difference', { si: 5, siUncertainty: null }).unit).toBe('K');
  });

  it('never show an uncertainty of nought', () => {
    expect(printQuantity(fromSi('voltage', { si: 12, siUncertainty: 0 }))).not.toContain('±');
  });
});

describe('converting', () => {
  it('refuses a unit of another kind, an unknown one, and to name a gauge', () => {
    expect(convert(read('45 N·m'), 'J')).toBeUndefined();
    expect(convert(read('45 N·m'), 'furlong')).toBeUndefined();
    expect(convert(read('3.31 mm²'), 'AWG')).toBeUndefined();
    expect(convert(read('2 kVA'), 'kW')).toBeUndefined();
  });

  it('keeps what was written and the SI value', () => {
    const q = read('3/8 in');
    const mm = convert(q, 'mm');
    expect(mm).toMatchObject({ written: '3/8 in', si: q.si, unit: 'mm' });
    expect(mm?.value).toBeCloseTo(9.525, 12);
  });
});

describe('formatNumber', () => {
  it.each([
    [318.4, 1, '318'],
    [-0.052, 0.01, '−0.05'],
    [-0.004, 0.01, '0.00'],
    [685.8, 10, '690'],
    [0, 0.001, '0.000'],
    [1e20, 1e18, '1.00e+20'],
    [2.5e-14, 1e-15, '2.5e-14'],
    [-0, 1, '0'],
  ])('%s to %s is %s', (value, place, text) => expect(formatNumber(value, place)).toBe(text));

  it('drops noughts at the end where asked', () => expect(formatNumber(12.5, 0.001, true)).toBe('12.5'));

  it('prints what is read back', () => {
    for (const [value, place] of [
      [1e20, 1e18],
      [2.5e-14, 1e-15],
      [-7.25, 0.01],
    ] as const) {
      const text = formatNumber(value, place);
      expect(parseQuantity(`${text} V`)).toMatchObject({ ok: true, quantity: { value } });
    }
  });
});
