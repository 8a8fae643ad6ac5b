/** Calendar periods. A month is a month, never so many seconds. */
import { type Failure, fail, quoted } from './problem.js';

/** A period of the calendar. */
export interface Interval {
  readonly years: number;
  readonly months: number;
  readonly weeks: number;
  readonly days: number;
}

/** What became of a text. */
export type IntervalResult = { readonly ok: true; readonly interval: Interval } | Failure;

type Part = keyof Interval;

const WORDS: ReadonlyMap<string, Part> = new Map([
  ['year', 'years'],
  ['years', 'years'],
  ['month', 'months'],
  ['months', 'months'],
  ['week', 'weeks'],
  ['weeks', 'weeks'],
  ['day', 'days'],
  ['days', 'days'],
]);

const ORDER: readonly Part[] = ['years', 'months', 'weeks', 'days'];
const MAX_NUMBER = 10_000;
const MAX_LENGTH = 80;

/**
 * Reads a period: `6 months`, `1 year 6 months`, `10 days`. Whole numbers, larger units first, each once,
 * more than nothing in all.
 */
export function parseInterval(text: string): IntervalResult {
  const whole = { offset: 0, length: text.length };
  if (text.length > MAX_LENGTH) return fail('too-long', whole, 'This is too long for a period.');
  if (text.trim() === '') return fail('empty', whole, 'A period is missing.');
  const found = { years: 0, months: 0, weeks: 0, days: 0 };
  let last = -1;
  for (const match of text.matchAll(/\S+(?:\s+[^\s\d]\S*)?/g)) {
    const part = readPart(match[0], match.index);
    if (!part.ok) return part;
    const place = ORDER.indexOf(part.part);
    if (place <= last) {
      const message =
        'In a period years come before months, months before weeks, weeks before days, each once.';
      return fail('bad-period', { offset: match.index, length: match[0].length }, message);
    }
    found[part.part] = part.number;
    last = place;
  }
  if (ORDER.every((part) => found[part] === 0))
    return fail('bad-period', whole, 'A period is more than nothing.');
  return Object.freeze({ ok: true, interval: Object.freeze(found) });
}

function readPart(text: string, offset: number): { ok: true; part: Part; number: number } | Failure {
  const match = /^(\d{1,9})\s*(\p{L}+)$/u.exec(text);
  const part = WORDS.get(match?.[2] ?? '');
  const number = Number(match?.[1]);
  if (part !== undefined && number <= MAX_NUMBER) return { ok: true, part, number };
  return fail(
    'bad-period',
    { offset, length: text.length },
    `${quoted(text)} is not a period of the calendar.`,
    {
      hint: 'Write a whole number of years, months, weeks or days, such as `6 months`.',
      choices: ['years', 'months', 'weeks', 'days'],
    },
  );
}

/** Prints a period so that `parseInterval` reads it back: `1 year 6 months`. */
export function printInterval(interval: Interval): string {
  return ORDER.filter((part) => interval[part] > 0)
    .map((part) => `${interval[part]} ${interval[part] === 1 ? part.slice(0, -1) : part}`)
    .join(' ');
}
