import type { Reckoning } from '../../src/reckon/model.js';

/**
 * All data of a reckoning as plain values that can be compared: maps become lists, functions are left out, and
 * what can be looked up by a function is looked up for every name.
 */
export function dataOf(reckoning: Reckoning): unknown {
  const refs = [...reckoning.book.systems.values()].flatMap((system) =>
    [system.points, system.specs, system.derived].flatMap((of) =>
      [...of.keys()].map((name) => `${system.id}.${name}`),
    ),
  );
  return plain({
    ...reckoning,
    values: refs.map((ref) => [ref, reckoning.values.of(ref) ?? null]),
    affected: refs.map((ref) => [ref, reckoning.affected([ref])]),
  });
}

function plain(value: unknown): unknown {
  return JSON.parse(
    JSON.stringify(value, (_key, inner: unknown) =>
      inner instanceof Map
        ? [...(inner as Map<unknown, unknown>)]
        : inner instanceof Set
          ? [...(inner as Set<unknown>)]
          : inner,
    ),
  ) as unknown;
}

/** Freezes a value and all in it; maps refuse to be changed. */
export function deepFrozen<T>(value: T, seen = new Set<unknown>()): T {
  // Rows of numbers of a logger cannot be frozen.
  if (typeof value !== 'object' || value === null || seen.has(value) || ArrayBuffer.isView(value))
    return value;
  seen.add(value);
  if (value instanceof Map) {
    for (const [key, inner] of value as Map<unknown, unknown>) {
      deepFrozen(key, seen);
      deepFrozen(inner, seen);
    }
    const refuse = () => {
      throw new TypeError('this map is frozen');
    };
    Object.assign(value, { set: refuse, delete: refuse, clear: refuse });
  }
  for (const inner of Object.values(value)) deepFrozen(inner, seen);
  return Object.freeze(value);
}
