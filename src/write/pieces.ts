import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Cache } from './cache.js';
import type { Manifest } from './manifest.js';

/**
 * Large files of which a change in the book touches a small part are put together from pieces. Which pieces the
 * published file consists of, and how long each is, is kept in the cache: those whose key is still the same are
 * taken from the file there, and only the others are made.
 */

/** A piece of a file. The same key always stands for the same bytes. */
export interface Piece {
  readonly key: string;
  readonly render: () => string;
}

/** A file that is put together from pieces; its key stands for all of them. */
export interface PiecedFile {
  readonly path: string;
  readonly key: string;
  readonly pieces: readonly Piece[];
}

/** The key of a published file, and the keys and lengths in bytes of its pieces, in order. */
type Kept = readonly [key: string, pieces: readonly (readonly [key: string, length: number])[]];

/** Puts files together, and remembers of what. */
export interface Assembler {
  readonly assemble: (file: PiecedFile) => Uint8Array;
  /** Keeps what was assembled; to be called once the site is published. */
  readonly store: () => void;
}

/** @param out the site's folder, with the files as they were published the last time. */
export function assembler(cache: Cache, out: string, manifest: Manifest<unknown>): Assembler {
  const kept = cache.load<Readonly<Record<string, Kept>>>(NAME) ?? {};
  const made: Record<string, Kept> = {};
  return {
    assemble: ({ path, key, pieces }) => {
      const old = oldPieces(kept[path], path, out, manifest);
      const buffers = pieces.map((piece) => old.get(piece.key) ?? Buffer.from(piece.render()));
      made[path] = [key, pieces.map((piece, at) => [piece.key, buffers[at]?.length ?? 0])];
      return Buffer.concat(buffers);
    },
    store: () => {
      if (Object.keys(made).length > 0) cache.save(NAME, { ...kept, ...made });
    },
  };
}

const NAME = 'pieces.json';

/** The pieces of a file as it lies there, by key; none unless it is just what was published. */
function oldPieces(
  kept: Kept | undefined,
  path: string,
  out: string,
  manifest: Manifest<unknown>,
): ReadonlyMap<string, Uint8Array> {
  if (kept === undefined || !manifest.has(path, kept[0])) return new Map();
  const bytes = readFileSync(join(out, path));
  const found = new Map<string, Uint8Array>();
  let at = 0;
  for (const [key, length] of kept[1]) {
    found.set(key, bytes.subarray(at, at + length));
    at += length;
  }
  return at === bytes.length ? found : new Map();
}
