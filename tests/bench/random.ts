/** Numbers that look random and are the same every time: the bench measures the code, not the luck of a draw. */
export interface Random {
  /** At least 0, less than 1. */
  readonly next: () => number;
  /** A whole number from 0 to below `end`. */
  readonly below: (end: number) => number;
  /** Whether something happens that happens with this probability. */
  readonly chance: (probability: number) => boolean;
  readonly pick: <T>(choices: readonly T[]) => T;
  /** Several different ones of a list, in the list's order of chance. */
  readonly some: <T>(choices: readonly T[], count: number) => T[];
  /** Spread about 0 like a bell, mostly within ±1 (sum of three draws). */
  readonly bell: () => number;
}

/** Mulberry32: small, fast and good enough for making books (from memory). */
export function randomFrom(seed: number): Random {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
  const below = (end: number) => Math.floor(next() * end);
  const pick = <T>(choices: readonly T[]): T => choices[below(choices.length)] as T;
  return {
    next,
    below,
    pick,
    chance: (probability) => next() < probability,
    some: (choices, count) => {
      const left = [...choices];
      return Array.from({ length: Math.min(count, left.length) }, () =>
        left.splice(below(left.length), 1),
      ).flat();
    },
    bell: () => (next() + next() + next()) * (2 / 3) - 1,
  };
}
