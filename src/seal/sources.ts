import { join } from 'node:path';
import { type BookFolder, roleOf } from '../read/folder.js';
import { quickFrontMatter, quickYaml } from '../read/front-matter.js';
import { hashFile } from './hash-file.js';
import { byDate, byPath, type HashedEntry, type HashedFile } from './order.js';

/** The files that a seal covers, as they lie there now. */
export interface Covered {
  readonly files: readonly HashedFile[];
  readonly entries: readonly HashedEntry[];
  /** What lies there and could not be hashed. */
  readonly unreadable: readonly { readonly path: string; readonly why: string }[];
}

/**
 * All files of a book, by their bytes: `book.yaml`, systems, entries, plans, series, photos. Caches, the seals
 * themselves and what lies beside the record are not of it. A file that is no text any more, or too large to be
 * taken for one, is hashed like the others.
 */
export function sourcesOf(folder: BookFolder): Covered {
  const files: HashedFile[] = [];
  const entries: HashedEntry[] = [];
  const unreadable: { path: string; why: string }[] = [];
  const add = (path: string, text: string | null, known: string | null) => {
    try {
      const sha256 = known ?? hashFile(join(folder.root, path));
      if (roleOf(path) === 'entry') entries.push({ date: entryDate(path, text), path, sha256 });
      else files.push({ path, sha256 });
    } catch {
      unreadable.push({ path, why: 'it cannot be read' });
    }
  };
  for (const { path, text, hash } of [...folder.files, ...folder.series]) add(path, text, hash);
  for (const { path } of folder.attachments) add(path, null, null);
  for (const { path, why } of folder.problems) {
    if (why === 'not-utf8' || why === 'file-too-large') add(path, null, null);
    else if (why === 'unreadable') unreadable.push({ path, why: 'it cannot be read' });
    else if (why === 'link-in-book') unreadable.push({ path, why: 'it is a link, which is not followed' });
  }
  return { files: files.sort(byPath), entries: entries.sort(byDate), unreadable };
}

const DAY = /^\d{4}-\d{2}-\d{2}$/;

/**
 * The date by which an entry has its place in the chain: the one it says; where that cannot be made out, the one
 * in its name; where there is none, the first day of all.
 */
function entryDate(path: string, text: string | null): string {
  const data = text === null ? null : quickFrontMatter(text)?.data;
  const said = typeof data === 'object' && data !== null && 'date' in data ? String(data.date) : '';
  if (DAY.test(said)) return said;
  // Front matter that needs a closer look; the field stands at the beginning of its line all the same.
  const line = /^date:[ \t]*["']?(\d{4}-\d{2}-\d{2})["']?[ \t\r]*(?:#.*)?$/m.exec(text ?? '')?.[1];
  return line ?? /(?:^|\/)(\d{4}-\d{2}-\d{2})[^/]*$/.exec(path)?.[1] ?? '0000-01-01';
}

/** What the book says it is about; empty where that cannot be made out at a glance. */
export function subjectOf(folder: BookFolder): string {
  const text = folder.files.find(({ role }) => role === 'book')?.text ?? '';
  const data = quickYaml(text)?.data as { readonly subject?: { readonly name?: unknown } } | null | undefined;
  const name = data?.subject?.name;
  return typeof name === 'string' ? name.slice(0, 500) : '';
}
