import type { Role } from '../read/folder.js';
import { elementAt } from './shape.js';

/** What a file says, as data: walked through, changed, and with things taken out. Nothing is changed in place. */

export type Path = readonly (string | number)[];

/** A value that has none below it, or a key. */
export interface Leaf {
  readonly path: Path;
  readonly part: 'key' | 'value';
  readonly value: unknown;
}

/** Every key and every single value, in order. */
export function leavesOf(data: unknown, path: Path = []): readonly Leaf[] {
  if (Array.isArray(data)) return data.flatMap((item, index) => leavesOf(item, [...path, index]));
  if (!isMap(data)) return [{ path, part: 'value', value: data }];
  return Object.entries(data).flatMap(([key, value]) => {
    const at = [...path, key];
    return [{ path: at, part: 'key', value: key } as const, ...leavesOf(value, at)];
  });
}

/** The value at a path; undefined where there is none. */
export function valueAt(data: unknown, path: Path): unknown {
  return path.reduce<unknown>(
    (inner, step) =>
      isMap(inner) || Array.isArray(inner) ? (inner as Record<string | number, unknown>)[step] : undefined,
    data,
  );
}

/** The same data with every key and every single value as `change` gives it back. */
export function changed(data: unknown, change: (leaf: Leaf) => unknown, path: Path = []): unknown {
  if (Array.isArray(data)) return data.map((item, index) => changed(item, change, [...path, index]));
  if (!isMap(data)) return change({ path, part: 'value', value: data });
  return Object.fromEntries(
    Object.entries(data).map(([key, value]) => {
      const at = [...path, key];
      return [String(change({ path: at, part: 'key', value: key })), changed(value, change, at)];
    }),
  );
}

/**
 * The data of a file without what stands at some paths, and without what cannot stand when that is gone: a reading
 * goes with its value, a list with its last item.
 *
 * @returns null where nothing of the file can stand
 */
export function cut(role: Role, data: unknown, paths: readonly Path[]): unknown {
  const gone = new Set(paths.map((path) => nameOf(elementAt(role, path))));
  for (;;) {
    if (gone.has(nameOf([]))) return null;
    const emptied: Path[] = [];
    const left = copyWithout(data, [], gone, emptied);
    if (emptied.length === 0) return left;
    for (const path of emptied) gone.add(nameOf(elementAt(role, path)));
  }
}

function copyWithout(data: unknown, path: Path, gone: ReadonlySet<string>, emptied: Path[]): unknown {
  const stays = (step: string | number) => !gone.has(nameOf([...path, step]));
  const inner = (value: unknown, step: string | number) => copyWithout(value, [...path, step], gone, emptied);
  if (Array.isArray(data)) {
    const left = data.flatMap((item, index) => (stays(index) ? [inner(item, index)] : []));
    if (left.length === 0 && data.length > 0) emptied.push(path);
    return left;
  }
  if (!isMap(data)) return data;
  const left = Object.entries(data).flatMap(([key, value]) =>
    stays(key) ? [[key, inner(value, key)] as const] : [],
  );
  if (left.length === 0 && Object.keys(data).length > 0) emptied.push(path);
  return Object.fromEntries(left);
}

function nameOf(path: Path): string {
  return JSON.stringify(path);
}

export function isMap(data: unknown): data is Readonly<Record<string, unknown>> {
  return typeof data === 'object' && data !== null && !Array.isArray(data);
}
