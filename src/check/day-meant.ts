import { isDay } from './build/values.js';

/** Days in other forms than the one that is due, read where they can mean one day only. */

const MONTHS = [
  'january',
  'february',
  'march',
  'april',
  'may',
  'june',
  'july',
  'august',
  'september',
  'october',
  'november',
  'december',
];

const YEAR_FIRST = /^(\d{4})[-/. ](\d{1,2})[-/. ](\d{1,2})$/;
const DIGITS = /^(\d{4})(\d{2})(\d{2})$/;
const IN_WORDS = /^(\d{1,2})(?:st|nd|rd|th)?[. -]+([a-z]{3,9})[.,]?[ -]+(\d{4})$/i;
const MONTH_FIRST = /^([a-z]{3,9})\.? (\d{1,2})(?:st|nd|rd|th)?,? (\d{4})$/i;
const YEAR_LAST = /^(\d{1,2})([-/.])(\d{1,2})\2(\d{4})$/;
const SHORT_YEAR = /^(\d{1,2})([-/. ])(\d{1,2})\2(\d{2})$/;

/**
 * The day that is meant by `18 April 2026`, `2026/04/18`, `2026-4-8` or `25/12/2026`, as `YYYY-MM-DD`. Null where
 * it can mean two days (`04/05/2026`), where the calendar has no such day, or where it is no date.
 */
export function dayMeant(written: string): string | null {
  const text = written.trim();
  const [, year, month, day] = YEAR_FIRST.exec(text) ?? DIGITS.exec(text) ?? [];
  if (year !== undefined) return dayOf(year, month, day);
  const [, dayFirst, name, ofYear] = IN_WORDS.exec(text) ?? [];
  if (name !== undefined) return dayOf(ofYear, monthOf(name), dayFirst);
  const [, nameFirst, second, last] = MONTH_FIRST.exec(text) ?? [];
  if (nameFirst !== undefined) return dayOf(last, monthOf(nameFirst), second);
  const [only, ...others] = YEAR_LAST.test(text) ? daysMeant(text) : [];
  return others.length === 0 ? (only ?? null) : null;
}

/**
 * All days that may be meant by figures alone, the day before the month first: `04/05/2026`, `3/4/25`. Of a year
 * with two figures it cannot be told for sure that it is one, so that it never means one day only.
 */
export function daysMeant(written: string): readonly string[] {
  const text = written.trim();
  const [, a = '', , b, end] = YEAR_LAST.exec(text) ?? SHORT_YEAR.exec(text) ?? [];
  const year = end?.length === 2 ? `20${end}` : end;
  const first = end?.length === 2 && a.length === 2 ? dayOf(`20${a}`, b, end) : null;
  const days = [dayOf(year, b, a), dayOf(year, a, b), first].filter((one) => one !== null);
  return [...new Set(days)];
}

function monthOf(name: string): string | undefined {
  const small = name.toLowerCase();
  const index = MONTHS.findIndex(
    (month) => month === small || (small.length <= 4 && month.startsWith(small)),
  );
  return index < 0 ? undefined : String(index + 1);
}

function dayOf(year: string | undefined, month: string | undefined, day: string | undefined): string | null {
  if (year === undefined || month === undefined || day === undefined) return null;
  const date = `${year}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`;
  return isDay(date) ? date : null;
}
