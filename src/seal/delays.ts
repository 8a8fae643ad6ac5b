import type { FirstCommits } from './written-down.js';

/** How long after their dates entries were written down. */
export interface Delays {
  /** Entries that are in version control. */
  readonly known: number;
  /** Entries that are not. */
  readonly unknown: readonly string[];
  /** Half of the known ones were there within so many days; null where none is known. */
  readonly medianDays: number | null;
  readonly worstDays: number | null;
  /** Those that took longer than asked, the longest first. */
  readonly late: readonly { readonly path: string; readonly days: number }[];
  /** Those that were committed before the day they tell of. */
  readonly early: readonly { readonly path: string; readonly days: number }[];
  readonly isCutShort: boolean;
}

/**
 * Days from the date of each entry to its first commit.
 *
 * @param allowed days that count as in good time.
 */
export function delaysOf(
  entries: readonly { readonly path: string; readonly date: string }[],
  { days: committed, isCutShort }: FirstCommits,
  allowed: number,
): Delays {
  const known = entries.flatMap(({ path, date }) => {
    const day = committed.get(path);
    return day === undefined ? [] : [{ path, days: daysBetween(date, day) }];
  });
  const sorted = known.map(({ days }) => days).sort((a, b) => a - b);
  return {
    known: known.length,
    unknown: entries.filter(({ path }) => !committed.has(path)).map(({ path }) => path),
    // The upper of the two in the middle: never less than what half of them needed.
    medianDays: sorted[Math.floor(sorted.length / 2)] ?? null,
    worstDays: sorted.at(-1) ?? null,
    late: known.filter(({ days }) => days > allowed).sort((a, b) => b.days - a.days),
    early: known.filter(({ days }) => days < 0),
    isCutShort,
  };
}

function daysBetween(from: string, to: string): number {
  return Math.round((Date.parse(`${to}T00:00Z`) - Date.parse(`${from}T00:00Z`)) / 86_400_000);
}
