/**
 * Work that is done step by step, so that a page can answer to a key between two steps however much there is
 * to look through. It yields where it may be left off, `frame` where what it did should be seen first,
 * `pause` where the rest is of use only if no further key is struck, and returns what came of it.
 */
export type Steps<Result> = Generator<'frame' | 'pause' | undefined, Result>;

/** Rows that are looked at in one step: a millisecond or so of work. */
export const STEP = 8192;

/** Does all of the work without a stop. */
export function atOnce<Result>(steps: Steps<Result>): Result {
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}

/** Stretches of a length that take one step each: what to do from and up to a place. */
export function* stretches(length: number, work: (from: number, to: number) => void): Steps<void> {
  for (let from = 0; from < length; from += STEP) {
    work(from, Math.min(from + STEP, length));
    yield;
  }
}
