import { type Dirent, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { hashFile } from './hash-file.js';
import { byPath, type HashedFile } from './order.js';
import type { Covered } from './sources.js';

/** What a sealed site has at its top: the seal, its signature, and the same hashes in the form of `sha256sum`. */
export const SITE_SEAL = 'seal.json';
export const SITE_SUMS = 'SHA256SUMS';

/**
 * All files of a site but its seal and the signature of that. Names that begin with a dot are passed over: hosts
 * do not publish them.
 */
export function publishedIn(root: string): Covered {
  const files: HashedFile[] = [];
  const unreadable: { path: string; why: string }[] = [];
  for (const { path, isLink } of walk(root, '')) {
    if (path === SITE_SEAL || path === `${SITE_SEAL}.sig`) continue;
    if (isLink) {
      unreadable.push({ path, why: 'it is a link, which is not followed' });
      continue;
    }
    try {
      files.push({ path, sha256: hashFile(join(root, path)) });
    } catch {
      unreadable.push({ path, why: 'it cannot be read' });
    }
  }
  return { files: files.sort(byPath), entries: [], unreadable };
}

function* walk(root: string, folder: string): Generator<{ readonly path: string; readonly isLink: boolean }> {
  const items: Dirent[] = readdirSync(join(root, folder), { withFileTypes: true });
  for (const item of items) {
    if (item.name.startsWith('.')) continue;
    const path = folder === '' ? item.name : `${folder}/${item.name}`;
    if (item.isDirectory()) yield* walk(root, path);
    else if (item.isFile() || item.isSymbolicLink()) yield { path, isLink: item.isSymbolicLink() };
  }
}

/**
 * Hashes in the form that `sha256sum -c` and `shasum -a 256 -c` read: a hash, two blanks and a path a line. Paths
 * of sites hold no letter that would have to be escaped in it.
 */
export function sumsText(files: readonly HashedFile[]): string {
  return [...files]
    .sort(byPath)
    .map(({ path, sha256 }) => `${sha256}  ${path}\n`)
    .join('');
}
