/** Rows that are not taken, counted by reason; the first of them are kept to be shown. */

/** Why a row is not taken. Those of `BY_RULE` are what the map or the point asks for; the others want looking at. */
export type Reason =
  | 'no-row'
  | 'no-cell'
  | 'no-time'
  | 'no-number'
  | 'no-unit'
  | 'wrong-unit'
  | 'late'
  | 'implausible'
  | 'outside'
  | 'stuck'
  | 'conflict';

export const BY_RULE: readonly Reason[] = ['outside', 'stuck'];

export interface Refusal {
  /** Line of the table, from 1. */
  readonly row: number;
  /** Heading of the column; null for the row as a whole. */
  readonly column: string | null;
  readonly written: string;
  readonly reason: Reason;
  /** The rest of a sentence: `is no number`. */
  readonly words: string;
}

const MOST_KEPT = 20;

export interface Refusals {
  readonly add: (refusal: Refusal) => void;
  readonly shown: () => readonly Refusal[];
  readonly counts: () => ReadonlyMap<Reason, number>;
}

/** Remembers the first rows of each reason, and how many there are. */
export function refusals(): Refusals {
  const kept = new Map<Reason, Refusal[]>();
  const counts = new Map<Reason, number>();
  return {
    add: (refusal) => {
      counts.set(refusal.reason, (counts.get(refusal.reason) ?? 0) + 1);
      const same = kept.get(refusal.reason) ?? [];
      kept.set(refusal.reason, same);
      if (same.length < MOST_KEPT) same.push(refusal);
    },
    shown: () => [...kept.values()].flat().sort((a, b) => a.row - b.row),
    counts: () => counts,
  };
}
