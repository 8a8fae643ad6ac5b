import { createHash } from 'node:crypto';
import { statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Cache } from './cache.js';

/**
 * What was published where, with the key that each file was made from. It is kept in the book's cache, not in
 * the site. A file counts as there only while its size and time are those it was published with.
 */
export interface Manifest {
  /** Whether the file there was made from this key and has not been touched since. */
  readonly has: (path: string, key: string) => boolean;
  /** Paths of the files that were published and are still as they were. */
  readonly paths: readonly string[];
}

type Row = readonly [key: string, size: number, time: number];
type Rows = Readonly<Record<string, Row>>;

/** @param out the site's folder, absolute or from the working folder. */
export function loadManifest(cache: Cache, out: string): Manifest {
  const rows = new Map(
    Object.entries(cache.load<Rows>(nameOf(out)) ?? {}).filter(([path, row]) =>
      isUntouched(join(out, path), row),
    ),
  );
  return { has: (path, key) => rows.get(path)?.[0] === key, paths: [...rows.keys()] };
}

/** Remembers what has just been published. */
export function saveManifest(cache: Cache, out: string, keys: ReadonlyMap<string, string>): void {
  const rows: Record<string, Row> = {};
  for (const [path, key] of keys) {
    const stat = statOf(join(out, path));
    if (stat !== null) rows[path] = [key, stat.size, stat.mtimeMs];
  }
  cache.save(nameOf(out), rows);
}

function nameOf(out: string): string {
  return `site-${createHash('sha256').update(resolve(out)).digest('hex').slice(0, 16)}.json`;
}

function isUntouched(path: string, [, size, time]: Row): boolean {
  const stat = statOf(path);
  return stat !== null && stat.size === size && stat.mtimeMs === time;
}

function statOf(path: string): { readonly size: number; readonly mtimeMs: number } | null {
  return statSync(path, { throwIfNoEntry: false }) ?? null;
}
