import { kindInfo } from '../quantity/index.js';
import { NONE } from './data.js';
import type { Found } from './run.js';
import { type Steps, stretches } from './steps.js';
import type { Table } from './table.js';
import { LIMITS, OUTCOMES, SORTS, STANDINGS } from './vocabulary.js';

/** What results can be sorted by; `best`: what somebody wrote before what a logger read, then by how well it answers, then by day. */
export const ORDERS = ['best', 'date', 'system', 'what', 'value', 'state', 'around'] as const;
export type Order = (typeof ORDERS)[number];

/** The order of results, and whether it is turned round. */
export interface Sorting {
  readonly by: Order;
  readonly descending: boolean;
}

/** What results are sorted by where nobody says otherwise. */
export const BEST_FIRST: Sorting = { by: 'best', descending: false };

/**
 * One page of results in an order. Only what is shown is put in order, so that a page costs about as much
 * time as looking at each result once.
 *
 * @param from first result of the page, @param to the one after its last
 * @returns rows of the table
 */
export function* pageOf(
  table: Table,
  found: Found,
  sorting: Sorting,
  from: number,
  to: number,
): Steps<number[]> {
  const { rows } = found;
  const compare = yield* comparison(table, found, sorting);
  if (compare === null) return [...rows.subarray(from, to)];
  const places = new Uint32Array(rows.length);
  for (let at = 0; at < places.length; at++) places[at] = at;
  const steady = (a: number, b: number) => compare(a, b) || a - b;
  const end = Math.min(to, places.length);
  yield* select(places, from, steady);
  if (end < places.length) yield* select(places.subarray(from), end - from, steady);
  return [...places.subarray(from, end)].sort(steady).map((place) => rows[place] as number);
}

type Compare = (a: number, b: number) => number;

/** Compares two results by their places; null where they are in order already. */
function* comparison(
  table: Table,
  { rows, scores }: Found,
  { by, descending }: Sorting,
): Steps<Compare | null> {
  if (by === 'best') {
    const { ranks: rank, isAlike } = yield* bestRanks(table, rows, scores);
    return isAlike ? null : (a, b) => (rank[b] as number) - (rank[a] as number);
  }
  const turn = descending ? -1 : 1;
  const key = yield* keyOf(table, by);
  return (a, b) => {
    const [left, right] = [rows[a] as number, rows[b] as number];
    return key(left, right, turn);
  };
}

/** More than any score. */
const WRITTEN = 2 ** 16;

/**
 * How near the top each result belongs, the highest first. A logger has two lines a day to tell, so that among the
 * results of words it would hide what somebody wrote. Where no words were asked for, all are alike.
 */
function* bestRanks(
  table: Table,
  rows: Int32Array,
  scores: Uint16Array,
): Steps<{ ranks: Uint32Array; isAlike: boolean }> {
  const made = new Uint32Array(rows.length);
  let isAlike = true;
  yield* stretches(rows.length, (from, to) => {
    for (let at = from; at < to; at++) {
      const score = scores[at] as number;
      made[at] = score === 0 || isLogged(table, rows[at] as number) ? score : score + WRITTEN;
      if (made[at] !== made[0]) isAlike = false;
    }
  });
  return { ranks: made, isAlike };
}

/** Whether a logger has read it: a reading that stands in no entry. */
function isLogged(table: Table, row: number): boolean {
  return table.sort[row] === READING && table.entry[row] === NONE;
}

const READING = SORTS.indexOf('reading');

/** Compares two rows; what has nothing to be sorted by comes last either way. */
type RowCompare = (a: number, b: number, turn: number) => number;

function* keyOf(table: Table, by: Exclude<Order, 'best'>): Steps<RowCompare> {
  switch (by) {
    case 'date':
      return byNumber((row) => table.day[row] as number);
    case 'system':
      return byRank(table.system, yield* ranks(table.head.systems.map(({ title }) => title)));
    case 'what':
      return byRank(table.title, yield* ranks(table.texts));
    case 'around':
      return byRank(table.note, yield* ranks(table.texts));
    case 'value':
      return byValue(table, yield* ranks(table.head.kinds.map((one) => kindInfo(one).title)));
    case 'state':
      return byNumber((row) => stateRank(table, row));
  }
}

function byNumber(of: (row: number) => number): RowCompare {
  return (a, b, turn) => (of(a) - of(b)) * turn;
}

function byRank(column: Int32Array, rank: Int32Array): RowCompare {
  return (a, b, turn) => {
    const [left, right] = [rank[column[a] as number] ?? NONE, rank[column[b] as number] ?? NONE];
    if (left === NONE || right === NONE) return right - left;
    return (left - right) * turn;
  };
}

/** Values of one kind by their size, kinds by their names; what has no number comes last. */
function byValue({ kind, si }: Table, rank: Int32Array): RowCompare {
  return (a, b, turn) => {
    const [left, right] = [kind[a] as number, kind[b] as number];
    if (left !== right) {
      if (left < 0 || right < 0) return right - left;
      return (rank[left] as number) - (rank[right] as number);
    }
    return left < 0 ? 0 : ((si[a] as number) - (si[b] as number)) * turn;
  };
}

/** The worst first: what fails or contradicts, what is undecided, what is in order, what says nothing. */
function stateRank(table: Table, row: number): number {
  const outcome = OUTCOMES[table.outcome[row] as number];
  const limit = LIMITS[table.limit[row] as number];
  const standing = STANDINGS[table.standing[row] as number];
  const isStatement = SORTS[table.sort[row] as number] === 'statement';
  if (outcome === 'fail' || limit === 'outside' || (isStatement && standing === 'contradicted')) return 0;
  if (outcome === 'undecided' || limit === 'undecided') return 1;
  if (isStatement && standing !== undefined) return 1 + STANDINGS.indexOf(standing);
  if (table.state[row] !== NONE) return 7;
  return outcome === 'pass' || limit === 'inside' ? 8 : 9;
}

const collator = new Intl.Collator('en', { sensitivity: 'base', numeric: true });
const ranked = new WeakMap<readonly string[], { readonly size: number; readonly ranks: Int32Array }>();

/** The place of each text in the order of the alphabet. Worked out once for a list that has not grown. */
function* ranks(texts: readonly string[]): Steps<Int32Array> {
  const known = ranked.get(texts);
  if (known?.size === texts.length) return known.ranks;
  const order = yield* sorted(texts.length, (a, b) =>
    collator.compare(texts[a] as string, texts[b] as string),
  );
  const made = new Int32Array(texts.length);
  for (const [rank, at] of order.entries()) made[at] = rank;
  ranked.set(texts, { size: texts.length, ranks: made });
  return made;
}

/** Texts that are compared in one step, which costs much more than to compare numbers. */
const SORT_STEP = 1024;

/** The places from 0 to a length in their order: stretches that are sorted by themselves, and then merged. */
function* sorted(length: number, compare: Compare): Steps<Uint32Array> {
  let from = Uint32Array.from({ length }, (_, at) => at);
  for (let at = 0; at < length; at += SORT_STEP) {
    from.subarray(at, at + SORT_STEP).sort(compare);
    yield;
  }
  let to = new Uint32Array(length);
  for (let width = SORT_STEP; width < length; width *= 2) {
    for (let at = 0; at < length; at += 2 * width)
      yield* merge(from, to, at, Math.min(at + width, length), Math.min(at + 2 * width, length), compare);
    [from, to] = [to, from];
  }
  return from;
}

/** Merges two neighbouring stretches that are in order; of equals, those of the first come first. */
function* merge(
  from: Uint32Array,
  to: Uint32Array,
  start: number,
  middle: number,
  end: number,
  compare: Compare,
): Steps<void> {
  let [left, right] = [start, middle];
  for (let at = start; at < end; at++) {
    const isLeft =
      right >= end || (left < middle && compare(from[left] as number, from[right] as number) <= 0);
    to[at] = from[isLeft ? left++ : right++] as number;
    if ((at - start) % SORT_STEP === SORT_STEP - 1) yield;
  }
}

/**
 * Moves what belongs before a place before it, and the rest behind it (Hoare's selection, median of three).
 * On average linear in the length; each pass is a step.
 */
function* select(places: Uint32Array, at: number, compare: Compare): Steps<void> {
  let [low, high] = [0, places.length - 1];
  while (low < high && at > low && at <= high) {
    const middle = pivot(places, low, high, compare);
    let [left, right] = [low, high];
    while (left <= right) {
      while (compare(places[left] as number, middle) < 0) left++;
      while (compare(places[right] as number, middle) > 0) right--;
      if (left <= right) {
        [places[left], places[right]] = [places[right] as number, places[left] as number];
        left++;
        right--;
      }
    }
    if (at <= right) high = right;
    else if (at >= left) low = left;
    else return;
    yield;
  }
}

function pivot(places: Uint32Array, low: number, high: number, compare: Compare): number {
  const three = [places[low] as number, places[(low + high) >> 1] as number, places[high] as number];
  return three.sort(compare)[1] as number;
}
