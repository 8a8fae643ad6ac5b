/** Orders that do not hang on the language of a machine: by the letters' numbers. */

/** A file with its SHA-256. */
export interface HashedFile {
  readonly path: string;
  readonly sha256: string;
}

/** An entry with its date. */
export interface HashedEntry extends HashedFile {
  readonly date: string;
}

export function compareTexts(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** The order of files. */
export function byPath(a: { readonly path: string }, b: { readonly path: string }): number {
  return compareTexts(a.path, b.path);
}

/** The order of entries: by date; on the same day by path. */
export function byDate(a: Omit<HashedEntry, 'sha256'>, b: Omit<HashedEntry, 'sha256'>): number {
  return compareTexts(a.date, b.date) || byPath(a, b);
}

/** Whether rows stand in an order, no two of them alike. */
export function isInOrder<Row>(rows: readonly Row[], order: (a: Row, b: Row) => number): boolean {
  return rows.every((row, at) => {
    const before = rows[at - 1];
    return before === undefined || order(before, row) < 0;
  });
}
