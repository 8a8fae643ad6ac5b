import { cited } from './cited.js';
import { type FindHead, NO_DAY } from './data.js';
import { lastMonth, monthOf } from './dates.js';
import { nearestName } from './nearest.js';
import type { QueryField, QueryProblem } from './query.js';
import { isIn, type Range, type RangeResult } from './range.js';
import type { Table } from './table.js';
import { fold } from './words.js';

/** A word that is looked for, or a value that stands among the words. */
export interface PlanWord {
  readonly written: string;
  /** Folded words that have to be in the texts, all of them. */
  readonly parts: readonly string[];
  /** The number that it is, which a value as written may be too. */
  readonly number: number | null;
  readonly range: Range | null;
}

/** Something that has to hold of a record. */
export interface Limit {
  readonly field: QueryField;
  /** How somebody would say it: `since 2025`. */
  readonly words: string;
  readonly range: Range | null;
  /** Whether it is about days. */
  readonly isDays?: boolean;
  /** Made ready for a table as far as it has come. */
  readonly test: (table: Table) => (row: number) => boolean;
}

/** A name that there is not, with the one that is meant or all that there are. */
export function unknown(
  field: QueryField,
  what: string,
  text: string,
  names: readonly string[],
  otherwise: string | null,
): QueryProblem {
  const near = nearestName(text, names);
  const hints = [near === null ? null : `Did you mean \`${near}\`?`, otherwise].filter(
    (hint) => hint !== null,
  );
  return {
    field,
    message: `There is no ${what} ${cited(text)}.`,
    hint: hints.length === 0 ? null : hints.join(' '),
  };
}

/** The limit to one system, by its place. */
export function systemAt(at: number, head: FindHead): Limit {
  const words = `in ${head.systems[at]?.title ?? ''}`;
  return { field: 'system', words, range: null, test: (table) => (row) => table.system[row] === at };
}

/** The place of a system by its id or its title; -1 where there is none such. */
export function systemPlace(text: string, head: FindHead): number {
  const plain = fold(text.trim());
  return head.systems.findIndex(({ id, title }) => fold(id) === plain || fold(title) === plain);
}

/** The limit to a range of numbers, or what is wrong with it. */
export function rangeLimit(field: QueryField, result: RangeResult): Limit | QueryProblem {
  if (!result.ok) {
    const { message, hint, isAbsent = false } = result;
    return { field, message, hint, isAbsent };
  }
  const { range } = result;
  return {
    field,
    words: range.words,
    range,
    test:
      ({ kind, si }) =>
      (row) => {
        const place = kind[row] as number;
        return place >= 0 && isIn(range, place, si[row] as number);
      },
  };
}

/** What a word such as `since` makes of the first and last day of the days behind it. */
export type Lead = (first: number, last: number) => readonly [number, number];

/**
 * The limit to a month of no year: that of every year, or from or to its last one, counted back from the newest
 * record, since a search knows no today.
 */
export function monthLimit(field: QueryField, month: number, lead: Lead | null, words: string): Limit {
  const isWithin = lead === null || lead(1, 2).every((day, at) => day === at + 1);
  return {
    field,
    words,
    range: null,
    isDays: true,
    test: ({ day, rows }) => {
      if (isWithin) return (row) => day[row] !== NO_DAY && monthOf(day[row] as number) === month;
      const newest = day.subarray(0, rows).reduce((last, on) => Math.max(last, on), NO_DAY);
      if (newest === NO_DAY) return () => false;
      const span = lastMonth(month, newest);
      const [first, last] = lead(span.first, span.last);
      return (row) => day[row] !== NO_DAY && (day[row] as number) >= first && (day[row] as number) <= last;
    },
  };
}

/** The limit to some days. What has no day is outside. */
export function daysLimit(field: QueryField, first: number, last: number, words: string): Limit {
  return {
    field,
    words,
    range: null,
    isDays: true,
    test:
      ({ day }) =>
      (row) => {
        const on = day[row] as number;
        return on !== NO_DAY && on >= first && on <= last;
      },
  };
}
