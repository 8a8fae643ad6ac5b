import { aKind, kindInfo } from '../quantity/index.js';
import { citedWords } from './cited.js';
import { dateOf, NO_DAY } from './data.js';
import type { Limit, PlanWord } from './limits.js';
import { listed } from './nearest.js';
import type { Plan } from './plan.js';
import { isIn, type Range, straddles } from './range.js';
import { type Steps, stretches } from './steps.js';
import { type Table, writtenValue } from './table.js';
import { PLURALS, SORTS } from './vocabulary.js';
import { FIT } from './words.js';

/** What answers to a query. */
export interface Found {
  /** Records by their rows, in the order of the table: newest first. */
  readonly rows: Int32Array;
  /** How well each answers to the words; all the same where there are none. */
  readonly scores: Uint16Array;
  /** Words that are nowhere, with those that they were taken for. */
  readonly slips: readonly { readonly word: string; readonly as: readonly string[] }[];
  /**
   * Values so near to an end of a range that their ± reaches across it: those that are in by their value, and
   * those that are not. Null where no number is asked for.
   */
  readonly near: { readonly inside: number; readonly outside: number } | null;
}

/**
 * Everything that answers to a query: to each of its words, in any of the texts of a record, and to each of
 * its limits. A word that is nowhere in the book is left out where another is there: a question has words that no
 * record has. A plan with problems finds nothing. The table may not grow between two steps.
 */
export function* run(table: Table, plan: Plan): Steps<Found> {
  if (plan.problems.length > 0) return NOTHING;
  const ranges = plan.limits.filter(({ range }) => range !== null);
  const others = plan.limits.filter(({ range }) => range === null);
  let rows = allRows(table.rows);
  for (const limit of others) rows = yield* filter(rows, limit.test(table));
  const scores = new Uint16Array(table.rows);
  for (const word of wordsThere(table, plan)) rows = yield* filter(rows, yield* scoreBy(table, word, scores));
  const before = rows;
  for (const limit of ranges) rows = yield* filter(rows, limit.test(table));
  const found = new Uint16Array(rows.length);
  for (let at = 0; at < found.length; at++) found[at] = scores[rows[at] as number] as number;
  yield;
  return {
    rows,
    scores: found,
    slips: slipsOf(table, plan),
    near: ranges.length === 0 ? null : yield* nearOf(table, before, ranges),
  };
}

const NOTHING: Found = { rows: new Int32Array(0), scores: new Uint16Array(0), slips: [], near: null };

function allRows(count: number): Int32Array {
  const rows = new Int32Array(count);
  for (let row = 0; row < count; row++) rows[row] = row;
  return rows;
}

function* filter(rows: Int32Array, test: (row: number) => boolean): Steps<Int32Array> {
  let kept = 0;
  const all = new Int32Array(rows.length);
  yield* stretches(rows.length, (from, to) => {
    for (let at = from; at < to; at++) {
      const row = rows[at] as number;
      if (test(row)) all[kept++] = row;
    }
  });
  return all.subarray(0, kept);
}

/** A test that adds to the scores what the records that answer to a word have earned by it. */
function* scoreBy(table: Table, word: PlanWord, scores: Uint16Array): Steps<(row: number) => boolean> {
  const parts: Uint8Array[] = [];
  for (const part of word.parts) parts.push(yield* scoresFor(table, part));
  const { kind, si, plain } = table;
  const best = WEIGHTS.title * FIT.same;
  return (row) => {
    let score = parts.length === 0 ? 0 : best;
    for (const part of parts) score = Math.min(score, part[row] as number);
    if (word.number !== null && plain[row] === word.number) score = best;
    const place = kind[row] as number;
    if (word.range !== null && place >= 0 && isIn(word.range, place, si[row] as number)) score = best;
    if (score === 0) return false;
    scores[row] = (scores[row] as number) + score;
    return true;
  };
}

/** Scores of the words that were asked for last: a key changes one of them. */
const recent = new WeakMap<Table, Map<string, Uint8Array>>();
const MOST_RECENT = 12;

/** The score of every record for one word. */
function* scoresFor(table: Table, word: string): Steps<Uint8Array> {
  const known = recent.get(table) ?? new Map<string, Uint8Array>();
  recent.set(table, known);
  const made = known.get(word);
  const scores = made?.length === table.rows ? made : yield* scoreAll(table, yield* fits(table, word));
  // What was used last goes to the end, and what has not been used for longest goes.
  known.delete(word);
  known.set(word, scores);
  if (known.size > MOST_RECENT) known.delete(known.keys().next().value as string);
  return scores;
}

/** What a word is worth, by where it stands. */
const WEIGHTS = { title: 10, says: 8, note: 7, system: 6, under: 5, kind: 5, other: 4 } as const;

/** How well each text answers to a word, by its place in the index. */
function* fits({ index }: Table, word: string): Steps<Uint8Array> {
  const answers = index.lexicon.answers(word);
  yield;
  const starts = index.starts();
  const fit = new Uint8Array(starts.length);
  if (answers.size === 0) return fit;
  const byWord = new Uint8Array(index.lexicon.size());
  for (const [number, how] of answers) byWord[number] = how;
  const words = index.words();
  yield* stretches(starts.length - 1, (from, to) => {
    for (let text = from; text < to; text++) {
      let best = 0;
      for (let at = starts[text] as number; at < (starts[text + 1] as number); at++) {
        const how = byWord[words[at] as number] as number;
        if (how > best) best = how;
      }
      fit[text] = best;
    }
  });
  return fit;
}

/** For each record the best of its texts, by how well they answer and by what they are worth. */
function* scoreAll(table: Table, fit: Uint8Array): Steps<Uint8Array> {
  const { index, entries } = table;
  const scores = new Uint8Array(table.rows);
  const worth = (places: readonly number[], weight: number) => {
    const values = new Uint8Array(places.length);
    for (let at = 0; at < values.length; at++) values[at] = (fit[places[at] as number] as number) * weight;
    return values;
  };
  const texts = worth(index.text, 1);
  const titles = Uint8Array.from(entries, ([, title]) => (texts[title] as number) * WEIGHTS.other);
  yield;
  for (const name of ['sort', 'standing', 'outcome', 'limit'] as const)
    yield* raiseFew(scores, table[name], worth(index[name], WEIGHTS.other));
  yield* raise(scores, table.point, worth(index.point, WEIGHTS.title), 1);
  yield* raise(scores, table.system, worth(index.system, WEIGHTS.system), 1);
  yield* raise(scores, table.kind, worth(index.kind, WEIGHTS.kind), 1);
  yield* raise(scores, table.under, worth(index.under, WEIGHTS.under), 1);
  yield* raise(scores, table.entry, titles, 1);
  yield* raise(scores, table.title, texts, WEIGHTS.title);
  yield* raise(scores, table.says, texts, WEIGHTS.says);
  yield* raise(scores, table.note, texts, WEIGHTS.note);
  for (const name of ['how', 'state', 'ref'] as const)
    yield* raise(scores, table[name], texts, WEIGHTS.other);
  return scores;
}

/** Raises scores to what a column's names are worth. What names nothing is below zero. */
function* raise(scores: Uint8Array, column: Int32Array, values: Uint8Array, weight: number): Steps<void> {
  if (!values.some((value) => value > 0)) return;
  yield* stretches(scores.length, (from, to) => {
    for (let row = from; row < to; row++) {
      const place = column[row] as number;
      if (place < 0) continue;
      const score = (values[place] as number) * weight;
      if (score > (scores[row] as number)) scores[row] = score;
    }
  });
}

/** The same for columns of small numbers; one function for both would be slower than either. */
function* raiseFew(scores: Uint8Array, column: Uint8Array | Int8Array, values: Uint8Array): Steps<void> {
  if (!values.some((value) => value > 0)) return;
  yield* stretches(scores.length, (from, to) => {
    for (let row = from; row < to; row++) {
      const score = values[column[row] as number] ?? 0;
      if (score > (scores[row] as number)) scores[row] = score;
    }
  });
}

/** Words that are nowhere as they stand. A whole number or a value may be one without being a word. */
function slipsOf({ index }: Table, { words }: Plan): Found['slips'] {
  return words
    .filter(({ number, range }) => number === null && range === null)
    .flatMap(({ parts }) => parts)
    .flatMap((word) => {
      const answers = [...index.lexicon.answers(word)];
      if (answers.some(([, how]) => how > FIT.slip)) return [];
      return [{ word, as: answers.map(([number]) => index.lexicon.word(number)).slice(0, 4) }];
    });
}

/** The words that count: all but those that are nowhere, and all where none but such are left. */
function wordsThere({ index }: Table, { words }: Plan): readonly PlanWord[] {
  const there = words.filter(
    ({ parts, number, range }) =>
      number !== null ||
      range !== null ||
      // What has a digit in it is a number of a part, and another part is no answer.
      parts.some((part) => /\p{N}/u.test(part)) ||
      parts.every((part) => index.lexicon.answers(part).size > 0),
  );
  return there.length === 0 ? words : there;
}

function* nearOf(
  table: Table,
  rows: Int32Array,
  limits: readonly Limit[],
): Steps<{ inside: number; outside: number }> {
  const ranges = limits.map(({ range }) => range as Range);
  let [inside, outside] = [0, 0];
  yield* stretches(rows.length, (from, to) => {
    for (const row of rows.subarray(from, to)) {
      const spread = table.spread[row] as number;
      const kind = table.kind[row] as number;
      if (Number.isNaN(spread) || kind < 0) continue;
      const si = table.si[row] as number;
      const failed = ranges.filter((range) => !isIn(range, kind, si));
      if (failed.length > 0) outside += failed.every((range) => straddles(range, kind, si, spread)) ? 1 : 0;
      else if (ranges.some((range) => straddles(range, kind, si, spread))) inside += 1;
    }
  });
  return { inside, outside };
}

/** Counts behind the verb that goes with the first of them. */
function isOrAre(counts: readonly string[]): string {
  return `${counts[0]?.startsWith('1 ') === true ? 'is' : 'are'} ${counts.join(', ')}`;
}

/** How many there are of each sort, the sorts in their order; `3 readings`. */
export function countsBySort(table: Table, rows: Int32Array): string[] {
  const counts = new Uint32Array(SORTS.length);
  for (const row of rows) {
    const sort = table.sort[row] as number;
    counts[sort] = (counts[sort] as number) + 1;
  }
  return SORTS.flatMap((sort, at) => {
    const count = counts[at] as number;
    return count === 0 ? [] : [`${count} ${count === 1 ? sort : PLURALS[sort]}`];
  });
}

/** The words that were left out, in a sentence; null where there are none. What found nothing is told otherwise. */
export function leftOut({ rows, slips }: Found): string | null {
  const missing = rows.length === 0 ? null : nowhere(slips);
  return missing === null ? null : `${missing}, and left out.`;
}

function nowhere(slips: Found['slips']): string | null {
  const missing = slips.filter(({ as }) => as.length === 0).map(({ word }) => word);
  if (missing.length === 0) return null;
  return `${listed(citedWords(missing))} ${missing.length === 1 ? 'is' : 'are'} nowhere in this book`;
}

/** Why nothing was found, in sentences: what each limit keeps out, and what the numbers that are there come to. */
export function* whyNothing(table: Table, plan: Plan): Steps<readonly string[]> {
  const missing = nowhere(slipsOf(table, plan));
  if (missing !== null && wordsThere(table, plan).length === plan.words.length) return [`${missing}.`];
  const why = missing === null ? [] : [`${missing}.`];
  for (const limit of plan.limits) {
    const others = plan.limits.filter((other) => other !== limit);
    const { rows } = yield* run(table, { ...plan, limits: others });
    if (rows.length === 0) continue;
    if (limit.range !== null) why.push(whyNoNumber(table, limit.range, rows));
    else why.push(`Without \`${limit.words}\` there ${isOrAre(countsBySort(table, rows))}.`);
    yield;
  }
  return why;
}

/** What the values are that a range keeps out: of other kinds, or from so much to so much. */
function whyNoNumber(table: Table, range: Range, rows: Int32Array): string {
  const fitting = rows.filter((row) => range.kinds.includes(table.kind[row] as number));
  if (fitting.length === 0) return whyNoKind(table, range, rows);
  let [low, high] = [fitting[0] as number, fitting[0] as number];
  for (const row of fitting) {
    if ((table.si[row] as number) < (table.si[low] as number)) low = row;
    if ((table.si[row] as number) > (table.si[high] as number)) high = row;
  }
  if (fitting.length === 1) return `Nothing is ${range.words}: the one value there is ${told(table, low)}.`;
  return `Nothing is ${range.words}: the ${fitting.length} values there go from ${told(table, low)} to ${told(table, high)}.`;
}

function told(table: Table, row: number): string {
  const day = table.day[row] as number;
  return day === NO_DAY ? writtenValue(table, row) : `${writtenValue(table, row)} (${dateOf(day)})`;
}

function whyNoKind(table: Table, range: Range, rows: Int32Array): string {
  const asked = listed(
    range.kinds.map((kind) => aKind(table.head.kinds[kind] ?? 'ratio')),
    'or',
  );
  const counts = new Map<number, number>();
  for (const row of rows) {
    const kind = table.kind[row] as number;
    counts.set(kind, (counts.get(kind) ?? 0) + 1);
  }
  const there = [...counts]
    .filter(([kind]) => kind >= 0)
    .sort(([, a], [, b]) => b - a)
    .map(([kind, count]) => `${kindInfo(table.head.kinds[kind] ?? 'ratio').title} (${count})`);
  if (there.length === 0)
    return `\`${range.words}\` is ${asked}, and what is found without it has no number.`;
  const unit = /\d$/.test(range.words) ? unitIn(table, rows) : null;
  const hint = unit === null ? '' : ` Say the unit: \`${range.words} ${unit}\`.`;
  return `\`${range.words}\` is ${asked}, and what is found without it is ${listed(there)}.${hint}`;
}

/** The unit of the newest of some records that has one. */
function unitIn(table: Table, rows: Int32Array): string | null {
  const row = rows.find((one) => (table.unit[one] as number) >= 0);
  return row === undefined ? null : table.head.units[table.unit[row] as number]?.[1] || null;
}
