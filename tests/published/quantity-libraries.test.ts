import ucum from '@lhncbc/ucum-lhc';
import Qty from 'js-quantities';
import { describe, expect, it } from 'vitest';
import { ALL_KINDS, kindInfo, unitOf, unitsFor } from '../../src/quantity/index.js';

/**
 * Two libraries that others made, as a second opinion on every factor. Where they differ from ours the unit
 * is named, with the difference and the reason; no tolerance is loosened for the rest.
 */

const symbols = [...new Set(ALL_KINDS.flatMap((kind) => unitsFor(kind)))].filter(
  (symbol) => symbol !== 'AWG',
);

function off(ours: number, theirs: number): number {
  return Math.abs(ours / theirs - 1);
}

describe('UCUM codes, by @lhncbc/ucum-lhc', () => {
  const tables = ucum.UcumLhcUtils.getInstance();
  const convert = (from: string, value: number, to: string): number => {
    const result = tables.convertUnitTo(from, value, to);
    return result.status === 'succeeded' && result.toVal !== null ? result.toVal : Number.NaN;
  };

  /** UCUM fixes a metre of mercury at 133.3220 kPa, ours is the conventional 13 595.1 kg/m³ × 9.80665 m/s². */
  const MERCURY = new Set(['mmHg', 'inHg']);
  /** A turn is a bare number in UCUM, and 2π radians here. */
  const TURNS = new Set(['rpm', 'r/s']);

  it.each(symbols.filter((symbol) => !TURNS.has(symbol)))('%s', (symbol) => {
    const unit = unitOf(symbol)!;
    const kind = unit.kinds[0];
    const ours = kind === 'temperature' ? unit.factor + unit.offset : unit.factor;
    const theirs = convert(unit.ucum, 1, kindInfo(kind).ucum);
    if (!MERCURY.has(symbol)) return expect(off(ours, theirs)).toBeLessThan(1e-12);
    expect(off(ours, theirs)).toBeGreaterThan(2.8e-6);
    expect(off(ours, theirs)).toBeLessThan(3e-6);
  });

  it.each([...TURNS])('%s, by a turn of 2π', (symbol) => {
    const unit = unitOf(symbol)!;
    expect(off(unit.factor, 2 * Math.PI * convert(unit.ucum, 1, '1/s'))).toBeLessThan(1e-12);
  });

  it.each(ALL_KINDS.map((kind) => [kind, kindInfo(kind).ucum] as const))(
    'has a code for the SI unit of %s: %s',
    (_, code) => {
      expect(tables.validateUnitString(code).status).toBe('valid');
    },
  );

  it.each([
    ['20 °C', 'Cel', 20, 293.15],
    ['-40 °F', '[degF]', -40, 233.15],
    ['212 °F', '[degF]', 212, 373.15],
  ])('agrees on %s', (_, code, value, kelvin) => expect(convert(code, value, 'K')).toBeCloseTo(kelvin, 9));
});

describe('factors, by js-quantities', () => {
  /** The spelling of theirs for ours; units they do not have, or mean something else by, are not here. */
  const THEIRS: ReadonlyMap<string, string> = new Map(
    (
      'mm m cm km in ft mil yd nmi mi fathom L mL cL dL kg g t mg lb oz grain stone N kN daN lbf Wh kWh J kJ MJ MWh BTU ' +
      'W kW mW MW hp VA kVA var kvar V mV kV µV A mA µA kA Ω kΩ S mS µS Ah mAh kAh C µF F mF nF pF mH µH H S/m Ω/m ' +
      'Ω/km Hz kHz MHz GHz rpm rad/s kn m/s km/h mph ft/s ft/min mm/s in/s h min s d ms bar mbar kPa hPa Pa psi mmHg inHg ' +
      'cmH2O inH2O atm GPa MPa kg/L g/L mg/L L/min L/h L/s mL/min kg/h kg/s g/h lb/h L/nmi L/km cP cSt % ppm rad mrad ' +
      'cd lm kg/m g/m lb/ft N/mm N/m lbf/in t/cm kg/cm lb/in'
    )
      .split(' ')
      .map((symbol): [string, string] => [symbol, symbol])
      .concat([
        ['mm²', 'mm2'],
        ['m²', 'm2'],
        ['cm²', 'cm2'],
        ['ft²', 'ft2'],
        ['in²', 'in2'],
        ['yd²', 'yd2'],
        ['m³', 'm3'],
        ['cm³', 'cm3'],
        ['ft³', 'ft3'],
        ['in³', 'in3'],
        ['US gal', 'gal'],
        ['US qt', 'qt'],
        ['US pt', 'pt'],
        ['US cup', 'cup'],
        ['N·m', 'N*m'],
        ['lbf·ft', 'lbf*ft'],
        ['lbf·in', 'lbf*in'],
        ['ft·lbf', 'ft*lbf'],
        ['BTU/h', 'BTU/h'],
        ['mΩ', 'mohm'],
        ['MΩ', 'Mohm'],
        ['GΩ', 'Gohm'],
        ['Torr', 'torr'],
        ['N/mm²', 'N/mm2'],
        ['kg/m³', 'kg/m3'],
        ['g/cm³', 'g/cm3'],
        ['lb/ft³', 'lb/ft3'],
        ['lb/US gal', 'lb/gal'],
        ['US gal/min', 'gal/min'],
        ['m³/h', 'm3/h'],
        ['ft³/min', 'ft3/min'],
        ['Pa·s', 'Pa*s'],
        ['mPa·s', 'mPa*s'],
        ['°', 'deg'],
        ['lx', 'lux'],
        ['g/m²', 'g/m2'],
        ['kg/m²', 'kg/m2'],
        ['oz/yd²', 'oz/yd2'],
        ['lb/ft²', 'lb/ft2'],
        ['kg·m', 'kg*m'],
        ['t·m', 't*m'],
        ['lb·ft', 'lb*ft'],
      ]),
  );

  /** Differences, relative, and where they come from. All else agrees to the last bits. */
  const DIFFERENT: ReadonlyMap<string, number> = new Map([
    ['fathom', 1.1e-4], // theirs is 1.829 m
    ['cmH2O', 2.8e-5], // theirs is water at 4 °C, ours the conventional column
    ['inH2O', 2.8e-5],
    ['psi', 3.9e-7], // theirs is 6894.76 Pa
    ['mmHg', 1.5e-7], // theirs is the torr, 101325/760 Pa
    ['inHg', 1.5e-7],
    ['BTU', 1.4e-7], // theirs is 1055.056 J
    ['BTU/h', 1.4e-7],
    ['lbf', 8.6e-8], // theirs is 4.448222 N
    ['lbf·ft', 8.6e-8],
    ['lbf·in', 8.6e-8],
    ['ft·lbf', 8.6e-8],
    ['lbf/in', 8.6e-8],
    ['US gal', 4.2e-9], // theirs are cut off after eight to ten digits from here on
    ['US qt', 4.2e-9],
    ['US pt', 4.2e-9],
    ['US cup', 6.3e-9],
    ['US gal/min', 4.2e-9],
    ['lb/US gal', 4.2e-9],
    ['Torr', 3.2e-9],
    ['oz', 8.8e-10],
    ['oz/yd²', 8.8e-10],
    ['kn', 8.6e-10],
    ['hp', 5.6e-10],
  ]);

  it.each([...THEIRS])('%s', (symbol, spelling) => {
    const ours = unitOf(symbol)!.factor;
    const theirs = Qty(`1 ${spelling}`).toBase().scalar;
    const expected = DIFFERENT.get(symbol);
    if (expected === undefined) return expect(off(ours, theirs)).toBeLessThan(1e-14);
    expect(off(ours, theirs)).toBeGreaterThan(expected * 0.9);
    expect(off(ours, theirs)).toBeLessThan(expected * 1.1);
  });

  it('covers most of our units', () => {
    expect(THEIRS.size / symbols.length).toBeGreaterThan(0.6);
    for (const symbol of [...THEIRS.keys(), ...DIFFERENT.keys()]) expect(symbols).toContain(symbol);
  });
});
