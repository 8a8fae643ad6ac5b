/** Printing quantities with honest rounding. */
import type { Kind } from './kinds.js';
import { powerOfTen } from './number.js';
import { convert, type Quantity } from './quantity.js';
import { knownUnit } from './units.js';

/** Whose units a reader wants to see. */
export type UnitPreference = 'as-written' | 'metric' | 'us';

/** How values are shown: a system, and for some kinds a unit of their own, which wins. */
export interface DisplayPreference {
  readonly system: UnitPreference;
  readonly units?: Partial<Record<Kind, string>>;
}

/** 6.35 is held as a hair less: the last bit of a number must not decide how a half is rounded. */
const HAIR = 1e-14;
const AS_WRITTEN: DisplayPreference = Object.freeze({ system: 'as-written' });

/** The quantity in the unit that a reader prefers; as it is where nothing else is asked or fits. */
export function preferred(q: Quantity, prefer: DisplayPreference = AS_WRITTEN): Quantity {
  const units = prefer.units;
  const own = units !== undefined && Object.hasOwn(units, q.kind) ? units[q.kind] : undefined;
  const asked = own === undefined ? undefined : convert(q, own);
  if (asked) return asked;
  const unit = knownUnit(q.unit);
  if (prefer.system === 'as-written' || unit.system === 'any' || unit.system === prefer.system) return q;
  const metric = unit.metric === undefined ? q : (convert(q, unit.metric) ?? q);
  if (prefer.system === 'metric') return metric;
  const us = knownUnit(metric.unit).us;
  return us === undefined ? q : (convert(q, us) ?? q);
}

/**
 * Prints a quantity so that `parseQuantity(text, kind)` reads it back.
 *
 * Rounded to the uncertainty (two significant digits of it, JCGM 100, 7.2.6; one where the second is a
 * nought after 3 to 9), and never to more digits than were written. A value converted from another unit
 * keeps the place that its last digit as written comes to. Fractions and feet with inches stay what they
 * are as long as the unit stays.
 */
export function printQuantity(q: Quantity, prefer?: DisplayPreference): string {
  const shown = preferred(q, prefer);
  if (shown.form !== 'decimal')
    return shown.form === 'gauge' ? `${gaugeName(shown.value)} AWG` : tidy(shown.written);
  return withUnit(printNumber(shown), shown.unit);
}

/** The number of a quantity, with its uncertainty, without the unit. */
function printNumber(q: Quantity): string {
  const written = q.resolution > 0 ? powerOfTen(Math.floor(Math.log10(q.resolution) + 1e-9)) : undefined;
  if (q.uncertainty === null || q.uncertainty === 0) {
    return formatNumber(q.value, written ?? placeOfDigits(q.value, 4), written === undefined);
  }
  const own = uncertaintyPlace(q.uncertainty);
  const place = Math.max(own, written ?? 0);
  const fine = places(q.uncertainty, own) * own;
  const coarse = places(q.uncertainty, place) * place;
  // The half-width goes to the value's place too, unless that would change it by a twentieth.
  const kept = Math.abs(coarse - fine) <= 0.05 * fine ? place : own;
  return `${formatNumber(q.value, place)} ± ${formatNumber(q.uncertainty, kept)}`;
}

/** Place of the last digit worth keeping of an uncertainty. */
function uncertaintyPlace(uncertainty: number): number {
  const place = placeOfDigits(uncertainty, 2);
  const digits = places(uncertainty, place);
  return digits >= 30 && digits % 10 === 0 ? place * 10 : place;
}

/** How often a place value goes into a number, rounded. A half that is held as a hair less rounds up. */
function places(value: number, place: number): number {
  return Math.round((value * (1 + HAIR)) / place);
}

/** Place value of the last of so many significant digits. */
function placeOfDigits(value: number, digits: number): number {
  if (value === 0) return 1;
  return powerOfTen(Math.floor(Math.log10(Math.abs(value)) + 1e-9) - digits + 1);
}

/**
 * A number rounded to a place value (a power of ten), with a true minus sign and no sign on nought.
 *
 * @param trim  drop noughts at the end after the point
 * @example formatNumber(318.4, 1) // '318'
 * @example formatNumber(-0.052, 0.01) // '−0.05'
 */
export function formatNumber(value: number, place: number, trim = false): string {
  const exponent = Math.round(Math.log10(place));
  const magnitude = Math.abs(value) * (1 + HAIR);
  const text =
    magnitude >= 1e15 || exponent < -12 ? inPowers(magnitude, exponent) : plain(magnitude, exponent);
  const short = trim && text.includes('.') && !text.includes('e') ? text.replace(/\.?0+$/, '') : text;
  return value < 0 && /[1-9]/.test(short) ? `−${short}` : short;
}

function plain(magnitude: number, exponent: number): string {
  if (exponent <= 0) return magnitude.toFixed(-exponent);
  return (Math.round(magnitude / powerOfTen(exponent)) * powerOfTen(exponent)).toFixed(0);
}

function inPowers(magnitude: number, exponent: number): string {
  if (magnitude === 0) return '0';
  const digits = Math.floor(Math.log10(magnitude)) - exponent;
  return magnitude.toExponential(Math.min(Math.max(digits, 0), 15));
}

/** Puts the unit where it belongs: none for a plain number, close up for degrees of angle. */
function withUnit(number: string, unit: string): string {
  if (unit === '1') return number;
  if (unit === 'pH') return `pH ${number}`;
  if ((unit === '°' || unit === '′' || unit === '″') && !number.includes('±')) return `${number}${unit}`;
  return `${number} ${unit}`;
}

/** The name of a wire gauge number: 2/0 for -1. */
function gaugeName(gauge: number): string {
  return gauge < 1 ? `${1 - gauge}/0` : String(gauge);
}

function tidy(written: string): string {
  return written
    .trim()
    .replace(/\s+/g, ' ')
    .replace(/\s*(?:±|\+\s?\/\s?[-−–]|\+-)\s*/, ' ± ')
    .replace(/^[-–]/, '−');
}
