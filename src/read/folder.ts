import { createHash } from 'node:crypto';
import { closeSync, type Dirent, lstatSync, openSync, readdirSync, readFileSync, readSync } from 'node:fs';
import { join } from 'node:path';
import { isPicture, PICTURE_HEAD } from './picture.js';
import { decode, MAX_SERIES_BYTES, MAX_TEXT_BYTES } from './text.js';

/**
 * Reads the files of a book from disk. Nothing outside the book's folder is ever read: links are not
 * followed, and only the folders that the format names are looked into.
 */

/** What a file of the book is, by the place where it lies. */
export type Role = 'book' | 'system' | 'entry' | 'power-plan' | 'weights-plan';

/** A text file of the book. Paths are relative to the book, with forward slashes. */
export interface SourceFile {
  readonly path: string;
  readonly role: Role;
  readonly text: string;
  /** SHA-256 of the bytes on disk, in hexadecimal. */
  readonly hash: string;
}

/** A file of a logger's readings. It is text too, but is never looked at as YAML or prose. */
export type SeriesFile = Omit<SourceFile, 'role'>;

/** Something in the folder that could not be taken as it is. */
export interface FolderProblem {
  readonly path: string;
  readonly why: 'not-utf8' | 'file-too-large' | 'link-in-book' | 'unreadable' | 'stray-file' | 'book-missing';
}

/** A picture or paper: listed, and only its beginning looked at. `stamp` changes when the file does. */
export interface Attachment {
  readonly path: string;
  /** Whether it begins like a picture that can be shown, whatever its name says. */
  readonly isPicture: boolean;
  readonly bytes: number;
  readonly stamp: string;
}

/** All that lies in a book's folder, before anything is checked. */
export interface BookFolder {
  readonly root: string;
  readonly files: readonly SourceFile[];
  readonly series: readonly SeriesFile[];
  readonly attachments: readonly Attachment[];
  readonly problems: readonly FolderProblem[];
}

/** Remembers what was read, so that a file that has not changed need not be read again. */
export type ReadMemory = Map<string, { readonly stamp: string; readonly file: SourceFile | SeriesFile }>;

const PLAN_ROLES: ReadonlyMap<string, Role> = new Map([
  ['power.yaml', 'power-plan'],
  ['weights.yaml', 'weights-plan'],
]);

/** What a file would be by its path from the book's folder, with forward slashes; null for one that is no text of a book. */
export function roleOf(path: string): Role | null {
  if (/(?:^|\/)\./.test(path)) return null;
  if (path === 'book.yaml') return 'book';
  if (/^systems\/[^/]+\.md$/.test(path)) return 'system';
  if (/^entries\/.+\.md$/.test(path)) return 'entry';
  return /^plans\/[^/]+$/.test(path) ? (PLAN_ROLES.get(path.slice('plans/'.length)) ?? null) : null;
}

interface Found {
  readonly path: string;
  readonly role: Role | 'attachment' | 'series' | null;
}

/**
 * Reads a book's folder. Never throws for what it finds inside; the caller has made sure that `root` is a
 * folder. Files come sorted by path, so that results do not hang on the order of the disk.
 *
 * @param memory files read before, by path; brought up to date by this call. A file whose size and time of
 *   change are those remembered is not read again.
 */
export function readFolder(root: string, memory: ReadMemory = new Map()): BookFolder {
  const problems: FolderProblem[] = [];
  const files: SourceFile[] = [];
  const series: SeriesFile[] = [];
  const attachments: Attachment[] = [];
  for (const found of listBook(root, problems)) {
    if (found.role === null) {
      problems.push({ path: found.path, why: 'stray-file' });
      continue;
    }
    const stat = statInside(root, found.path);
    if (stat === null) {
      problems.push({ path: found.path, why: 'unreadable' });
    } else if (found.role === 'attachment') {
      const isShown = beginsLikePicture(join(root, found.path));
      attachments.push({ path: found.path, isPicture: isShown, bytes: stat.size, stamp: stat.stamp });
    } else {
      const read = readText(root, found.path, found.role, stat, memory);
      if (typeof read === 'string') problems.push({ path: found.path, why: read });
      else if ('role' in read) files.push(read);
      else series.push(read);
    }
  }
  forget(memory, [...files, ...series]);
  if (
    !files.some((file) => file.role === 'book') &&
    !problems.some((problem) => problem.path === 'book.yaml')
  ) {
    problems.push({ path: 'book.yaml', why: 'book-missing' });
  }
  return { root, files, series, attachments, problems };
}

function beginsLikePicture(path: string): boolean {
  const head = new Uint8Array(PICTURE_HEAD);
  try {
    const handle = openSync(path, 'r');
    try {
      return isPicture(head.subarray(0, readSync(handle, head)));
    } finally {
      closeSync(handle);
    }
  } catch {
    return false;
  }
}

function forget(memory: ReadMemory, files: readonly SeriesFile[]): void {
  if (memory.size <= files.length) return;
  const kept = new Set(files.map((file) => file.path));
  for (const path of memory.keys()) if (!kept.has(path)) memory.delete(path);
}

function statInside(root: string, path: string): { readonly size: number; readonly stamp: string } | null {
  try {
    const stat = lstatSync(join(root, path));
    return { size: stat.size, stamp: `${stat.size}-${stat.mtimeMs}-${stat.ino}` };
  } catch {
    return null;
  }
}

function readText(
  root: string,
  path: string,
  role: Role | 'series',
  { size, stamp }: { readonly size: number; readonly stamp: string },
  memory: ReadMemory,
): SourceFile | SeriesFile | FolderProblem['why'] {
  const remembered = memory.get(path);
  if (remembered?.stamp === stamp) return remembered.file;
  const maxBytes = role === 'series' ? MAX_SERIES_BYTES : MAX_TEXT_BYTES;
  // Asked before reading: a film with the ending of a text would else be read to its end.
  if (size > maxBytes) return 'file-too-large';
  let bytes: Buffer;
  try {
    bytes = readFileSync(join(root, path));
  } catch {
    return 'unreadable';
  }
  const decoded = decode(bytes, maxBytes);
  if (!decoded.ok) return decoded.why;
  const hash = createHash('sha256').update(bytes).digest('hex');
  const { text } = decoded;
  const file = role === 'series' ? { path, text, hash } : { path, role, text, hash };
  memory.set(path, { stamp, file });
  return file;
}

function listBook(root: string, problems: FolderProblem[]): Found[] {
  const found: Found[] = [];
  for (const item of list(root, '', problems)) {
    if (item.isDirectory()) {
      const walker = FOLDERS.get(item.name);
      if (walker !== undefined) found.push(...walker(root, item.name, problems));
      // `Entries/` would be an empty book to one disk and a full one to another.
      else if (FOLDERS.has(item.name.toLowerCase()) || SLIPS.has(item.name.toLowerCase()))
        found.push({ path: item.name, role: null });
    } else if (item.name === 'book.yaml') {
      found.push({ path: 'book.yaml', role: 'book' });
    } else if (ENTRY_NAME.test(item.name)) {
      found.push({ path: item.name, role: null });
    }
  }
  return found.sort((a, b) => (a.path < b.path ? -1 : a.path > b.path ? 1 : 0));
}

type Walker = (root: string, folder: string, problems: FolderProblem[]) => Found[];

/** A file that is named like an entry. Beside the folders of a book it would be missing from the record. */
const ENTRY_NAME = /^\d{4}-\d{2}-\d{2}.*\.md$/i;

/** Folders that can be meant for nothing but those of systems and entries. */
const SLIPS: ReadonlySet<string> = new Set(['entry', 'system']);

/** The folders of a book. Whatever else lies beside them (notes, sources of drawings) is left alone. */
const FOLDERS: ReadonlyMap<string, Walker> = new Map<string, Walker>([
  [
    'systems',
    (root, folder, problems) =>
      walk(root, folder, problems, (name) => (name.endsWith('.md') ? 'system' : null), false),
  ],
  [
    'entries',
    (root, folder, problems) =>
      walk(root, folder, problems, (name) => (name.endsWith('.md') ? 'entry' : null), true),
  ],
  [
    'plans',
    (root, folder, problems) => walk(root, folder, problems, (name) => PLAN_ROLES.get(name) ?? null, false),
  ],
  [
    'series',
    (root, folder, problems) =>
      walk(root, folder, problems, (name) => (name.endsWith('.csv') ? 'series' : null), false),
  ],
  ['photos', (root, folder, problems) => walk(root, folder, problems, () => 'attachment', true)],
]);

function walk(
  root: string,
  folder: string,
  problems: FolderProblem[],
  roleOf: (name: string) => Found['role'],
  deep: boolean,
): Found[] {
  return list(root, folder, problems).flatMap((item) => {
    const path = `${folder}/${item.name}`;
    if (item.isDirectory()) return deep ? walk(root, path, problems, roleOf, deep) : [{ path, role: null }];
    return [{ path, role: roleOf(item.name) }];
  });
}

function list(root: string, folder: string, problems: FolderProblem[]): Dirent[] {
  let items: Dirent[];
  try {
    items = readdirSync(join(root, folder), { withFileTypes: true });
  } catch {
    problems.push({ path: folder === '' ? '.' : folder, why: 'unreadable' });
    return [];
  }
  return items.filter((item) => {
    // Dot files belong to editors and version control, not to the record.
    if (item.name.startsWith('.')) return false;
    if (item.isSymbolicLink()) {
      const path = folder === '' ? item.name : `${folder}/${item.name}`;
      if (folder !== '' || FOLDERS.has(item.name) || item.name === 'book.yaml')
        problems.push({ path, why: 'link-in-book' });
      return false;
    }
    return item.isDirectory() || item.isFile();
  });
}
