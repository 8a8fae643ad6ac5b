/** Numbers that look random and are the same on every run: mulberry32 (from memory). */
export type Random = () => number;

/** @returns numbers from 0 up to, not including, 1. */
export function randomFrom(seed: number): Random {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** A whole number from 0 up to, not including, `below`. */
export function upTo(random: Random, below: number): number {
  return Math.floor(random() * below);
}

export function pick<T>(random: Random, from: readonly T[]): T {
  return from[upTo(random, from.length)] as T;
}
