import { describe, expect, it } from 'vitest';
import { type Kind, looksLikeQuantity, parseQuantity } from '../../src/quantity/index.js';
import { problemOf, read } from './helpers.js';

type Row = readonly [
  text: string,
  due: Kind | undefined,
  kind: Kind,
  value: number,
  unit: string,
  si: number,
];

/** What people of the trade write, and what it is. */
const TRADE: readonly Row[] = [
  ['318 ± 6 Ah', undefined, 'charge', 318, 'Ah', 1144800],
  ['12.71 V', undefined, 'voltage', 12.71, 'V', 12.71],
  ['12.71V', undefined, 'voltage', 12.71, 'V', 12.71],
  ['450 mV', undefined, 'voltage', 450, 'mV', 0.45],
  ['16 A', undefined, 'current', 16, 'A', 16],
  ['3.5 amps', undefined, 'current', 3.5, 'A', 3.5],
  ['2.5 MΩ', undefined, 'resistance', 2.5, 'MΩ', 2.5e6],
  ['2.5 megohm', undefined, 'resistance', 2.5, 'MΩ', 2.5e6],
  ['4 mΩ', undefined, 'resistance', 4, 'mΩ', 0.004],
  ['1.83 Ω/km', undefined, 'linear-resistance', 1.83, 'Ω/km', 1.83e-3],
  ['2 kVA', undefined, 'apparent-power', 2, 'kVA', 2000],
  ['300 var', undefined, 'reactive-power', 300, 'var', 300],
  ['1.2 kWh', undefined, 'energy', 1.2, 'kWh', 4.32e6],
  ['30 hp', undefined, 'power', 30, 'hp', 30 * 745.6998715822702],
  ['30 PS', undefined, 'power', 30, 'PS', 30 * 735.49875],
  ['3/8 in', undefined, 'length', 0.375, 'in', 0.009525],
  ['27 1/2 in', undefined, 'length', 27.5, 'in', 0.6985],
  ['27-1/2 in', undefined, 'length', 27.5, 'in', 0.6985],
  ['27½ in', undefined, 'length', 27.5, 'in', 0.6985],
  ['27 ½ in', undefined, 'length', 27.5, 'in', 0.6985],
  ['½"', 'length', 'length', 0.5, 'in', 0.0127],
  ['5 ft 3 1/4 in', undefined, 'length', 63.25, 'in', 1.60655],
  [`5' 3 1/4"`, 'length', 'length', 63.25, 'in', 1.60655],
  [`5'3"`, 'length', 'length', 63, 'in', 1.6002],
  ['5′ 3″', 'length', 'length', 63, 'in', 1.6002],
  ['5 ft', undefined, 'length', 5, 'ft', 1.524],
  ['12 fathoms', undefined, 'length', 12, 'fathom', 21.9456],
  ['3.2 nmi', undefined, 'length', 3.2, 'nmi', 5926.4],
  ['250 µm', undefined, 'length', 250, 'µm', 250e-6],
  ['10 thou', undefined, 'length', 10, 'mil', 2.54e-4],
  ['10 mil', undefined, 'length', 10, 'mil', 2.54e-4],
  ['35 mm²', undefined, 'area', 35, 'mm²', 35e-6],
  ['35 mm2', undefined, 'area', 35, 'mm²', 35e-6],
  ['35 mm^2', undefined, 'area', 35, 'mm²', 35e-6],
  ['36 AWG', undefined, 'area', 36, 'AWG', (Math.PI * 0.000127 ** 2) / 4],
  ['AWG 36', 'area', 'area', 36, 'AWG', (Math.PI * 0.000127 ** 2) / 4],
  ['4/0 AWG', undefined, 'area', -3, 'AWG', (Math.PI * 0.011684 ** 2) / 4],
  ['0000 AWG', undefined, 'area', -3, 'AWG', (Math.PI * 0.011684 ** 2) / 4],
  ['250 kcmil', undefined, 'area', 250, 'kcmil', 250 * 5.067074790974977e-7],
  ['6530 CM', 'area', 'area', 6530, 'cmil', 6530 * 5.067074790974977e-10],
  ['180 L', undefined, 'volume', 180, 'L', 0.18],
  ['40 US gal', undefined, 'volume', 40, 'US gal', 0.15141647136],
  ['40 imp gal', undefined, 'volume', 40, 'imp gal', 0.1818436],
  ['50 cc', undefined, 'volume', 50, 'cm³', 50e-6],
  ['118 kg', undefined, 'mass', 118, 'kg', 118],
  ['6 lb 4 oz', undefined, 'mass', 100, 'oz', 2.8349523125],
  ['9.8 t', undefined, 'mass', 9.8, 't', 9800],
  ['9.5 long ton', undefined, 'mass', 9.5, 'long ton', 9652.4456336],
  ['12 kN', undefined, 'force', 12, 'kN', 12000],
  ['500 lbf', undefined, 'force', 500, 'lbf', 2224.11080763025],
  ['45 N m', undefined, 'torque', 45, 'N·m', 45],
  ['45 N·m', undefined, 'torque', 45, 'N·m', 45],
  ['45 Nm', undefined, 'torque', 45, 'N·m', 45],
  ['45 N-m', undefined, 'torque', 45, 'N·m', 45],
  ['33 ft-lb', undefined, 'torque', 33, 'lbf·ft', 33 * 1.3558179483314003],
  ['33 lbf ft', undefined, 'torque', 33, 'lbf·ft', 33 * 1.3558179483314003],
  ['33 ft lbf', undefined, 'energy', 33, 'ft·lbf', 33 * 1.3558179483314003],
  ['33 ft lbf', 'torque', 'torque', 33, 'ft·lbf', 33 * 1.3558179483314003],
  ['33 ft lb', 'moment-of-mass', 'moment-of-mass', 33, 'lb·ft', 33 * 0.138254954376],
  ['-4 °C', undefined, 'temperature', -4, '°C', 269.15],
  ['−4 °C', undefined, 'temperature', -4, '°C', 269.15],
  ['212 °F', undefined, 'temperature', 212, '°F', 373.15],
  ['293.15 K', 'temperature', 'temperature', 293.15, 'K', 293.15],
  ['5 K', undefined, 'temperature-difference', 5, 'K', 5],
  ['9 °F', 'temperature-difference', 'temperature-difference', 9, '°F', 5],
  ['1.265 SG', undefined, 'specific-gravity', 1.265, 'SG', 1.265],
  ['1.265', 'specific-gravity', 'specific-gravity', 1.265, 'SG', 1.265],
  ['pH 8.1', undefined, 'ph', 8.1, 'pH', 8.1],
  ['8.1 pH', undefined, 'ph', 8.1, 'pH', 8.1],
  ['18 %', 'moisture', 'moisture', 18, '%', 0.18],
  ['18 %MC', undefined, 'moisture', 18, '%MC', 0.18],
  ['65 %RH', undefined, 'relative-humidity', 65, '%RH', 0.65],
  ['3.2 bar', 'gauge-pressure', 'gauge-pressure', 3.2, 'bar', 320000],
  ['3.2 bar(g)', undefined, 'gauge-pressure', 3.2, 'bar(g)', 320000],
  ['14.5 psia', undefined, 'absolute-pressure', 14.5, 'psia', 14.5 * 6894.757293168361],
  ['1013 mbar', 'absolute-pressure', 'absolute-pressure', 1013, 'mbar', 101300],
  ['400 mmH2O', 'pressure-difference', 'pressure-difference', 400, 'mmH2O', 3922.66],
  ['7.2 kn', undefined, 'speed', 7.2, 'kn', 3.704],
  ['1800 rpm', undefined, 'rotational-speed', 1800, 'rpm', 60 * Math.PI],
  ['1800 r/min', undefined, 'rotational-speed', 1800, 'rpm', 60 * Math.PI],
  ['1800 min⁻¹', undefined, 'rotational-speed', 1800, 'rpm', 60 * Math.PI],
  ['50.1 Hz', undefined, 'frequency', 50.1, 'Hz', 50.1],
  ['12 L/min', undefined, 'volume-flow', 12, 'L/min', 0.0002],
  ['12 l / min', undefined, 'volume-flow', 12, 'L/min', 0.0002],
  ['230 g/kWh', undefined, 'specific-consumption', 230, 'g/kWh', 230e-3 / 3.6e6],
  ['0.38 lb/(hp h)', undefined, 'specific-consumption', 0.38, 'lb/(hp·h)', 0.38 * 1.6896594106715585e-7],
  ['1.4 t/cm', undefined, 'immersion', 1.4, 't/cm', 140000],
  ['0.21 t m/cm', undefined, 'trim-moment', 0.21, 't·m/cm', 21000],
  ['1243.6 h', undefined, 'time', 1243.6, 'h', 4476960],
  ['1 h 30 min', undefined, 'time', 90, 'min', 5400],
  ['1 d 2 h 3 min', undefined, 'time', 1563, 'min', 93780],
  [`12° 30'`, 'angle', 'angle', 750, '′', (12.5 * Math.PI) / 180],
  ['600 g/m²', undefined, 'area-density', 600, 'g/m²', 0.6],
  ['8.5 m²/L', undefined, 'spreading-rate', 8.5, 'm²/L', 8500],
  ['95 cSt', undefined, 'kinematic-viscosity', 95, 'cSt', 95e-6],
  ['81 dB(A)', undefined, 'sound-level', 81, 'dB(A)', 81],
  ['1.2e6 Ω', undefined, 'resistance', 1.2e6, 'Ω', 1.2e6],
  ['4', 'count', 'count', 4, '1', 4],
  ['0.9', 'power-factor', 'power-factor', 0.9, '1', 0.9],
  ['4 pcs', undefined, 'count', 4, 'pcs', 4],
];

describe('what the trade writes', () => {
  it.each(TRADE)('%s (due: %s)', (text, due, kind, value, unit, si) => {
    const q = read(text, due);
    expect([q.written, q.kind, q.value, q.unit]).toEqual([text, kind, value, unit]);
    expect(q.si / si).toBeCloseTo(1, 12);
  });

  it('is read the same way whatever blanks stand about it', () => {
    for (const [text, due] of TRADE) {
      const { written: _, ...plain } = read(text, due);
      const { written: __, ...spaced } = read(` ${text}\u00a0`, due);
      expect(spaced).toEqual(plain);
    }
  });
});

describe('look-alikes', () => {
  it.each([
    ['250 µm', '250 μm'],
    ['47 Ω', '47 Ω'],
    ['2 MΩ', '2 MΩ'],
    ['2 kΩ', '2 kohm'],
    ['20 °C', '20 ºC'],
    ['20 °C', '20 ˚C'],
    ['20 °C', '20 ℃'],
    ['20 °C', '20 deg C'],
    ['68 °F', '68 ℉'],
    ['5 K', '5 \u212a'],
    ['3 m²', '3 m2'],
    ['3 m³', '3 m^3'],
    ['45 N·m', '45 N⋅m'],
    ['45 N·m', '45 N*m'],
    ['45 N·m', '45 N\u00a0m'],
    ['12 V', '12\u202fV'],
    ['-4 °C', '−4 °C'],
    ['-4 °C', '–4 °C'],
    ['12 ± 1 V', '12 +/- 1 V'],
    ['12 ± 1 V', '12+-1 V'],
    ['12 ± 1 V', '12±1V'],
    ['12 ± 1 V', '(12 ± 1) V'],
    ['12 ± 1 V', '12 V ± 1 V'],
    ['12 ± 1 V', '12 V ± 1000 mV'],
    ['12 ± 1 V', '12 V ± 1'],
    ['200 ± 10 V', '200 V ± 5 %'],
    ['20 ± 1 °C', '20 °C ± 1 K'],
    ['20 ± 1 °C', '20 °C ± 1.8 °F'],
  ])('%s is %s', (one, other) => {
    const kind = read(one).kind;
    const [a, b] = [read(one, kind), read(other, kind)];
    expect([b.value, b.unit, b.uncertainty]).toEqual([a.value, a.unit, a.uncertainty]);
  });
});

describe('digits and uncertainty as written', () => {
  it.each([
    ['12.71 V', 0.01, null],
    ['12.710 V', 0.001, null],
    ['1480 kg', 1, null],
    ['1.2e3 Ω', 100, null],
    ['27 1/2 in', 0.5, null],
    ['3/8 in', 0.125, null],
    ['5 ft 3 1/4 in', 0.25, null],
    ['12 AWG', 1, null],
    ['318 ± 6 Ah', 1, 6],
    ['18.2 ± 0.5 %', 0.1, 0.5],
    ['18 % ± 2 %', 1, 2],
    ['27 1/2 ± 1/16 in', 0.5, 0.0625],
  ] as const)('%s', (text, resolution, uncertainty) => {
    const q = read(text);
    expect(q.resolution).toBe(resolution);
    expect(q.uncertainty).toBe(uncertainty);
    expect(q.siUncertainty === null).toBe(uncertainty === null);
  });

  it('reckons a half-width of a temperature without the shift of the zero', () => {
    expect(read('68 ± 9 °F').siUncertainty).toBeCloseTo(5, 12);
    expect(read('68 ± 9 °F').si).toBeCloseTo(293.15, 12);
  });

  it('takes points of moisture as points, not as a share', () => {
    expect(read('20 % ± 2 %', 'moisture').siUncertainty).toBeCloseTo(0.02, 15);
    expect(read('20 %MC ± 2 %', 'moisture').siUncertainty).toBeCloseTo(0.02, 15);
  });
});

type Wrong = readonly [
  text: string,
  due: Kind | undefined,
  code: string,
  marked: string,
  choices: readonly string[],
];

const WRONG: readonly Wrong[] = [
  ['12', 'voltage', 'no-unit', '12', ['V', 'mV', 'kV', 'µV']],
  ['12', undefined, 'no-unit', '12', ['pcs', '%']],
  ['12 A', 'voltage', 'wrong-kind', 'A', ['V', 'mV', 'kV', 'µV']],
  ['12 kN', 'speed', 'wrong-kind', 'kN', ['kn']],
  ['5 kn', 'force', 'wrong-kind', 'kn', ['kN']],
  ['5 gal', undefined, 'ambiguous-unit', 'gal', ['US gal', 'imp gal', 'L']],
  ['5 Gal', 'volume', 'ambiguous-unit', 'Gal', ['US gal', 'imp gal', 'L']],
  ['5 gpm', undefined, 'ambiguous-unit', 'gpm', ['US gal/min', 'imp gal/min', 'L/min']],
  ['3 oz', 'volume', 'ambiguous-unit', 'oz', ['US fl oz', 'imp fl oz', 'mL']],
  ['3 fl oz', undefined, 'ambiguous-unit', 'fl oz', ['US fl oz', 'imp fl oz', 'mL']],
  ['9 ton', undefined, 'ambiguous-unit', 'ton', ['t', 'long ton', 'short ton']],
  ['9 tons', 'mass', 'ambiguous-unit', 'tons', ['t', 'long ton', 'short ton']],
  ['3 mil', 'angle', 'ambiguous-unit', 'mil', ['mrad', '°']],
  ['7 kt', undefined, 'ambiguous-unit', 'kt', ['kn', 't']],
  ['7 kt', 'speed', 'ambiguous-unit', 'kt', ['kn']],
  ['7 gr', undefined, 'ambiguous-unit', 'gr', ['g', 'grain']],
  ['7 M', undefined, 'ambiguous-unit', 'M', ['m', 'nmi']],
  ['7 nm', undefined, 'ambiguous-unit', 'nm', ['nmi', 'N·m']],
  ['7 nm', 'torque', 'ambiguous-unit', 'nm', ['N·m']],
  ['25 C', undefined, 'ambiguous-unit', 'C', ['°C', 'coulomb', 'A']],
  ['25 C', 'temperature', 'ambiguous-unit', 'C', ['°C']],
  ['3 bar', undefined, 'ambiguous-unit', 'bar', ['bar(g)', 'bar(a)']],
  ['40 psi', undefined, 'ambiguous-unit', 'psi', ['bar(g)', 'bar(a)', 'psig', 'psia']],
  [`5' 3"`, undefined, 'ambiguous-unit', `'`, ['ft', '′']],
  ['3 bar(a)', 'gauge-pressure', 'wrong-kind', 'bar(a)', ['bar(g)']],
  ['100 PA', 'pressure-difference', 'unknown-unit', 'PA', ['Pa']],
  ['5 kw', undefined, 'unknown-unit', 'kw', ['kW']],
  ['5 KWH', undefined, 'unknown-unit', 'KWH', ['kWh']],
  ['5 M Ω', undefined, 'unknown-unit', 'M Ω', ['MΩ']],
  ['400 Ahh', undefined, 'unknown-unit', 'Ahh', ['Ah']],
  ['4 furlongs', 'length', 'unknown-unit', 'furlongs', ['mm', 'm', 'cm', 'µm']],
  ['14,2 V', undefined, 'comma', '14,2', ['14.2']],
  ['1,480 mm', undefined, 'comma', '1,480', ['1480', '1.480']],
  ['1,480.5 mm', undefined, 'comma', '1,480.5', ['1480.5']],
  ['1 480 mm', undefined, 'bad-number', '1 480', ['1480']],
  ['1_480 mm', undefined, 'bad-number', '1_480', []],
  ['1.2.3 V', undefined, 'bad-number', '1.2.3', []],
  ['12. V', undefined, 'bad-number', '12.', []],
  ['abc', undefined, 'bad-number', 'abc', []],
  ['1e999 V', undefined, 'bad-number', '1e999', []],
  ['3/0 in', undefined, 'bad-number', '3/0', []],
  ['5 3/2 in', undefined, 'bad-number', '3/2', []],
  ['3/2 in', undefined, 'bad-number', '3/2', []],
  ['12/24 V', undefined, 'bad-number', '12/24', []],
  ['230/12 V', undefined, 'bad-number', '230/12', []],
  ['> 5 V', undefined, 'bad-number', '>', []],
  ['5 ft 13 in', undefined, 'bad-compound', '13 in', []],
  ['5.5 ft 3 in', undefined, 'bad-compound', '3 in', []],
  ['5 ft 3 mm', undefined, 'bad-compound', '3 mm', []],
  ['12 V 3 A', undefined, 'two-values', '3 A', []],
  ['45 AWG', undefined, 'bad-gauge', '45 AWG', []],
  ['5/0 AWG', undefined, 'bad-gauge', '5/0 AWG', []],
  ['12 AWG', 'length', 'wrong-kind', '12 AWG', []],
  ['5 ± 0 V', undefined, 'bad-uncertainty', '0 V', []],
  ['5 ± -1 V', undefined, 'bad-uncertainty', '-1 V', []],
  ['5 V ±', undefined, 'bad-uncertainty', '', []],
  ['20 °C ± 5 %', undefined, 'bad-uncertainty', '5 %', []],
  ['5 V ± 1 A', undefined, 'wrong-kind', 'A', ['V']],
  ['   ', undefined, 'empty', '   ', []],
];

describe('what is wrong', () => {
  it.each(WRONG)('%s (due: %s) is %s', (text, due, code, marked, choices) => {
    const problem = problemOf(text, due);
    expect(problem.code).toBe(code);
    expect(text.slice(problem.offset, problem.offset + (marked === '' ? 0 : problem.length))).toBe(marked);
    expect(problem.choices.slice(0, Math.max(1, choices.length))).toEqual(choices);
    expect(problem.message).toMatch(/^[A-Z`].*\.$/s);
    if (problem.hint !== undefined) expect(problem.hint).toMatch(/^[A-Z].*\.$/s);
  });

  it('names both kinds of a mix-up', () => {
    expect(problemOf('12 A', 'voltage').message).toBe('This is a current, given in A, and a voltage is due.');
    expect(problemOf('5 kWh', 'power').message).toBe('This is an energy, given in kWh, and a power is due.');
    expect(problemOf('20 lb', 'force').hint).toContain('lbf');
  });

  it('offers only choices that are read, as the kind that is due', () => {
    for (const [text, due, code] of WRONG) {
      if (!/unit|kind/.test(code)) continue;
      for (const choice of problemOf(text, due).choices) {
        const result = parseQuantity(`1 ${choice}`, due);
        const doubt = !result.ok && due === undefined && result.problem.code === 'ambiguous-unit';
        expect(result.ok || doubt, `${text}: 1 ${choice}`).toBe(true);
      }
    }
  });
});

describe('numbers from YAML', () => {
  it('are values without a unit', () => {
    expect(parseQuantity(4, 'count')).toMatchObject({ ok: true, quantity: { value: 4, written: '4' } });
    expect(parseQuantity(12.7, 'voltage')).toMatchObject({ ok: false, problem: { code: 'no-unit' } });
  });

  it.each([Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])('%s is not a value', (value) => {
    expect(parseQuantity(value, 'count')).toMatchObject({ ok: false, problem: { code: 'bad-number' } });
  });
});

describe('telling a quantity from a text', () => {
  it.each([
    '400 Ah',
    '400 Ahh',
    '5 gal',
    '3 bar',
    '12.71 v',
    '320 ± 6',
    '14,2 V',
    '-4 °C',
    '12 AWG',
    'pH 8',
    '3/8 in',
  ])('%s is meant as a quantity', (text) => expect(looksLikeQuantity(text)).toBe(true));

  it.each([
    'TL-200 x 2',
    '12 V fridge',
    '2 batteries',
    '2017',
    '1.265',
    '3 mm ply',
    '24 V 300',
    'larch on oak',
    '',
    '1 in 10',
    '2 x 6 kg',
    '2 coats',
    '12/24 V',
    '10 W 40',
  ])('%s is a text', (text) => expect(looksLikeQuantity(text)).toBe(false));
});

describe('values are immutable', () => {
  it('so that one result can be handed out twice', () => {
    const result = parseQuantity('12.7 V');
    expect(parseQuantity('12.7 V')).toBe(result);
    expect(Object.isFrozen(result)).toBe(true);
    expect(result.ok && Object.isFrozen(result.quantity)).toBe(true);
    const wrong = parseQuantity('12.7 gal');
    expect(Object.isFrozen(wrong) && !wrong.ok && Object.isFrozen(wrong.problem.choices)).toBe(true);
  });
});

describe('values as people jot them down', () => {
  it.each([
    ['ca. 30 l', undefined, '30 ± 3 l'],
    ['approx 0.4 A', undefined, '0.4 ± 0.04 A'],
    ['~30 L', 'volume', '30 ± 3 L'],
    ['30-35 l', undefined, '32.5 ± 2.5 l'],
    ['13.8 V - 14.4 V', 'voltage', '14.1 ± 0.3 V'],
    ['30 to 35 L', 'volume', '32.5 ± 2.5 L'],
    ['< 5 L', 'volume', '5 L'],
    ['2:30', 'time', '2 h 30 min'],
    ['2:30', 'time', '2 min 30 s'],
    [`5'3"`, undefined, '5 ft 3 in'],
    ['“12.7 V”', 'voltage', '12.7 V'],
  ] as const)('%s (due: %s) is told to be %s', (text, kind, due) => {
    expect(problemOf(text, kind).hint).toContain(`\`${due}\``);
    expect(parseQuantity(due, kind).ok).toBe(true);
  });

  it('are read where no-break and thin blanks stand in them', () => {
    expect(read('12.7\u00a0V ±\u202f0.1').value).toBe(12.7);
  });

  it('are told of units only where these are near', () => {
    expect(problemOf('12 no').choices).toEqual(['pcs']);
    expect(problemOf('12 Std', 'time').choices).toEqual(['h']);
    for (const far of ['foe', 'tins', 'lt', 'coats']) expect(problemOf(`12 ${far}`).choices, far).toEqual([]);
    expect(problemOf('1.2 k').hint).toMatch(/kΩ/);
  });
});
