import { Temporal } from 'temporal-polyfill';
import type { Interval } from '../quantity/index.js';

/** Days of the calendar, as texts `YYYY-MM-DD`. No clock and no time zone comes into it. */

/**
 * The day an interval after another. A month end stays a month end: 31 January and one month is 28 or 29
 * February (ISO 8601 arithmetic as `Temporal` defines it, with `constrain`).
 */
export function addInterval(date: string, interval: Interval): string {
  return Temporal.PlainDate.from(date).add(interval, { overflow: 'constrain' }).toString();
}

const DAY_MS = 86_400_000;

/** Whole days from one day to another; negative where the second is earlier. */
export function daysBetween(from: string, to: string): number {
  return Math.round((Date.UTC(...parts(to)) - Date.UTC(...parts(from))) / DAY_MS);
}

function parts(date: string): [number, number, number] {
  return [Number(date.slice(0, 4)), Number(date.slice(5, 7)) - 1, Number(date.slice(8, 10))];
}

/** So many intervals in one: three times one month is three months, counted from the first day and not from month ends. */
export function timesInterval({ years, months, weeks, days }: Interval, times: number): Interval {
  return { years: years * times, months: months * times, weeks: weeks * times, days: days * times };
}

/** The day so many days after another. */
export function addDays(date: string, days: number): string {
  return new Date(Date.UTC(...parts(date)) + days * DAY_MS).toISOString().slice(0, 10);
}

/** `YYYY-MM`. */
export function monthOf(date: string): string {
  return date.slice(0, 7);
}

const FIRST_DAY = '1970-01-01';

/** A day as a number: days since 1970-01-01. */
export function dayNumber(date: string): number {
  return daysBetween(FIRST_DAY, date);
}

/** The day of a whole number of days since 1970-01-01. */
export function dayOfNumber(days: number): string {
  return addDays(FIRST_DAY, days);
}
