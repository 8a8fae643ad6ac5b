import type { Point, Reading } from '../check/model.js';
import type { SpecState, TestState, Timeline } from './model.js';

/**
 * What was reckoned of nearly the same book before. Where a book is looked at again and again while it is written in,
 * most of it is as it was: the very same objects, out of the memory of the checker. A result is handed out again only
 * where it was made of these, so that a reckoning with a memory is the same as one without.
 */
export interface ReckonMemory {
  readonly points: Kept<readonly Point[]>;
  readonly readings: Kept<readonly Reading[]>;
  readonly specs: Kept<SpecState>;
  readonly timelines: Kept<Timeline>;
  readonly tests: Kept<TestState>;
}

/** Results by name, each with what it was made of. */
type Kept<T> = Map<string, { readonly of: Origins; readonly result: T }>;

type Origins = readonly (string | object)[];

/** A memory in which there is nothing yet. */
export function emptyReckonMemory(): ReckonMemory {
  return {
    points: new Map(),
    readings: new Map(),
    specs: new Map(),
    timelines: new Map(),
    tests: new Map(),
  };
}

/**
 * A result, made anew unless it was made of the very same before.
 *
 * @param kept where it is kept; without, it is made.
 * @param of all that it is made of: texts, things, or lists of things.
 */
export function recalled<T>(kept: Kept<T> | undefined, name: string, of: Origins, make: () => T): T {
  if (kept === undefined) return make();
  const known = kept.get(name);
  if (known?.of.every((one, at) => isSame(one, of[at]))) return known.result;
  const result = make();
  kept.set(name, { of, result });
  return result;
}

function isSame(a: Origins[number], b: Origins[number] | undefined): boolean {
  if (a === b) return true;
  return (
    Array.isArray(a) &&
    Array.isArray(b) &&
    a.length === b.length &&
    a.every((one: unknown, at) => one === b[at])
  );
}
