import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { evaluate, fromSi, type Kind, parseFormula } from '../../src/quantity/index.js';

/**
 * Trade formulas against values that others have published. Each case says where its values are from and
 * whether they were seen there or are from memory.
 */

/** Reckons a formula without names and gives the number in a unit. */
function value(text: string, kind: Kind, unit: string): number {
  const read = parseFormula(text, () => undefined, kind);
  if (!read.ok) throw new Error(`${text}: ${read.problem.message}`);
  const result = evaluate(read.formula, () => undefined);
  if (result.is !== 'value') throw new Error(`${text} is ${result.is}`);
  return fromSi(kind, result, unit).value;
}

function rows(file: string): string[][] {
  const text = readFileSync(new URL(`data/${file}`, import.meta.url), 'utf8');
  return text
    .trim()
    .split(/\r?\n/)
    .filter((line) => !line.startsWith('#'))
    .slice(1)
    .map((line) => line.split(',').map((cell) => cell.replaceAll('"', '')));
}

/** `00` is written 2/0 as people write it. */
function gauge(awg: string): string {
  return awg.length > 1 && /^0+$/.test(awg) ? `${awg.length}/0 AWG` : awg === '0' ? '1/0 AWG' : `${awg} AWG`;
}

describe('allowable current', () => {
  const RATINGS = [60, 75, 80, 90, 105, 125, 200];

  // 33 CFR 183.425, Table 5: all 105 values. Seen.
  it('is Table 5 of 33 CFR 183.425', () => {
    const table = rows('33cfr183-425-table5.csv');
    expect(table).toHaveLength(15);
    for (const [awg = '', ...amperes] of table) {
      for (const [i, expected] of amperes.entries()) {
        const text = `allowable-current(${gauge(awg)}, ${RATINGS[i]} °C)`;
        expect(value(text, 'current', 'A'), text).toBe(Number(expected));
      }
    }
  });

  // 33 CFR 183.425, Table 5, note 1 (0.85 for 105 °C), as a marine retailer tabulates it, rounded to the ampere.
  // Seen. The retailer rounds 280.5 A down.
  it.each([
    ['18', 17],
    ['16', 21],
    ['14', 30],
    ['12', 38],
    ['10', 51],
    ['8', 68],
    ['6', 102],
    ['4', 136],
    ['3', 153],
    ['2', 178],
    ['1', 208],
    ['0', 242],
    ['00', 280],
    ['000', 327],
    ['0000', 378],
  ] as const)('of %s AWG at 105 °C in an engine space is %s A', (awg, expected) => {
    const amperes = value(`allowable-current-in-engine-space(${gauge(awg)}, 105 °C)`, 'current', 'A');
    expect(Math.abs(amperes - expected)).toBeLessThanOrEqual(0.75);
  });

  // 33 CFR 183.425, Table 5, note 1. From memory but for 105 °C; the factors of 60, 75, 80 and 90 °C were seen in
  // the Canadian Electrical Code, Table 5A at 50 °C.
  it.each([
    [60, 0.58],
    [75, 0.75],
    [80, 0.78],
    [90, 0.82],
    [105, 0.85],
    [125, 0.89],
    [200, 1],
  ] as const)('at %s °C shrinks to %s in an engine space', (rating, factor) => {
    const text = `allowable-current-in-engine-space(8 AWG, ${rating} °C) / allowable-current(8 AWG, ${rating} °C)`;
    expect(value(text, 'ratio', '1')).toBeCloseTo(factor, 12);
  });

  // 33 CFR 183.425, Table 5, note 2, reprinted in the USCG Electrical System Compliance Guideline. Seen.
  it.each([
    [3, 0.7],
    [4, 0.6],
    [6, 0.6],
    [7, 0.5],
    [24, 0.5],
    [25, 0.4],
    [60, 0.4],
  ] as const)('of %s bundled conductors takes a factor of %s', (conductors, factor) => {
    expect(value(`bundle-factor(${conductors})`, 'ratio', '1')).toBe(factor);
  });

  // 33 CFR 183.455(c)(1): under 50 V at most 150 % of Table 5. Rule seen; 90 A is reckoned from rule and table.
  it('times 150 % is the largest fuse under 50 V', () => {
    expect(value('150 % * allowable-current(10 AWG, 105 °C)', 'current', 'A')).toBeCloseTo(90, 12);
  });
});

describe('cables', () => {
  // ABYC E-11 guidance as a retailer reprints it: 10 A over 11 + 10 ft at 12 V and 3 %: 12 AWG. Inputs, K = 10.75
  // and the size seen; 6270.8 circular mils is reckoned from them.
  it('have the size of the marine rule', () => {
    const area = value('cable-area(21 ft, 10 A, 3 % * 12 V)', 'area', 'cmil');
    expect(Math.abs(area - 6270.8)).toBeLessThanOrEqual(0.1);
    expect(area).toBeLessThan(value('12 AWG + 0 mm2', 'area', 'cmil'));
    expect(area).toBeGreaterThan(value('13 AWG + 0 mm2', 'area', 'cmil'));
  });

  // FAA AC 43.13-1B CHG 1, Tables 11-7 and 11-8: volts of drop from Ω/ft, feet and 20 A. Seen. Row 2 of Table 11-8
  // (0.00126 · 19.5 · 20 = 0.4914) is printed as 0.366, a misprint, and is left out.
  it.each([
    ['0.44 Ω/kft', 107, 0.942],
    ['0.28 Ω/kft', 90, 0.504],
    ['2.02 Ω/kft', 88, 3.6],
  ] as const)('of %s and %s ft drop %s V at 20 A', (perLength, feet, expected) => {
    expect(
      Math.abs(value(`${perLength} * ${feet} ft * 20 A`, 'voltage', 'V') - expected),
    ).toBeLessThanOrEqual(0.05);
  });

  // FAA AC 43.13-1B, paragraph 11-66: L2 = 254.5 · L1 / (234.5 + T2). The formula was seen, the lengths are reckoned
  // from it. 234.5 is a rounded inferred zero: 1/0.00393 − 20 is 234.45.
  it.each([
    [20, 39],
    [80, 31.559],
  ] as const)('at %s °C carry as far as %s ft for the drop of 39 ft at 20 °C', (celsius, feet) => {
    const ratio = `conductor-resistance(12 AWG, 39 ft, 20 °C) / conductor-resistance(12 AWG, 1 ft, ${celsius} °C)`;
    expect(Math.abs(value(ratio, 'ratio', '1') - feet)).toBeLessThanOrEqual(0.002);
  });

  // A cable-test maker's wire table (the figures of the NBS copper wire tables): Ω per 1000 ft at 20 °C. Seen.
  it.each([
    ['12', 1.588],
    ['13', 2.003],
    ['14', 2.525],
    ['15', 3.184],
    ['16', 4.016],
    ['17', 5.064],
    ['18', 6.385],
    ['19', 8.051],
    ['20', 10.15],
    ['22', 16.14],
    ['24', 25.67],
    ['28', 64.9],
    ['30', 103.2],
  ] as const)('of %s AWG have %s Ω per 1000 ft', (awg, expected) => {
    const ohms = value(`conductor-resistance(${awg} AWG, 1000 ft, 20 °C)`, 'resistance', 'Ω');
    expect(Math.abs(ohms / expected - 1)).toBeLessThanOrEqual(0.002);
  });

  // FAA AC 43.13-1B CHG 1, Table 11-9: greatest resistance of tinned stranded aircraft wire, and its area. Seen. The
  // printed figures have two digits at the thick end and are limits: plain annealed copper of that area stays below.
  it('have less resistance than tinned aircraft wire may have', () => {
    const table = rows('faa-ac4313-1b-table-11-9.csv');
    expect(table).toHaveLength(17);
    for (const [awg, greatest, mils] of table) {
      const ohms = value(`conductor-resistance(${mils} cmil, 1000 ft, 20 °C)`, 'resistance', 'Ω');
      expect(ohms / Number(greatest), awg).toBeLessThanOrEqual(1);
      expect(ohms / Number(greatest), awg).toBeGreaterThan(0.75);
    }
  });

  // 1 m and 1 mm² at 20 °C: IEC 60028:1925, 0.017241 Ω. Seen. In mil-feet 10.371 Ω (10.37 in handbooks, from memory).
  it('are of standard annealed copper', () => {
    expect(value('conductor-resistance(1 mm2, 1 m, 20 °C)', 'resistance', 'Ω')).toBeCloseTo(0.017241, 9);
    expect(value('conductor-resistance(1 cmil, 1 ft, 20 °C)', 'resistance', 'Ω')).toBeCloseTo(10.371, 2);
    expect(1 / 0.017241).toBeCloseTo(58, 2);
  });

  // Temperature coefficient of 100 % IACS copper: 3.93e-3 per °C, Industrial Power Engineering and Applications
  // Handbook, Table 30.1. Seen.
  it('gain 0.393 % of resistance a kelvin', () => {
    const ratio = 'conductor-resistance(1 mm2, 1 m, 21 °C) / conductor-resistance(1 mm2, 1 m, 20 °C)';
    expect(value(ratio, 'ratio', '1')).toBeCloseTo(1.00393, 12);
  });
});

describe('power', () => {
  // Engineering ToolBox, three-phase power equations: 400 V, 20 A, power factor 1: 13,856 W. Seen.
  it('of three phases', () => {
    expect(Math.abs(value('three-phase-power(400 V, 20 A, 1)', 'power', 'W') - 13_856)).toBeLessThanOrEqual(
      1,
    );
    expect(value('three-phase-apparent-power(400 V, 20 A)', 'apparent-power', 'VA')).toBeCloseTo(13_856.4, 1);
  });

  // pe-calc.com: 100 kW at a power factor of 0.7 is 143 kVA. Seen.
  it('and apparent power differ by the power factor', () => {
    const read = parseFormula(
      '100 kW / factor',
      (name) => (name === 'factor' ? 'power-factor' : undefined),
      'apparent-power',
    );
    if (!read.ok) throw new Error(read.problem.message);
    const result = evaluate(read.formula, () => ({ si: 0.7, siUncertainty: null }));
    expect(Math.abs((result.is === 'value' ? result.si : Number.NaN) / 1000 - 143)).toBeLessThanOrEqual(0.2);
  });

  // Böge (2017), p. 233, by way of reference.org: 234 N·m at 4200/min is 103 kW. Seen.
  it('of a shaft', () => {
    expect(Math.abs(value('shaft-power(234 N·m, 4200 rpm)', 'power', 'kW') - 103)).toBeLessThanOrEqual(0.2);
  });

  // P(kW) = T · n / 9549.2966, which is 60000/2π. From memory; by definition.
  it('of a shaft has the constant 9549.2966', () => {
    expect(value('shaft-power(9549.2966 N·m, 1 rpm)', 'power', 'kW')).toBeCloseTo(1, 8);
  });

  // calculatorlib.com: 20 kg/h at 100 kW is 200 g/kWh. Seen.
  it('has its specific consumption', () => {
    expect(value('specific-consumption(20 kg/h, 100 kW)', 'specific-consumption', 'g/kWh')).toBeCloseTo(
      200,
      9,
    );
  });

  // Wikipedia, Brake-specific fuel consumption: 1 lb/(hp·h) is 608.277 g/kWh. Seen.
  it('has its specific consumption in pounds too', () => {
    const perHour = value('specific-consumption(1 lb/h, 1 hp)', 'specific-consumption', 'g/kWh');
    expect(Math.abs(perHour - 608.277)).toBeLessThanOrEqual(0.001);
  });
});

describe('insulation resistance', () => {
  // The rule of IEEE 43 as stated publicly: R40 = R · 0.5^((40 − T)/10). Seen.
  it.each([
    [20, 0.25],
    [40, 1],
    [50, 2],
    [60, 4],
  ] as const)('at %s °C takes a factor of %s', (celsius, factor) => {
    expect(value(`insulation-at-40-c(1 MΩ, ${celsius} °C)`, 'resistance', 'MΩ')).toBeCloseTo(factor, 12);
  });

  // insulationtesting.com: a winding of 200 MΩ at 20 °C has 25 MΩ at 50 °C. Seen.
  it('of 200 MΩ at 20 °C is 25 MΩ at 50 °C', () => {
    const ratio = 'insulation-at-40-c(200 MΩ, 20 °C) / insulation-at-40-c(25 MΩ, 50 °C)';
    expect(value(ratio, 'ratio', '1')).toBeCloseTo(1, 12);
  });
});

describe('hydrometer readings', () => {
  // Engine and vehicle makers' service manuals: +0.004 per 10 °F from 80 °F. Seen.
  it.each([
    [90, 1.254],
    [70, 1.246],
  ] as const)('of 1.250 at %s °F are %s at 80 °F', (fahrenheit, expected) => {
    const text = `specific-gravity-at(1.250 SG, ${fahrenheit} °F, 80 °F)`;
    expect(value(text, 'specific-gravity', 'SG')).toBeCloseTo(expected, 9);
  });

  // A vehicle maker's table from 0 to 160 °F. Seen. Its row of 30 °F is misprinted (+0.020) and left out.
  it.each([
    [160, 0.032],
    [150, 0.028],
    [140, 0.024],
    [130, 0.02],
    [120, 0.016],
    [110, 0.012],
    [100, 0.008],
    [90, 0.004],
    [80, 0],
    [70, -0.004],
    [60, -0.008],
    [50, -0.012],
    [40, -0.016],
    [20, -0.024],
    [10, -0.028],
    [0, -0.032],
  ] as const)('at %s °F are corrected by %s', (fahrenheit, correction) => {
    const text = `specific-gravity-at(1.250 SG, ${fahrenheit} °F, 80 °F) - 1.25 SG`;
    expect(value(text, 'specific-gravity', 'SG')).toBeCloseTo(correction, 9);
  });
});

describe('Peukert', () => {
  // electrotechnik.net: 100 Ah at 1 A, exponent 1.2, 5 A: 14.5 h. Seen.
  it('from the capacity at 1 A', () => {
    expect(
      Math.abs(value('peukert-time-from-1-a(100 Ah, 5 A, 1.2)', 'time', 'h') - 14.5),
    ).toBeLessThanOrEqual(0.05);
  });

  // The law in its form for a rated time; no published example seen, 8.7055 h is reckoned from it. From memory.
  it('from the capacity at 20 h', () => {
    const hours = value('peukert-time(100 Ah, 20 h, 10 A, 1.2)', 'time', 'h');
    expect(Math.abs(hours - 8.7055)).toBeLessThanOrEqual(0.001);
  });

  // At the rated current the battery lasts the rated time, whatever the exponent: by definition.
  it('gives the rated time at the rated current', () => {
    expect(value('peukert-time(100 Ah, 20 h, 5 A, 1.3)', 'time', 'h')).toBeCloseTo(20, 9);
  });
});

describe('contents of a tank', () => {
  // EN 590: diesel has 820 to 845 kg/m³ at 15 °C. Seen.
  it('have the mass of their volume', () => {
    expect(value('contents-mass(1 m3, 820 kg/m3)', 'mass', 'kg')).toBeCloseTo(820, 9);
    expect(value('contents-mass(200 L, 845 kg/m3)', 'mass', 'kg')).toBeCloseTo(169, 9);
  });
});
