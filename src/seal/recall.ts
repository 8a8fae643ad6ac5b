import { differencesOf, type Listed } from './compare.js';

/** How much of a state under seal can be told again: a seal holds hashes, and the texts are those that lie there now. */
export interface Recalled {
  /** Paths, as they are now, of the files that were sealed and are still there. */
  readonly paths: ReadonlySet<string>;
  /** Those of them that read otherwise than when they were sealed; what they said then is not known. */
  readonly altered: readonly string[];
  /** Paths of what was sealed and is not there any more. */
  readonly gone: readonly string[];
}

/** Finds the files of a sealed state among those that lie there now, under another name too. */
export function recall(sealed: Listed, now: Listed): Recalled {
  const { changed, removed, renamed } = differencesOf(sealed, now);
  const gone = new Set(removed);
  const names = new Map(renamed.map(({ from, to }) => [from, to]));
  const paths = [...sealed.files, ...sealed.entries]
    .filter(({ path }) => !gone.has(path))
    .map(({ path }) => names.get(path) ?? path);
  return { paths: new Set(paths), altered: changed, gone: removed };
}
