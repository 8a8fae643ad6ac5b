import type { DisplayPreference, Kind } from '../quantity/index.js';

/**
 * How records are handed to a search: names once, records in columns of numbers that point at them. It comes
 * in parts, newest first. A part says all by itself: what changes in the book changes the parts that tell of
 * it, and no others. All of it is JSON.
 */

/** A system, by its place in the list. */
export interface SystemName {
  readonly id: string;
  readonly title: string;
}

/** A point, with what a drawing of it needs. Limits are in SI. */
export interface PointName {
  readonly ref: string;
  readonly title: string;
  /** Where and at what it is measured. */
  readonly where: string | null;
  readonly kind: Kind;
  readonly unit: string;
  readonly atLeast: number | null;
  readonly atMost: number | null;
}

/** What is known of a part before it comes. */
export interface PartAbout {
  readonly name: string;
  readonly records: number;
  /** Units that its records have, each with its kind; its columns name them by their places here. */
  readonly units: readonly (readonly [kind: Kind, unit: string])[];
  /** Names of conditions that its records were taken under. */
  readonly conditions: readonly string[];
}

/** Everything that a query can name, as it is handed over before the first record. */
export interface SentHead {
  readonly systems: readonly SystemName[];
  readonly points: readonly PointName[];
  readonly display: DisplayPreference;
  readonly parts: readonly PartAbout[];
}

/** The same with the lists of all parts made one. */
export interface FindHead extends SentHead {
  /** Number of records in all parts. */
  readonly records: number;
  /** Kinds of quantity that records have. */
  readonly kinds: readonly Kind[];
  /** Units that records have, each with its place in the list of kinds. */
  readonly units: readonly (readonly [kind: number, unit: string])[];
  /** Names of conditions that records were taken under. */
  readonly conditions: readonly string[];
}

/** Reads what was handed over. */
export function readHead(sent: SentHead): FindHead {
  const kinds = new Map<Kind, number>();
  const units = new Map<string, readonly [number, string]>();
  for (const { units: own } of sent.parts)
    for (const [kind, unit] of own) {
      if (!kinds.has(kind)) kinds.set(kind, kinds.size);
      units.set(`${kind} ${unit}`, [kinds.get(kind) as number, unit]);
    }
  return {
    ...sent,
    records: sent.parts.reduce((sum, part) => sum + part.records, 0),
    kinds: [...kinds.keys()],
    units: [...units.values()],
    conditions: [...new Set(sent.parts.flatMap(({ conditions }) => conditions))],
  };
}

/** One condition: its name, and its unit's place in the part's list of units with the value, or a text. */
export type ConditionData = readonly [name: string, unit: number, value: string];

/**
 * A stretch of records. Every column has one value a record; NONE (in `note`, `says` and other texts too) is
 * none. Days and entries are differences from the record before.
 */
export interface FindPart {
  readonly name: string;
  readonly texts: readonly string[];
  /** Entries, each with the place of its title among the texts. */
  readonly entries: readonly (readonly [id: string, title: number])[];
  /** Sets of conditions. */
  readonly under: readonly (readonly ConditionData[])[];
  readonly columns: Readonly<Record<ColumnName, readonly number[]>>;
  /**
   * Values as written, one a line: a plain number belongs to the unit of the record, everything else is
   * written whole.
   */
  readonly values: string;
}

export const COLUMNS = [
  'sort',
  'day',
  'entry',
  'anchor',
  'system',
  'point',
  'ref',
  'title',
  'unit',
  'spread',
  'under',
  'says',
  'how',
  'note',
  'state',
  'standing',
  'outcome',
  'limit',
  'apart',
] as const;
export type ColumnName = (typeof COLUMNS)[number];

/** Columns that hold the difference from the record before. */
export const DIFFERENCES: ReadonlySet<ColumnName> = new Set(['day', 'entry']);

/** A day that is not known. */
export const NO_DAY = -1_000_000;

/** The place of a name where there is none. */
export const NONE = -1;

/** Stands for what the record's point says already: its system, title, ref and unit. */
export const AS_POINT = -2;

/** The texts that come before those of all parts: the title and the ref of each point. */
export function firstTexts(points: readonly PointName[]): string[] {
  return points.flatMap(({ title, ref }) => [title, ref]);
}

/** Days since 1 January 1970. @param date `YYYY-MM-DD`. */
export function dayNumber(date: string): number {
  return Math.round(
    Date.UTC(Number(date.slice(0, 4)), Number(date.slice(5, 7)) - 1, Number(date.slice(8, 10))) / 86_400_000,
  );
}

/** The inverse of `dayNumber`. */
export function dateOf(day: number): string {
  return new Date(day * 86_400_000).toISOString().slice(0, 10);
}
