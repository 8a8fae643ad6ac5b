import type { Code } from './codes.js';

/**
 * A problem found in a book, as a plain record: what, where, and how to mend it. Offsets are in UTF-16 units
 * of the file's text; lines and columns count from 1.
 */

export type Severity = 'error' | 'warning';

/** A replacement of a stretch of a file's text, and nothing else. */
export interface Edit {
  readonly file: string;
  readonly offset: number;
  readonly length: number;
  readonly text: string;
}

/** A new name for a file; both are paths from the book's folder. */
export interface Rename {
  readonly from: string;
  readonly to: string;
}

/** A mend that is safe to make without asking: edits of text, or a new name for the file. */
export interface Fix {
  readonly title: string;
  readonly edits: readonly Edit[];
  readonly rename?: Rename;
}

export interface Span {
  readonly offset: number;
  readonly length: number;
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
}

export interface Diagnostic {
  readonly code: Code;
  readonly severity: Severity;
  readonly file: string;
  readonly span: Span;
  /** The line in which the span begins, as written. */
  readonly excerpt: string;
  /** One sentence: what is wrong. */
  readonly message: string;
  /** One sentence: how to mend it, or null. */
  readonly hint: string | null;
  readonly fix: Fix | null;
}
