import { parseQuantity } from '../quantity/index.js';
import { cited } from './cited.js';
import type { FindHead } from './data.js';
import { monthAt, spanOf } from './dates.js';
import {
  daysLimit,
  type Lead,
  type Limit,
  monthLimit,
  type PlanWord,
  rangeLimit,
  systemAt,
  systemPlace,
} from './limits.js';
import type { QueryProblem } from './query.js';
import { about, between, type Due, oneSided, type Side } from './range.js';
import { wordsOf } from './words.js';

/** What the search box says: words to look for, and limits told in plain words. */
export interface PlainWords {
  readonly words: readonly PlanWord[];
  readonly limits: readonly Limit[];
  readonly problems: readonly QueryProblem[];
}

/** Words that lead in a number: the longest that fit are taken. */
const SIDES: readonly (readonly [words: string, side: Side | 'between'])[] = [
  ['no more than', 'at-most'],
  ['no less than', 'at-least'],
  ['less than', 'below'],
  ['lower than', 'below'],
  ['smaller than', 'below'],
  ['more than', 'above'],
  ['higher than', 'above'],
  ['greater than', 'above'],
  ['larger than', 'above'],
  ['at most', 'at-most'],
  ['at least', 'at-least'],
  ['up to', 'at-most'],
  ['below', 'below'],
  ['under', 'below'],
  ['above', 'above'],
  ['over', 'above'],
  ['between', 'between'],
  ['from', 'between'],
  ['<=', 'at-most'],
  ['≤', 'at-most'],
  ['<', 'below'],
  ['>=', 'at-least'],
  ['≥', 'at-least'],
  ['>', 'above'],
];

/** Words that lead in a date, with what they make of its first and last day. */
const DATES: ReadonlyMap<string, Lead> = new Map<string, Lead>([
  ['since', (first) => [first, Infinity]],
  ['from', (first) => [first, Infinity]],
  ['after', (_first, last) => [last + 1, Infinity]],
  ['until', (_first, last) => [-Infinity, last]],
  ['till', (_first, last) => [-Infinity, last]],
  ['to', (_first, last) => [-Infinity, last]],
  ['before', (first) => [-Infinity, first - 1]],
  ['in', (first, last) => [first, last]],
  ['during', (first, last) => [first, last]],
  ['on', (first, last) => [first, last]],
]);

/** Words that say nothing by themselves, those of a question among them. */
const SMALL = new Set(
  (
    'a an and any anything all are at be been by did do does everything find for from give had has have how i in ' +
    'is it its many me much my of on or our please say says show something tell than that the their there these ' +
    'this those to under us value values was we were what when where which who whose why with you your'
  ).split(' '),
);

interface Reading {
  readonly text: string;
  /** Where each token begins and ends. */
  readonly tokens: readonly { readonly word: string; readonly start: number; readonly end: number }[];
  readonly head: FindHead;
  readonly due: Due;
  readonly words: PlanWord[];
  readonly limits: Limit[];
  readonly problems: QueryProblem[];
}

/** Reads the search box from left to right. What is no limit is a word. */
export function readPlainWords(written: string, head: FindHead, due: Due): PlainWords {
  const text = written
    .slice(0, 400)
    .replace(/([<>]=?|[≤≥])/g, ' $1 ')
    .replace(/[?!,;]+(?=\s|$)/g, ' ');
  const tokens = [...text.matchAll(/\S+/g)].map(({ 0: word, index }) => ({
    word: word.toLowerCase(),
    start: index,
    end: index + word.length,
  }));
  const reading: Reading = { text, tokens, head, due, words: [], limits: [], problems: [] };
  let at = 0;
  while (at < tokens.length)
    at =
      readNumber(reading, at) ??
      readDate(reading, at) ??
      readMonth(reading, at) ??
      readSystem(reading, at) ??
      readWord(reading, at);
  return reading;
}

/** Reads `below 1 MΩ` and its like. @returns where it ends, or undefined where there is none */
function readNumber(reading: Reading, at: number): number | undefined {
  const { tokens, due } = reading;
  for (const [words, side] of SIDES) {
    const length = words.split(' ').length;
    if (tokensText(reading, at, at + length).toLowerCase() !== words) continue;
    if (!isNumberLike(tokens[at + length]?.word)) continue;
    if (side === 'between') return readBetween(reading, at + length);
    const end = valueEnd(reading, at + length);
    push(reading, rangeLimit('words', oneSided(side, tokensText(reading, at + length, end), due)));
    return end;
  }
  return undefined;
}

function readBetween(reading: Reading, at: number): number | undefined {
  const joint = reading.tokens.findIndex(
    ({ word }, index) => index > at && index < at + 6 && (word === 'and' || word === 'to'),
  );
  // `from 2024 to 2025` is about days.
  if (joint < 0 || !isNumberLike(reading.tokens[joint + 1]?.word)) return undefined;
  const first = tokensText(reading, at, joint);
  if (spanOf(first) !== null && spanOf(reading.tokens[joint + 1]?.word ?? '') !== null) return undefined;
  const end = valueEnd(reading, joint + 1);
  push(reading, rangeLimit('words', between(tokensText(reading, at, end), reading.due)));
  return end;
}

/**
 * Where a value that begins at a token ends: after the most tokens that make one, else after what can be
 * meant as its number and unit.
 */
function valueEnd(reading: Reading, at: number): number {
  const most = Math.min(at + 6, reading.tokens.length);
  for (let end = most; end > at; end--) {
    const { ok } = parseQuantity(tokensText(reading, at, end));
    if (ok) return end;
  }
  const next = reading.tokens[at + 1]?.word;
  const bare = /^[-+−(]?[\d.,/¼-¾]+$/.test(reading.tokens[at]?.word ?? '');
  return bare && next !== undefined && !SMALL.has(next) && !DATES.has(next) ? at + 2 : at + 1;
}

/**
 * Reads `in March`, `since 12 March 2026`, `March 2026`. A month without a year is that month of every year, and
 * where something begins or ends with it, its last one: no other can be meant.
 */
function readMonth(reading: Reading, at: number): number | undefined {
  const { tokens, limits } = reading;
  const lead = DATES.get(tokens[at]?.word ?? '');
  const from = lead === undefined ? at : at + 1;
  const named = monthAt(
    tokens.slice(from, from + 3).map(({ word }) => word),
    lead !== undefined,
  );
  if (named === null) return undefined;
  const end = from + named.tokens;
  const words = tokensText(reading, from, end);
  const said = lead === undefined ? `in ${words}` : `${tokens[at]?.word} ${words}`;
  if (named.span !== null) {
    const bounds = lead ?? ((first: number, last: number) => [first, last] as const);
    limits.push(daysLimit('words', ...bounds(named.span.first, named.span.last), said));
  } else limits.push(monthLimit('words', named.month, lead ?? null, said));
  return end;
}

function readDate(reading: Reading, at: number): number | undefined {
  const { tokens, limits } = reading;
  const word = tokens[at]?.word ?? '';
  const next = tokens[at + 1]?.word;
  const lead = DATES.get(word);
  if (lead !== undefined && next !== undefined) {
    const span = spanOf(next);
    if (span !== null) {
      const [first, last] = lead(span.first, span.last);
      limits.push(daysLimit('words', first, last, `${word} ${next}`));
      return at + 2;
    }
    if (word === 'since' || word === 'until' || word === 'before' || word === 'after') {
      if (/^\d{4}-\d/.test(next)) {
        const hint = 'Write a year, a month or a day: `2025`, `2025-06` or `2025-06-14`.';
        reading.problems.push({ field: 'words', message: `${cited(next)} is no date.`, hint });
        return at + 2;
      }
    }
  }
  const alone = spanOf(word);
  // A year alone may be one of the boat's; with a month it can be nothing but a date.
  if (alone === null || (word.length === 4 && !/^20\d\d$/.test(word))) return undefined;
  limits.push(daysLimit('words', alone.first, alone.last, `in ${word}`));
  return at + 1;
}

/** Reads `in house batteries`: the most words that name a system. */
function readSystem(reading: Reading, at: number): number | undefined {
  const { tokens, head, limits } = reading;
  if (tokens[at]?.word !== 'in') return undefined;
  for (let end = Math.min(at + 6, tokens.length); end > at + 1; end--) {
    const place = systemPlace(tokensText(reading, at + 1, end), head);
    if (place < 0) continue;
    limits.push(systemAt(place, head));
    return end;
  }
  return undefined;
}

function readWord(reading: Reading, at: number): number {
  const { tokens, words, due } = reading;
  const { word: written = '' } = tokens[at] ?? {};
  // `the impeller's number` asks for the impeller.
  const word = written.replace(/['’]s?$/, '');
  if (isNumberLike(word)) {
    const end = valueEnd(reading, at);
    const value = tokensText(reading, at, end);
    const result = /^[-+−\d.]+$/.test(value) ? null : about(value, due);
    if (result?.ok === true) {
      words.push({ written: value, parts: wordsOf(value), number: null, range: result.range });
      return end;
    }
  }
  const parts = SMALL.has(word) ? [] : wordsOf(word);
  if (parts.length > 0) {
    const number = /^[-−]?\d+(?:\.\d+)?$/.test(word) ? Number(word.replace('−', '-')) : null;
    words.push({ written: word, parts, number, range: null });
  }
  return at + 1;
}

function isNumberLike(word: string | undefined): boolean {
  return word !== undefined && /^(?:[-+−(]?[.\d¼-¾⅐-⅞]|ph$|awg$)/.test(word);
}

function push({ limits, problems }: Reading, made: Limit | QueryProblem): void {
  if ('message' in made) problems.push(made);
  else limits.push(made);
}

function tokensText({ text, tokens }: Reading, from: number, to: number): string {
  const [first, last] = [tokens[from], tokens[Math.min(to, tokens.length) - 1]];
  if (first === undefined || last === undefined || to <= from) return '';
  return text.slice(first.start, last.end);
}
