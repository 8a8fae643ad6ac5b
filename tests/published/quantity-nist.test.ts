import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { unitOf } from '../../src/quantity/index.js';

/**
 * Factors of NIST Special Publication 811 (2008), Guide for the Use of the International System of Units,
 * appendix B.8, as printed there (seven digits unless exact). Each row of the file is either matched by a
 * unit of ours to the last printed digit, or listed below with the reason why not.
 */
const OURS: ReadonlyMap<string, string> = new Map([
  ['inch (in)', 'in'],
  ['mile (mi)', 'mi'],
  ['mil (0.001 in)', 'mil'],
  ['square inch (in2)', 'in²'],
  ['square yard (yd2)', 'yd²'],
  ['circular mil', 'cmil'],
  ['gallon (U.S.) (gal)', 'US gal'],
  ['quart (U.S. liquid) (liq qt)', 'US qt'],
  ['cup (U.S.)', 'US cup'],
  ['ounce [Canadian and U.K. fluid (Imperial)] (fl oz)', 'imp fl oz'],
  ['cubic foot (ft3)', 'ft³'],
  ['pound (avoirdupois) (lb)', 'lb'],
  ['ton, long (2240 lb)', 'long ton'],
  ['pound-force (lbf)', 'lbf'],
  ['ounce (avoirdupois)-force (ozf)', 'ozf'],
  ['pound-force foot (lbf · ft)', 'lbf·ft'],
  ['ounce (avoirdupois)-force inch (ozf · in)', 'ozf·in'],
  ['pound-force per square inch (psi) (lbf/in2)', 'psi'],
  ['torr (Torr)', 'Torr'],
  ['centimeter of water, conventional (cmH2O)', 'cmH2O'],
  ['atmosphere, standard (atm)', 'atm'],
  ['bar (bar)', 'bar'],
  ['kilogram-force per square centimeter (kgf/cm2)', 'kgf/cm²'],
  ['British thermal unitIT (BtuIT)', 'BTU'],
  ['kilowatt hour (kW · h)', 'kWh'],
  ['foot pound-force (ft · lbf)', 'ft·lbf'],
  ['horsepower (550 ft · lbf/s) (hp)', 'hp'],
  ['British thermal unitIT per hour (BtuIT/h)', 'BTU/h'],
  ['foot pound-force per second (ft · lbf/s)', 'ft·lbf/s'],
  ['degree Fahrenheit (temperature interval) (°F)', '°F'],
  ['gallon (U.S.) per minute (gpm) (gal/min)', 'US gal/min'],
  ['cubic foot per minute (ft3/min)', 'ft³/min'],
  ['pound per hour (lb/h)', 'lb/h'],
  ['pound per cubic foot (lb/ft3)', 'lb/ft³'],
  ['pound per gallon (U.S.) (lb/gal)', 'lb/US gal'],
  ['ounce (avoirdupois) per gallon (U.S.) (oz/gal)', 'oz/US gal'],
  ['ounce (avoirdupois) per square yard (oz/yd2)', 'oz/yd²'],
  ['knot (nautical mile per hour)', 'kn'],
  ['kilometer per hour (km/h)', 'km/h'],
  ['foot per minute (ft/min)', 'ft/min'],
  ['rpm (revolution per minute) (r/min)', 'rpm'],
  ['degree (angle) (°)', '°'],
  ['ampere hour (A · h)', 'Ah'],
  ['hour (h)', 'h'],
  ['centipoise (cP)', 'cP'],
  ['footcandle', 'fc'],
]);

/** Rows that differ from ours, by how much, and why. */
const DIFFERENT: ReadonlyMap<string, readonly [unit: string, relative: number, why: string]> = new Map([
  ['foot (U.S. survey) (ft)', ['ft', 2e-6, 'ours is the international foot; the survey foot is 1200/3937 m']],
  ['fathom (based on U.S. survey foot)', ['fathom', 2e-6, 'ours is six international feet']],
  [
    'inch of mercury (32 °F)',
    ['inHg', 2.6e-6, 'ours is the conventional inch of mercury (NIST prints it as 3386.389)'],
  ],
  [
    'inch of water (39.2 °F)',
    ['inH2O', 2.8e-5, 'ours is the conventional inch of water (NIST prints it as 249.0889)'],
  ],
]);

/** Rows for units that a boat's book does not need. */
const LEFT_OUT: ReadonlySet<string> = new Set([
  'acre (based on U.S. survey foot)',
  'gill [Canadian and U.K. (Imperial)] (gi)',
  'teaspoon',
  'barrel [for petroleum, 42 gallons (U.S.)] (bbl)',
  'bushel (U.S.) (bu)',
  'ounce (troy or apothecary) (oz)',
  'slug (slug)',
  'hundredweight (long, 112 lb)',
  'carat, metric',
  'dyne (dyn)',
  'ton-force (2000 lbf)',
  'pound-force per square foot (lbf/ft2)',
  'calorieth (calth)',
  'therm (U.S.)',
  'horsepower (electric)',
  'degree Rankine (temperature interval) (°R)',
  'year (365 days)',
  'mile per gallon (U.S.) (mpg) (mi/gal)',
]);

interface Row {
  readonly from: string;
  readonly printed: string;
  readonly source: string;
}

function rows(): Row[] {
  const text = readFileSync(new URL('data/nist-sp811-factors.csv', import.meta.url), 'utf8');
  return text
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => (line.match(/"[^"]*"|[^,]+/g) ?? []).map((cell) => cell.replace(/^"|"$/g, '')))
    .map(([from = '', , printed = '', source = '']) => ({ from, printed, source }));
}

/** A number to the significant digits in which another is printed. */
function asPrinted(value: number, printed: string): number {
  const digits = printed.replace(/e.*$/i, '').replace('.', '').replace(/^0+/, '').length;
  // Whole numbers are exact in that table; compare them to more digits than it prints.
  return Number(value.toPrecision(printed.includes('.') || printed.includes('e') ? digits : 12));
}

describe('NIST SP 811, appendix B.8', () => {
  it('has every row accounted for', () => {
    const known = [...OURS.keys(), ...DIFFERENT.keys(), ...LEFT_OUT].sort();
    expect(
      rows()
        .map((row) => row.from)
        .sort(),
    ).toEqual(known);
    expect(new Set(rows().map((row) => row.source))).toEqual(new Set(['NIST SP 811 (2008), App. B.8']));
  });

  it.each(rows().filter((row) => OURS.has(row.from)))('$from is $printed', ({ from, printed }) => {
    const factor = unitOf(OURS.get(from) as string)?.factor ?? Number.NaN;
    expect(asPrinted(factor, printed)).toBe(Number(printed));
  });

  it.each(rows().filter((row) => DIFFERENT.has(row.from)))(
    '$from differs as documented',
    ({ from, printed }) => {
      const [unit, relative] = DIFFERENT.get(from) as readonly [string, number, string];
      const off = Math.abs((unitOf(unit)?.factor ?? Number.NaN) / Number(printed) - 1);
      expect(off).toBeGreaterThan(relative * 0.9);
      expect(off).toBeLessThan(relative * 1.1);
    },
  );
});
