import { createHash } from 'node:crypto';
import { statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Cache } from './cache.js';

/**
 * What was published where, with the key that each file was made from. It is kept in the book's cache, not in
 * the site. A file counts as there only while its size and time are those it was published with.
 */
export interface Manifest<Note> {
  /** Whether the file there was made from this key and has not been touched since. */
  readonly has: (path: string, key: string) => boolean;
  /** Paths of the files that were published and are still as they were. */
  readonly paths: readonly string[];
  /** The note left with the site; null unless it was made from just this and every file of it is as it was. */
  readonly noteOn: (madeFrom: string) => Note | null;
}

type Row = readonly [key: string, size: number, time: number];

interface Kept<Note> {
  /** Stands for all that the site as a whole was made from. */
  readonly madeFrom: string;
  readonly note: Note;
  readonly rows: Readonly<Record<string, Row>>;
}

/** @param out the site's folder, absolute or from the working folder. */
export function loadManifest<Note>(cache: Cache, out: string): Manifest<Note> {
  const kept = cache.load<Kept<Note>>(nameOf(out));
  const all = Object.entries(kept?.rows ?? {});
  const rows = new Map(all.filter(([path, row]) => isUntouched(join(out, path), row)));
  return {
    has: (path, key) => rows.get(path)?.[0] === key,
    paths: [...rows.keys()],
    noteOn: (madeFrom) =>
      kept !== null && kept.madeFrom === madeFrom && rows.size === all.length ? kept.note : null,
  };
}

/** Remembers what is published now. */
export function saveManifest<Note>(
  cache: Cache,
  out: string,
  keys: ReadonlyMap<string, string>,
  madeFrom: string,
  note: Note,
): void {
  const rows: Record<string, Row> = {};
  for (const [path, key] of keys) {
    const stat = statOf(join(out, path));
    if (stat !== null) rows[path] = [key, stat.size, stat.mtimeMs];
  }
  const kept: Kept<Note> = { madeFrom, note, rows };
  cache.save(nameOf(out), kept);
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
