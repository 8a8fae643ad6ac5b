import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { type BookFolder, type FolderProblem, roleOf, type SourceFile } from '../read/folder.js';
import { MAX_TEXT_BYTES } from '../read/text.js';

/** Texts that are open in an editor, saved or not, over the files on disk. */

/** A file of a book by its book and its path in it. */
export interface PlaceInBook {
  readonly root: string;
  /** From the book's folder, with forward slashes. */
  readonly path: string;
}

/**
 * The book that a file belongs to: the nearest folder above it with a book.yaml, on disk or open.
 *
 * @param file absolute path.
 * @param isOpen whether a file, by its absolute path, is open.
 * @returns null for a file of no book, or one that is no text of its book.
 */
export function placeInBook(file: string, isOpen: (file: string) => boolean): PlaceInBook | null {
  for (let root = dirname(file); ; root = dirname(root)) {
    const book = join(root, 'book.yaml');
    if (isOpen(book) || existsSync(book)) {
      const path = relative(root, file).replaceAll('\\', '/');
      return roleOf(path) === null ? null : { root, path };
    }
    if (dirname(root) === root) return null;
  }
}

/**
 * A book's folder as it would be if everything that is open were saved.
 *
 * @param open texts by their path in the book, without a byte order mark.
 */
export function overlaid(folder: BookFolder, open: ReadonlyMap<string, string>): BookFolder {
  if (open.size === 0) return folder;
  const put = [...open].map(([path, text]) => sourceOf(path, text));
  const isPut = (path: string) => open.has(path);
  const bookIsPut = isPut('book.yaml');
  return {
    ...folder,
    files: [
      ...folder.files.filter((file) => !isPut(file.path)),
      ...put.flatMap(({ file }) => file ?? []),
    ].sort((a, b) => (a.path < b.path ? -1 : 1)),
    problems: [
      ...folder.problems.filter(({ path, why }) => !isPut(path) && !(bookIsPut && why === 'book-missing')),
      ...put.flatMap(({ problem }) => problem ?? []),
    ],
  };
}

interface Put {
  readonly file: SourceFile | null;
  readonly problem: FolderProblem | null;
}

function sourceOf(path: string, text: string): Put {
  const role = roleOf(path);
  if (role === null) return { file: null, problem: null };
  if (text.length > MAX_TEXT_BYTES) return { file: null, problem: { path, why: 'file-too-large' } };
  if (text.includes('\0')) return { file: null, problem: { path, why: 'not-utf8' } };
  const hash = createHash('sha256').update(text).digest('hex');
  return { file: { path, role, text, hash }, problem: null };
}
