import { createHash } from 'node:crypto';
import { basename } from 'node:path';
import type { Diagnostic } from '../check/diagnostic.js';
import { nameFor } from '../check/rules/dates.js';
import { photoFile } from '../draft/complete.js';
import type { Draft } from '../draft/draft.js';
import { type AnswerPath, answerAt, entryText } from '../draft/entry-text.js';
import { remarkDate } from '../draft/remarks.js';
import { type BookFolder, readFolder, type SourceFile } from '../read/folder.js';
import { bookFacts } from '../reckon/facts.js';
import { reckon } from '../reckon/reckon.js';
import { lastingMemory } from './lasting-memory.js';
import { cleanPicture } from './pictures.js';
import { cacheOf } from './pipeline.js';
import { checkAndReckon } from './reckon-book.js';
import { Refusal } from './refusal.js';
import { entryModelineOf } from './schema-copies.js';
import { freeEntryName, namesIn, writeIntoBook } from './write-into-book.js';

/**
 * Takes a finished draft into the book: the way in for `new` and for the writing page alike. The book is
 * checked with the new entry in it before anything is written; an entry that brings an error is not written.
 */

/** A problem that the new entry brings, and the answer it is about; null where it is about none alone. */
export interface Brought {
  readonly diagnostic: Diagnostic;
  readonly answer: AnswerPath | null;
}

export type Taken =
  | {
      readonly ok: true;
      /** Path of the entry in the book. */
      readonly path: string;
      readonly warnings: readonly Brought[];
      /** Whether the book has errors besides. */
      readonly othersBroken: boolean;
    }
  | { readonly ok: false; readonly problems: readonly Brought[] };

export interface Taking {
  readonly root: string;
  readonly today: string;
  readonly draft: Draft;
  /** The bytes of each picture, by the path that the draft proposes for it. */
  readonly pictures: ReadonlyMap<string, Uint8Array>;
  /** Write it although it brings errors: the person has seen them and will mend them in an editor. */
  readonly evenSo?: boolean;
}

/**
 * Checks and writes an entry with its pictures: all of it or none.
 *
 * @throws Refusal for a day that is none or to come, for a picture that is none or lacks, for a book that cannot be read, and for a folder of the
 *   book that is a link.
 */
export async function takeEntry({ root, today, draft: asked, pictures, evenSo }: Taking): Promise<Taken> {
  const wrongDay = remarkDate(asked.date, today)[0];
  if (wrongDay !== undefined) throw new Refusal(wrongDay.message, wrongDay.hint);
  const folder = readFolder(root);
  const memory = lastingMemory(cacheOf(root));
  const before = await checkAndReckon(folder, today, memory);
  if (before.book === null) throw new Refusal('The book has no book.yaml that can be read.');
  const { draft, files } = await withPictures(asked, pictures, folder);
  const around = {
    modeline: entryModelineOf(root),
    facts: bookFacts(reckon(before.book, draft.date)),
  };
  const text = entryText(draft, around);
  const taken = namesIn(folder.files);
  const path = freeEntryName(nameFor(draft.date, draft.title), (name) => taken.has(basename(name)));
  const after = await checkAndReckon(withEntry(folder, path, text, files), today, memory);
  const brought = newOnes(before.diagnostics, after.diagnostics).map(
    (diagnostic): Brought => ({
      diagnostic,
      answer: diagnostic.file === path ? answerAt(draft, around, diagnostic.span.line) : null,
    }),
  );
  const errors = brought.filter(({ diagnostic }) => diagnostic.severity === 'error');
  if (errors.length > 0 && evenSo !== true) return { ok: false, problems: errors };
  const all = [...files, { path, content: text }];
  writeIntoBook(
    root,
    all.map((file) => ({ ...file, replaces: false })),
  );
  const othersBroken = before.diagnostics.some(({ severity }) => severity === 'error');
  return { ok: true, path, warnings: brought, othersBroken };
}

interface NewFile {
  readonly path: string;
  readonly content: string | Uint8Array;
}

/** The pictures, clean and under names that are free, and the draft with these names. */
async function withPictures(
  draft: Draft,
  pictures: Taking['pictures'],
  folder: BookFolder,
): Promise<{ readonly draft: Draft; readonly files: readonly NewFile[] }> {
  const taken = folder.attachments.map(({ path }) => path);
  const files: NewFile[] = [];
  const photos = [];
  for (const photo of draft.photos) {
    const bytes = pictures.get(photo.file);
    const content = bytes === undefined ? null : await cleanPicture(bytes);
    if (content === null) throw new Refusal(`“${photo.alt}”: that is no JPEG, PNG or WebP picture.`);
    const path = photoFile(draft.date, photo.alt, [...taken, ...files.map((file) => file.path)]);
    files.push({ path, content });
    photos.push({ ...photo, file: path });
  }
  return { draft: { ...draft, photos }, files };
}

/** The book's folder as it would be with the entry and its pictures in it. */
function withEntry(folder: BookFolder, path: string, text: string, pictures: readonly NewFile[]): BookFolder {
  const hash = createHash('sha256').update(text).digest('hex');
  const source: SourceFile = { path, role: 'entry', text, hash };
  const attachments = pictures.map((file) => ({
    path: file.path,
    isPicture: true,
    bytes: file.content.length,
    stamp: 'new',
  }));
  const byPath = (a: { readonly path: string }, b: { readonly path: string }) => (a.path < b.path ? -1 : 1);
  return {
    ...folder,
    files: [...folder.files, source].sort(byPath),
    attachments: [...folder.attachments, ...attachments].sort(byPath),
  };
}

/** What is told of the book now and was not before. */
function newOnes(before: readonly Diagnostic[], after: readonly Diagnostic[]): readonly Diagnostic[] {
  const nameOf = ({ file, code, message }: Diagnostic) => JSON.stringify([file, code, message]);
  const known = new Set(before.map(nameOf));
  return after.filter((diagnostic) => !known.has(nameOf(diagnostic)));
}
