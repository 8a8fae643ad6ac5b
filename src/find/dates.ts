import { dateOf, dayNumber } from './data.js';

/** First and last day of a year, a month or a day. */
export interface Span {
  readonly first: number;
  readonly last: number;
}

/**
 * The days of `2025`, `2025-06` or `2025-06-14`.
 *
 * @returns null for what is no date
 */
export function spanOf(text: string): Span | null {
  const match = /^(\d{4})(?:-(\d{2})(?:-(\d{2}))?)?$/.exec(text.trim());
  if (match === null) return null;
  const [, year = '', month, day] = match;
  if (month === undefined) return { first: dayNumber(`${year}-01-01`), last: dayNumber(`${year}-12-31`) };
  if (month < '01' || month > '12') return null;
  const begin = dayNumber(`${year}-${month}-01`);
  const days = dayNumber(nextMonth(Number(year), Number(month))) - begin;
  if (day === undefined) return { first: begin, last: begin + days - 1 };
  const at = Number(day);
  return at < 1 || at > days ? null : { first: begin + at - 1, last: begin + at - 1 };
}

function nextMonth(year: number, month: number): string {
  const [y, m] = month === 12 ? [year + 1, 1] : [year, month + 1];
  return `${String(y).padStart(4, '0')}-${String(m).padStart(2, '0')}-01`;
}

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

/** A month that is told by its name, from 1; with the days that are meant where the year is told too. */
interface NamedMonth {
  readonly month: number;
  readonly span: Span | null;
  /** How many words it takes. */
  readonly tokens: number;
}

/**
 * The month in `march`, `mar 2026` or `12 march 2026`, at the beginning of some words in small letters.
 *
 * @param isLed whether a word such as `in` stands before it. Alone, `march` and `may` are words like others.
 * @returns null where there is none
 */
export function monthAt(words: readonly string[], isLed: boolean): NamedMonth | null {
  const day = /^(\d{1,2})(?:st|nd|rd|th)?$/.exec(words[0] ?? '')?.[1] ?? null;
  const at = day === null ? 0 : 1;
  const month = monthNamed(words[at] ?? '');
  if (month === 0) return null;
  const year = /^\d{4}$/.exec(words[at + 1] ?? '')?.[0] ?? null;
  if (year === null) return day === null && isLed ? { month, span: null, tokens: 1 } : null;
  const two = (number: number | string) => String(number).padStart(2, '0');
  const span = spanOf(`${year}-${two(month)}${day === null ? '' : `-${two(day)}`}`);
  return span === null ? null : { month, span, tokens: at + 2 };
}

function monthNamed(word: string): number {
  const plain = word.replace(/\.$/, '');
  if (plain === 'sept') return 9;
  return MONTHS.findIndex((name) => name === plain || name.slice(0, 3) === plain) + 1;
}

/** The month of a day, from 1. */
export function monthOf(day: number): number {
  return Number(dateOf(day).slice(5, 7));
}

/** The last such month that has begun on a day. */
export function lastMonth(month: number, day: number): Span {
  const year = Number(dateOf(day).slice(0, 4)) - (monthOf(day) < month ? 1 : 0);
  const begins = `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}`;
  return spanOf(begins) as Span;
}
