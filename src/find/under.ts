import { brief } from './cited.js';
import type { FindHead } from './data.js';
import { NONE } from './data.js';
import { type Limit, unknown } from './limits.js';
import { listed } from './nearest.js';
import type { QueryProblem } from './query.js';
import { about, between, type Due, isIn, oneSided, type RangeResult } from './range.js';
import type { Table, TableCondition } from './table.js';
import { fold, wordsOf } from './words.js';

/** Limits on the conditions that something was measured under: `ambient`, `ambient below 15 °C`, `engine cold`. */

type Test = (condition: TableCondition) => boolean;

/** Reads a limit on conditions. */
export function underLimit(text: string, head: FindHead): Limit | QueryProblem {
  const names = head.conditions.map((name) => name.replaceAll('-', ' '));
  const plain = fold(text).replaceAll('-', ' ');
  const name = names
    .filter((one) => plain === fold(one) || plain.startsWith(`${fold(one)} `))
    .sort((a, b) => b.length - a.length)[0];
  if (name === undefined) {
    const there = names.length === 0 ? 'No reading here tells any.' : `There are ${listed(names)}.`;
    return unknown('under', 'condition', text, names, there);
  }
  const test = readTest(text.slice(name.length).trim(), { kinds: head.kinds, only: null });
  if (typeof test !== 'function') return { field: 'under', message: test.message, hint: test.hint };
  return limitOf(text, (condition) => condition.name === name && test(condition));
}

/** Evaluates each set of conditions once. */
function limitOf(text: string, test: Test): Limit {
  return {
    field: 'under',
    words: `under ${brief(text)}`,
    range: null,
    test: (table: Table) => {
      const fits = table.conditions.map((set) => set.some(test));
      return (row) => table.under[row] !== NONE && fits[table.under[row] as number] === true;
    },
  };
}

const COMPARE =
  /^(below|under|less than|<=|<|≤|at most|above|over|more than|>=|>|≥|at least|between|=|is)\s*(.*)$/i;

const SIDE = {
  below: 'below',
  under: 'below',
  'less than': 'below',
  '<': 'below',
  '<=': 'at-most',
  '≤': 'at-most',
  'at most': 'at-most',
  above: 'above',
  over: 'above',
  'more than': 'above',
  '>': 'above',
  '>=': 'at-least',
  '≥': 'at-least',
  'at least': 'at-least',
} as const;

function readTest(rest: string, due: Due): Test | Extract<RangeResult, { ok: false }> {
  if (rest === '') return () => true;
  const match = COMPARE.exec(rest);
  const sign = match?.[1]?.toLowerCase() ?? '';
  const value = match?.[2] ?? rest;
  const result =
    sign === 'between'
      ? between(value, due)
      : sign in SIDE
        ? oneSided(SIDE[sign as keyof typeof SIDE], value, due)
        : about(value, due);
  if (result.ok) {
    const { range } = result;
    return ({ kind, si }) => kind !== NONE && isIn(range, kind, si);
  }
  // What is no number may be a text: `engine cold`.
  if (sign in SIDE || sign === 'between') return result;
  const words = wordsOf(value);
  return (condition) => {
    const there = new Set(wordsOf(condition.words));
    return words.every((word) => there.has(word));
  };
}
