import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { ParseMemory } from '../check/parse.js';
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

interface Kept<T> {
  readonly version: string;
  readonly value: T;
}

/**
 * Opens the cache of a book.
 *
 * @param version stands for the code; what another version kept is not loaded.
 */
export function openCache(root: string, version: string): Cache {
  const folder = join(root, CACHE_FOLDER);
  try {
    mkdirSync(folder, { recursive: true });
    // Keeps the cache out of version control without touching the book's own ignore file.
    writeFileSync(join(folder, '.gitignore'), '*\n', { flag: 'wx' });
  } catch (error) {
    if (!(error instanceof Error && 'code' in error && error.code === 'EEXIST')) return NO_CACHE;
  }
  return {
    folder,
    load: <T>(name: string) => loadKept<T>(join(folder, name), version),
    save: (name, value) => saveKept(join(folder, name), { version, value }),
  };
}

function loadKept<T>(path: string, version: string): T | null {
  try {
    const kept = JSON.parse(readFileSync(path, 'utf8')) as Kept<T>;
    return kept.version === version ? kept.value : null;
  } catch {
    return null;
  }
}

/** A cache that cannot be written (a full disk, a read-only folder) is a slower next run and nothing worse. */
function saveKept(path: string, kept: Kept<unknown>): void {
  try {
    writeWhole(path, JSON.stringify(kept));
  } catch {
    // Nothing is lost: the next run makes it again.
  }
}

type KeptFiles = Readonly<Record<string, readonly [hash: string, data: unknown]>>;

/** Files that were found in order, by path and content, so that they need not be parsed again. */
export function parseMemory(
  cache: Cache,
): ParseMemory & { readonly store: (files: readonly SourceFile[]) => void } {
  const kept = new Map(Object.entries(cache.load<KeptFiles>('parsed.json') ?? {}));
  let changed = false;
  return {
    recall: ({ path, hash }) => {
      const known = kept.get(path);
      return known?.[0] === hash ? known[1] : undefined;
    },
    keep: ({ path, hash }, data) => {
      kept.set(path, [hash, data]);
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
