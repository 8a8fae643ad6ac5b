import { dayNumber } from './data.js';

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
