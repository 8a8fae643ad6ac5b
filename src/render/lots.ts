/**
 * Work dealt out in lots between this thread and another: a mark in memory that both share says who has taken a lot, and
 * the one that comes later leaves it to the other.
 */
export interface Lots {
  /**
   * Resolves when these lots are there, or are for this thread to do: those that nobody has begun are taken by it. A lot may
   * be asked for as often as one likes, also while it is being waited for.
   */
  readonly ready: (lots: Iterable<number>) => Promise<void>;
  /** The other thread has done a lot. */
  readonly done: (lot: number) => void;
  /** The other thread does nothing any more: what it has not done is for this thread. */
  readonly ended: () => void;
}

/** @param taken one number a lot, shared with the other thread: 0 nobody's, 1 taken. */
export function lotsOf(taken: Int32Array): Lots {
  // Done by the other thread, or taken by this one: for those nobody has to wait.
  const settled = new Set<number>();
  const waiting = new Map<number, (() => void)[]>();
  let hasEnded = false;
  const settle = (lot: number) => {
    settled.add(lot);
    for (const resolve of waiting.get(lot) ?? []) resolve();
    waiting.delete(lot);
  };
  const one = (lot: number): Promise<void> | undefined => {
    if (settled.has(lot) || hasEnded) return undefined;
    if (Atomics.exchange(taken, lot, 1) === 0) {
      settled.add(lot);
      return undefined;
    }
    return new Promise((resolve) => waiting.set(lot, [...(waiting.get(lot) ?? []), resolve]));
  };
  return {
    ready: async (lots) => {
      for (const lot of lots) await one(lot);
    },
    done: settle,
    ended: () => {
      hasEnded = true;
      for (const lot of [...waiting.keys()]) settle(lot);
    },
  };
}
