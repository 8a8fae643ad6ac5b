import type { Code } from './codes.js';
import type { Place } from './model.js';

/**
 * A problem as the checks find it: said in words, and tied to a path of keys rather than to a line. Lines
 * are worked out once, at the end, and only for files that have a problem (`placing.ts`).
 */

/** What is said of a problem: which it is, what is wrong, how to mend it. */
export interface Said {
  readonly code: Code;
  readonly message: string;
  readonly hint: string | null;
}

/** Where to point: at the value of a path, at its key, or at a stretch inside the value's text. */
export interface Pointing {
  readonly part?: 'key' | 'value';
  /** Offset and length inside the value as written, where only a piece of it is wrong. */
  readonly slice?: { readonly offset: number; readonly length: number };
  /** What to put in place of what is pointed at, or of what stands `at` another path, where that mends it safely. */
  readonly mend?: {
    readonly title: string;
    readonly text: string;
    readonly at?: { readonly path: Place['path']; readonly part: 'key' | 'value' };
  };
  /** The path that the file should have, where giving it that one mends it safely. */
  readonly rename?: string;
}

export interface Problem extends Said, Pointing {
  readonly at: Place;
}

/** A problem whose place in the text is known from the start, such as a slip of YAML. */
export interface PlacedProblem extends Said {
  readonly file: string;
  readonly offset: number;
  readonly length: number;
}

/** Takes what is said about a path of one file. */
export type Report = (said: Said, path: Place['path'], pointing?: Pointing) => void;

/** A list of problems, and a way to add to it that knows its file. */
export function collector(file: string): { readonly problems: Problem[]; readonly report: Report } {
  const problems: Problem[] = [];
  return {
    problems,
    report: (said, path, pointing = {}) => {
      problems.push({ ...said, ...pointing, at: { file, path } });
    },
  };
}

/** Stands for "what is there, in quotes": digits that YAML would drop have to be taken from the text itself. */
export const QUOTED = '\u0000quoted';

/** Stands for the key that is there, made into the beginning of the long form of a reading. */
export const LONG_FORM = '\u0000long form';
