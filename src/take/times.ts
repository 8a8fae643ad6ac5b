import { startOfDay } from '../read/series.js';

/** Reads times as a map says that they are written. */

/** Seconds since the beginning of 1970 by the clock on the wall; NaN for what is not written so. */
export type TimeReader = (text: string) => number;

interface Token {
  readonly pattern: string;
  readonly field: 'year' | 'month' | 'day' | 'hour' | 'minute' | 'second' | 'half' | null;
  readonly read: (text: string) => number;
}

const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];

const digits = (pattern: string, field: Token['field']): Token => ({ pattern, field, read: Number });

const TOKENS: Readonly<Record<string, Token>> = {
  YYYY: digits('\\d{4}', 'year'),
  // Of two digits the century of this log is meant.
  YY: { pattern: '\\d{2}', field: 'year', read: (text) => 2000 + Number(text) },
  MMM: {
    pattern: '[A-Za-z]{3,9}\\.?',
    field: 'month',
    read: (text) => MONTHS.indexOf(text.slice(0, 3).toLowerCase()) + 1,
  },
  MM: digits('\\d{2}', 'month'),
  M: digits('\\d{1,2}', 'month'),
  DD: digits('\\d{2}', 'day'),
  D: digits('\\d{1,2}', 'day'),
  HH: digits('\\d{2}', 'hour'),
  H: digits('\\d{1,2}', 'hour'),
  hh: digits('\\d{2}', 'hour'),
  h: digits('\\d{1,2}', 'hour'),
  mm: digits('\\d{2}', 'minute'),
  ss: digits('\\d{2}', 'second'),
  S: digits('\\d{1,9}', null),
  A: { pattern: '[AaPp]\\.?[Mm]\\.?', field: 'half', read: (text) => (/^p/i.test(text) ? 1 : 0) },
};

const TOKEN = /YYYY|YY|MMM|MM|M|DD|D|HH|H|hh|h|mm|ss|S|A|[\s\S]/g;

/** The reader of a form such as `DD.MM.YYYY HH:mm`, or why it is none. */
export function timeReader(form: string): TimeReader | { readonly why: string } {
  const pieces: readonly string[] = form.match(TOKEN) ?? [];
  const tokens = pieces.flatMap((piece) => TOKENS[piece] ?? []);
  const has = (field: Token['field']) => tokens.filter((token) => token.field === field).length;
  const lacking = (['year', 'month', 'day'] as const).find((field) => has(field) === 0);
  if (lacking !== undefined) return { why: `it says nothing of the ${lacking}` };
  const twice = tokens.find(({ field }) => field !== null && has(field) > 1);
  if (twice?.field != null) return { why: `it names the ${twice.field} twice` };
  const half = pieces.includes('hh') || pieces.includes('h');
  if (half !== (has('half') === 1))
    return { why: 'hours to twelve (hh) need A for am and pm, and no others do' };
  const pattern = new RegExp(`^${pieces.map((piece) => patternOf(piece)).join('')}$`);
  return (text) => {
    const match = pattern.exec(text.trim());
    return match === null ? Number.NaN : timeOf(tokens, match, half);
  };
}

function patternOf(piece: string): string {
  const token = TOKENS[piece];
  if (token !== undefined) return `(${token.pattern})`;
  return piece === ' ' ? '\\s+' : piece.replace(/[\\^$.*+?()[\]{}|/]/, '\\$&');
}

function timeOf(tokens: readonly Token[], match: RegExpExecArray, half: boolean): number {
  const read = { year: 0, month: 0, day: 0, hour: half ? 12 : 0, minute: 0, second: 0, half: 0 };
  for (const [index, { field, read: reader }] of tokens.entries())
    if (field !== null) read[field] = reader(match[index + 1] as string);
  if (half && (read.hour < 1 || read.hour > 12)) return Number.NaN;
  const hour = half ? (read.hour % 12) + 12 * read.half : read.hour;
  if (hour > 23 || read.minute > 59 || read.second > 59) return Number.NaN;
  return startOfDay(read.year, read.month, read.day) + hour * 3600 + read.minute * 60 + read.second;
}
