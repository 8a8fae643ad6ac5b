import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { type Checked, NO_MEMORY } from '../../src/check/check.js';
import { checkAndReckon } from '../../src/cli/reckon-book.js';
import { type BookFolder, readFolder } from '../../src/read/folder.js';

/**
 * Small books with a problem in them, for tests.
 *
 * A fixture file holds cases. A line `=== title ===` begins a case, a line `== path ==` a file of its book,
 * `== path gone ==` takes a file of the base book away, and `== expected ==` begins the report that is due.
 * What a text cannot show is said behind the path: `latin1` (saved in an older encoding), `link` (a symbolic
 * link), `large` (4 MB and more of it), `wide` (64,000 letters for the word FILL), `unreadable` (cannot be
 * opened).
 * Files that a case does not give come from `base/`. Problems are marked in the text with ⟦…⟧; the marks are
 * taken out before checking. `⟦⟧` marks an empty stretch: a problem of the file as a whole. Marks may be
 * nested, and two problems at one place are marked twice.
 */

/** The day on which the books of the fixtures are checked. */
export const TODAY = '2026-06-01';

const BASE = join(import.meta.dirname, 'base');

/** Something that lies in a book's folder and is no plain text. */
export type Odd = { readonly odd: 'link' | 'unreadable' };

/** What a book has that the base book has not, by path; null takes a file of the base book away. */
export type Files = ReadonlyMap<string, string | Uint8Array | Odd | null>;

/** A stretch of a file that is marked as wrong. */
export interface Mark {
  readonly file: string;
  readonly offset: number;
  readonly length: number;
}

export interface Case {
  readonly title: string;
  readonly files: Files;
  readonly marks: readonly Mark[];
  readonly expected: string;
}

/** Reads the cases of a fixture file. */
export function parseFixture(text: string): readonly Case[] {
  return sections(text, /^=== (.+) ===$/).map(({ title, text: body }) => parseCase(title, body));
}

function parseCase(title: string, text: string): Case {
  const files = new Map<string, string | Uint8Array | Odd | null>();
  const marks: Mark[] = [];
  let expected = '';
  for (const section of sections(text, /^== (.+) ==$/)) {
    if (section.title === 'expected') {
      expected = section.text.trimEnd();
      continue;
    }
    const [path = '', how] = section.title.split(' ');
    const taken = takeMarks(section.text);
    files.set(path, contentOf(taken.text, how));
    marks.push(...taken.marks.map((mark) => ({ file: path, ...mark })));
  }
  return { title, files, marks, expected };
}

function contentOf(text: string, how: string | undefined): string | Uint8Array | Odd | null {
  if (how === 'gone') return null;
  if (how === 'link' || how === 'unreadable') return { odd: how };
  if (how === 'latin1') return Buffer.from(text, 'latin1');
  if (how === 'large') return text.repeat(Math.ceil(4_000_001 / text.length));
  return how === 'wide' ? text.replace('FILL', 'x'.repeat(64_000)) : text;
}

function sections(text: string, begin: RegExp): readonly { readonly title: string; readonly text: string }[] {
  const found: { title: string; lines: string[] }[] = [];
  for (const line of text.split('\n')) {
    const title = begin.exec(line)?.[1];
    if (title !== undefined) found.push({ title, lines: [] });
    else found.at(-1)?.lines.push(line);
  }
  // The line end before the next heading belongs to the section; the last blank line between cases does not.
  return found.map(({ title, lines }) => ({
    title,
    text: lines.length === 0 ? '' : `${lines.join('\n')}\n`,
  }));
}

/** Takes the marks out of a text. */
export function takeMarks(text: string): {
  readonly text: string;
  readonly marks: readonly { readonly offset: number; readonly length: number }[];
} {
  const marks: { offset: number; length: number }[] = [];
  const open: number[] = [];
  let plain = '';
  for (const piece of text.split(/([⟦⟧])/)) {
    if (piece === '⟦') open.push(plain.length);
    else if (piece === '⟧') {
      const offset = open.pop() ?? 0;
      marks.push({ offset, length: plain.length - offset });
    } else plain += piece;
  }
  return { text: plain, marks };
}

/** The text of a file of the base book. */
export function baseText(path: string): string {
  return readFileSync(join(BASE, path), 'utf8');
}

/** Files of the base book, by path. */
export function baseFiles(): ReadonlyMap<string, string | Uint8Array | Odd | null> {
  return new Map(
    (readdirSync(BASE, { recursive: true }) as string[])
      .filter((path) => statSync(join(BASE, path)).isFile())
      .map((path) => [relative('.', path), baseText(path)]),
  );
}

/** Writes the base book, changed by `files`, into a folder of its own while `use` runs. */
export async function withBook<T>(files: Files, use: (root: string) => T | Promise<T>): Promise<T> {
  const root = mkdtempSync(join(tmpdir(), 'ribband-test-'));
  try {
    for (const [path, content] of new Map([...baseFiles(), ...files])) {
      if (content === null) continue;
      const full = join(root, path);
      mkdirSync(dirname(full), { recursive: true });
      if (typeof content === 'string' || content instanceof Uint8Array) writeFileSync(full, content);
      else if (content.odd === 'link') symlinkSync(join(root, 'book.yaml'), full);
    }
    return await use(root);
  } finally {
    rmSync(root, { recursive: true, force: true });
  }
}

/** Checks the base book, changed by `files`. */
export function checkWith(files: Files): Promise<{ readonly folder: BookFolder; readonly checked: Checked }> {
  return withBook(files, async (root) => {
    const read = readFolder(root);
    // Root opens every file there is, so one that cannot be opened is made up here.
    const locked = [...files].filter(([, content]) => isOdd(content) && content.odd === 'unreadable');
    const problems = locked.map(([path]) => ({ path, why: 'unreadable' as const }));
    const folder: BookFolder = { ...read, problems: [...read.problems, ...problems] };
    return { folder, checked: await checkAndReckon(folder, TODAY, NO_MEMORY) };
  });
}

function isOdd(content: string | Uint8Array | Odd | null): content is Odd {
  return content !== null && typeof content === 'object' && 'odd' in content;
}
