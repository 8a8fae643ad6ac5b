import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { PhotoSize } from './photo-index.js';

/** What was made of pictures in earlier runs: by a picture's content, so that moving or copying it makes nothing anew. */

/** Where made pictures are kept between runs. */
export interface PhotoStore {
  readonly folder: string | null;
  readonly load: <T>(name: string) => T | null;
  readonly save: (name: string, value: unknown) => void;
}

/** A made size, with the SHA-256 of its file in hexadecimal. */
export interface MadeSize extends PhotoSize {
  readonly sum: string;
}

interface Source {
  /** Path in the owner's book: copies for audiences share what was made of its pictures. */
  readonly kept: string;
  /** Changes when the file does. */
  readonly stamp: string;
}

interface Made {
  /** SHA-256 of the bare picture, in hexadecimal, and its length. */
  readonly hash: string;
  readonly bytes: number;
  readonly sizes: readonly MadeSize[];
}

interface Kept {
  /** What each file was when it was last looked at. */
  readonly seen: Readonly<Record<string, readonly [stamp: string, hash: string, bytes: number]>>;
  /** What was made, by the hash of the bare picture. */
  readonly made: Readonly<Record<string, readonly MadeSize[]>>;
}

export interface PhotoMemory {
  /** What was made of a file that has not been touched since; null where that is not known or not whole. */
  readonly recall: (source: Source) => Made | null;
  /** What was made of a bare picture; null where nothing was, or not all of it is as it was made. */
  readonly madeOf: (hash: string) => readonly MadeSize[] | null;
  readonly keep: (source: Source, made: Made) => void;
  /** Writes down what is new. */
  readonly store: () => void;
}

/**
 * @param folder where the made files lie
 * @param isTrusted whether a file of the site, by its path there, is known to be as it was made
 */
export function photoMemory(
  store: PhotoStore,
  folder: string,
  isTrusted: (path: string) => boolean,
): PhotoMemory {
  const kept = store.load<Kept>('photos.json');
  const seen = new Map(Object.entries(kept?.seen ?? {}));
  const made = new Map(Object.entries(kept?.made ?? {}));
  let isNew = false;
  const isWhole = ({ path, sum }: MadeSize) => isTrusted(path) || hasSum(join(folder, basename(path)), sum);
  const madeOf = (hash: string) => {
    const sizes = made.get(hash);
    return sizes?.every(isWhole) === true ? sizes : null;
  };
  return {
    recall: ({ kept: path, stamp }) => {
      const [was, hash, bytes] = seen.get(path) ?? [];
      if (was !== stamp || hash === undefined || bytes === undefined) return null;
      const sizes = madeOf(hash);
      return sizes === null ? null : { hash, bytes, sizes };
    },
    madeOf,
    keep: ({ kept: path, stamp }, { hash, bytes, sizes }) => {
      seen.set(path, [stamp, hash, bytes]);
      made.set(hash, sizes);
      isNew = true;
    },
    store: () => {
      if (isNew)
        store.save('photos.json', { seen: Object.fromEntries(seen), made: Object.fromEntries(made) });
      isNew = false;
    },
  };
}

/** A disk that fails changes a file without changing its time: only its bytes tell. */
function hasSum(path: string, sum: string): boolean {
  try {
    return createHash('sha256').update(readFileSync(path)).digest('hex') === sum;
  } catch {
    return false;
  }
}
