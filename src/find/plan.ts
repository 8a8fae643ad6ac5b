import { ALL_KINDS, aKind, type Kind, kindInfo } from '../quantity/index.js';
import { brief, cited } from './cited.js';
import { type FindHead, NONE } from './data.js';
import { spanOf } from './dates.js';
import {
  daysLimit,
  type Limit,
  type PlanWord,
  rangeLimit,
  systemAt,
  systemPlace,
  unknown,
} from './limits.js';
import { listed } from './nearest.js';
import { readPlainWords } from './plain-words.js';
import { LONGEST, type Query, type QueryField, type QueryProblem } from './query.js';
import { between, type Due, kindNamed, kindsThere, oneSided } from './range.js';
import { underLimit } from './under.js';
import { OUTCOMES, PLURALS, SORTS, STANDINGS } from './vocabulary.js';
import { fold } from './words.js';

/** A query that was understood as far as its problems do not say otherwise. */
export interface Plan {
  readonly words: readonly PlanWord[];
  readonly limits: readonly Limit[];
  readonly problems: readonly QueryProblem[];
  /** Whether it asks for anything at all. */
  readonly isEmpty: boolean;
}

/** Reads a query against what the book has. Nothing throws: what is wrong becomes a problem. */
export function planOf(query: Query, head: FindHead): Plan {
  const problems: QueryProblem[] = tooLong(query);
  if (problems.length > 0) return { words: [], limits: [], problems, isEmpty: false };
  const limits: Limit[] = [];
  const due = dueKind(query, head, problems, limits);
  const plain = readPlainWords(query.words, head, due);
  problems.push(...plain.problems);
  limits.push(...plain.limits);
  const add = (field: QueryField, make: (text: string) => Limit | QueryProblem) => {
    const text = query[field].trim();
    if (text === '') return;
    const made = make(text);
    if ('message' in made) problems.push(made);
    else limits.push(made);
  };
  add('sort', sortLimit);
  add('system', (text) => systemLimit(text, head));
  add('point', (text) => pointLimit(text, head));
  add('below', (text) => rangeLimit('below', oneSided('below', text, due)));
  add('above', (text) => rangeLimit('above', oneSided('above', text, due)));
  add('between', (text) => rangeLimit('between', between(text, due)));
  add('since', (text) => dayLimit('since', text));
  add('until', (text) => dayLimit('until', text));
  add('under', (text) => underLimit(text, head));
  add('standing', (text) => namedLimit('standing', text, STANDINGS, {}));
  add('outcome', (text) => namedLimit('outcome', text, OUTCOMES, { passed: 'pass', failed: 'fail' }));
  add('entry', entryLimit);
  const isEmpty = plain.words.length === 0 && limits.length === 0 && problems.length === 0;
  return { words: plain.words, limits, problems, isEmpty };
}

function tooLong(query: Query): QueryProblem[] {
  const fields = Object.keys(query) as QueryField[];
  return fields
    .filter((field) => query[field].length > LONGEST)
    .map((field) => ({
      field,
      message: `${cited(query[field])} has more than ${LONGEST} letters.`,
      hint: 'Look for a few of its words.',
    }));
}

/** The kind that is asked for decides how numbers in the query are read. */
function dueKind(query: Query, head: FindHead, problems: QueryProblem[], limits: Limit[]): Due {
  const text = query.quantity.trim();
  if (text === '') return { kinds: head.kinds, only: null };
  const kind = kindNamed(text);
  if (kind === null) {
    const titles = head.kinds.map((one) => kindInfo(one).title);
    problems.push(
      unknown(
        'quantity',
        'kind of quantity',
        text,
        [...head.kinds, ...titles, ...ALL_KINDS],
        kindsThere(head.kinds),
      ),
    );
    return { kinds: head.kinds, only: null };
  }
  const only = head.kinds.indexOf(kind);
  if (only < 0) problems.push(noneOfKind(kind, head.kinds));
  limits.push({
    field: 'quantity',
    words: kindInfo(kind).title,
    range: null,
    test: (table) => (row) => table.kind[row] === only && only >= 0,
  });
  return { kinds: head.kinds, only: only < 0 ? null : only };
}

function noneOfKind(kind: Kind, kinds: readonly Kind[]): QueryProblem {
  return {
    field: 'quantity',
    message: `Nothing in this book is ${aKind(kind)}.`,
    hint: kindsThere(kinds),
    isAbsent: true,
  };
}

function sortLimit(text: string): Limit | QueryProblem {
  const plain = fold(text);
  const at = SORTS.findIndex((sort) => plain === sort || plain === PLURALS[sort]);
  const names = SORTS.map((sort) => PLURALS[sort]);
  if (at < 0) return unknown('sort', 'sort of record', text, names, `There are ${listed(names)}.`);
  return {
    field: 'sort',
    words: names[at] as string,
    range: null,
    test: (table) => (row) => table.sort[row] === at,
  };
}

function systemLimit(text: string, head: FindHead): Limit | QueryProblem {
  const at = systemPlace(text, head);
  if (at === NONE) {
    const names = head.systems.flatMap(({ id, title }) => [id, title]);
    const ids = head.systems.map(({ id }) => id);
    return unknown('system', 'system', text, names, ids.length > 30 ? null : `There are ${listed(ids)}.`);
  }
  return systemAt(at, head);
}

function pointLimit(text: string, head: FindHead): Limit | QueryProblem {
  const plain = fold(text);
  const places = new Set(
    head.points.flatMap(({ ref, title }, at) => {
      const names = [ref, ref.slice(ref.indexOf('.') + 1), title];
      return names.some((name) => fold(name) === plain) ? [at] : [];
    }),
  );
  if (places.size === 0) {
    const names = head.points.flatMap(({ ref, title }) => [ref, ref.slice(ref.indexOf('.') + 1), title]);
    return unknown('point', 'point', text, names, null);
  }
  return {
    field: 'point',
    words: brief(text),
    range: null,
    test: (table) => (row) => places.has(table.point[row] as number),
  };
}

function dayLimit(field: 'since' | 'until', text: string): Limit | QueryProblem {
  const span = spanOf(text);
  if (span === null) {
    const hint = 'Write a year, a month or a day: `2025`, `2025-06` or `2025-06-14`.';
    return { field, message: `${cited(text)} is no date.`, hint };
  }
  const [first, last] = field === 'since' ? [span.first, Infinity] : [-Infinity, span.last];
  return daysLimit(field, first, last, `${field} ${brief(text)}`);
}

function namedLimit(
  field: 'standing' | 'outcome',
  text: string,
  names: readonly string[],
  others: Readonly<Record<string, string>>,
): Limit | QueryProblem {
  const plain = fold(text);
  const at = names.indexOf(others[plain] ?? plain);
  if (at < 0) return unknown(field, field, text, names, `There are ${listed(names)}.`);
  return {
    field,
    words: `${field} ${names[at]}`,
    range: null,
    test: (table) => (row) => table[field][row] === at,
  };
}

function entryLimit(text: string): Limit {
  const plain = text.replace(/^.*\//, '').replace(/\.md$/, '');
  return {
    field: 'entry',
    words: `in entry ${brief(plain)}`,
    range: null,
    test: (table) => {
      const fits = table.entries.map(([id]) => id.startsWith(plain));
      return (row) => fits[table.entry[row] as number] === true;
    },
  };
}
