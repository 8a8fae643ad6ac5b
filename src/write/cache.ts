import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { CheckMemory } from '../check/check.js';
import type { SourceFile } from '../read/folder.js';
import { writeWhole } from './whole.js';

/**
 * What a book's folder remembers between runs, in `.ribband/`: nothing that could not be made again. It may
 * be deleted at any time, is never part of the record, and is made by one version of the code for itself
 * alone: another version takes no notice of it.
 */
export interface Cache {
  /** The cache's folder, or null where the book's folder cannot be written to. */
  readonly folder: string | null;
  readonly load: <T>(name: string) => T | null;
  readonly save: (name: string, value: unknown) => void;
}

export const CACHE_FOLDER = '.ribband';

/** A cache that forgets everything. */
export const NO_CACHE: Cache = { folder: null, load: () => null, save: () => undefined };

/**
 * Opens the cache of a book.
 *
 * @param version stands for the code; what another version kept is not loaded.
 */
export function openCache(root: string, version: string): Cache {
  const folder = join(root, CACHE_FOLDER);
  if (!makeFolder(folder)) return NO_CACHE;
  return {
    folder,
    load: <T>(name: string) => loadKept<T>(join(folder, name), version),
    save: (name, value) => saveKept(join(folder, name), version, value),
  };
}

/** Makes the cache's folder, or finds it there; false where that cannot be. */
function makeFolder(folder: string): boolean {
  try {
    mkdirSync(folder, { recursive: true });
    const ignore = join(folder, '.gitignore');
    // Keeps the cache out of version control without touching the book's own ignore file.
    if (!existsSync(ignore)) writeFileSync(ignore, '*\n');
    return true;
  } catch {
    return false;
  }
}

/** What is kept begins with a line that says by which version, and what the rest adds up to. */
function headOf(version: string, json: string): string {
  return `${version} ${createHash('sha256').update(json).digest('base64url')}`;
}

/** Anything that is not to the letter what this version has kept is taken for nothing. */
function loadKept<T>(path: string, version: string): T | null {
  try {
    const text = readFileSync(path, 'utf8');
    const end = text.indexOf('\n');
    const json = text.slice(end + 1);
    return end > 0 && text.slice(0, end) === headOf(version, json) ? (JSON.parse(json) as T) : null;
  } catch {
    return null;
  }
}

/** A cache that cannot be written (a full disk, a read-only folder) is a slower next run and nothing worse. */
function saveKept(path: string, version: string, value: unknown): void {
  try {
    const json = JSON.stringify(value);
    writeWhole(path, `${headOf(version, json)}\n${json}`, 'soon');
  } catch {
    // Nothing is lost: the next run makes it again.
  }
}

/** Offset and length of places in a file, by what they are places of. */
type Places = Record<string, readonly [number, number]>;
type KeptFile = readonly [hash: string, data: unknown, places: Places];

/** Remembers checked files until it is told which of them to store. */
export interface StoredMemory extends CheckMemory {
  /** Stores what is remembered of these files, if anything about it is new, and forgets all others. */
  readonly store: (files: readonly SourceFile[]) => void;
}

/** Files that were found in order, by path and content, so that they need not be parsed again. */
export function parseMemory(cache: Cache): StoredMemory {
  const kept = new Map(Object.entries(cache.load<Record<string, KeptFile>>('parsed.json') ?? {}));
  let changed = false;
  const find = ({ path, hash }: SourceFile): KeptFile | undefined => {
    const known = kept.get(path);
    return known?.[0] === hash ? known : undefined;
  };
  return {
    recall: (source) => find(source)?.[1],
    keep: ({ path, hash }, data) => {
      kept.set(path, [hash, data, {}]);
      changed = true;
    },
    recallPlace: (source, place) => {
      const [offset, length] = find(source)?.[2][place] ?? [];
      return offset === undefined || length === undefined ? undefined : { offset, length };
    },
    keepPlace: (source, place, { offset, length }) => {
      // Places are kept with the file's data: a file that is not in order is looked at anew each time.
      const known = find(source);
      if (known === undefined) return;
      known[2][place] = [offset, length];
      changed = true;
    },
    store: (files) => {
      const present = new Set(files.map((file) => file.path));
      for (const path of kept.keys()) {
        if (present.has(path)) continue;
        kept.delete(path);
        changed = true;
      }
      if (changed) cache.save('parsed.json', Object.fromEntries(kept));
      changed = false;
    },
  };
}
