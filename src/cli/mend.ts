import { lstatSync, readFileSync, renameSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Diagnostic, Rename } from '../check/diagnostic.js';
import { applyEdits, applyFixes } from '../check/fix.js';
import type { CheckedBook } from '../check/model.js';
import type { SourceFile } from '../read/folder.js';
import { makeFolder } from '../write/make-folder.js';
import { writeWhole } from '../write/whole.js';
import type { Told } from './pipeline.js';

/** A line that was mended. */
export interface MendedLine {
  /** Path from the book's folder. */
  readonly file: string;
  readonly line: number;
  readonly now: string;
}

export interface Mended {
  readonly lines: readonly MendedLine[];
  readonly renamed: readonly Rename[];
  /** Files whose fields were put in order. */
  readonly ordered: readonly string[];
  /** The book as it is after it. */
  readonly checked: Told;
}

/** A book that was checked, with what was made of it. */
export type ToldBook = Told & { readonly book: CheckedBook | null };

/** Mends can lie so close to each other that they have to be made one after the other; more rounds are a circle. */
const MAX_ROUNDS = 5;

/**
 * Makes all mends that are safe to make in the files of a book, each file whole or not at all; then tidies the
 * files in which nothing is wrong.
 *
 * @param again checks the book as it is now.
 */
export async function mendBook(root: string, again: () => Promise<ToldBook>): Promise<Mended> {
  let checked = await again();
  const lines: MendedLine[] = [];
  const renamed: Rename[] = [];
  const write = writerIn(root, lines);
  for (let round = 0; round < MAX_ROUNDS; round += 1) {
    const texts = textsOf(checked);
    const changed = applyFixes(checked.diagnostics, (file) => texts.get(file) ?? '');
    for (const [file, text] of changed) write(file, texts.get(file) ?? '', text);
    const moved = rename(root, checked.diagnostics);
    renamed.push(...moved);
    if (changed.size + moved.length === 0) break;
    checked = await again();
  }
  const respelt = await respell(checked, write);
  if (respelt) checked = await again();
  const ordered = await order(checked, root);
  return { lines, renamed, ordered, checked: ordered.length > 0 ? await again() : checked };
}

type Write = (file: string, before: string, after: string) => void;

function writerIn(root: string, lines: MendedLine[]): Write {
  return (file, before, after) => {
    lines.push(...changedLines(file, before, after));
    writeText(join(root, file), after);
  };
}

function textsOf({ folder }: Told): ReadonlyMap<string, string> {
  return new Map(folder.files.map((file) => [file.path, file.text]));
}

/** Files without an error. */
function sound({ folder, diagnostics }: Told): readonly SourceFile[] {
  const errors = diagnostics.filter(({ severity }) => severity === 'error');
  const faulty = new Set(errors.map(({ file }) => file));
  return folder.files.filter(({ path }) => !faulty.has(path));
}

async function respell(checked: ToldBook, write: Write): Promise<boolean> {
  if (checked.book === null) return false;
  const { unitEdits } = await import('../check/tidy.js');
  const sources = new Map(sound(checked).map((file) => [file.path, file]));
  const edits = await unitEdits(checked.book, sources);
  for (const file of new Set(edits.map((edit) => edit.file))) {
    const { text = '' } = sources.get(file) ?? {};
    write(
      file,
      text,
      applyEdits(
        text,
        edits.filter((edit) => edit.file === file),
      ),
    );
  }
  return edits.length > 0;
}

async function order(checked: Told, root: string): Promise<string[]> {
  const [{ inOrderOfFields }, { FIELDS }] = await Promise.all([
    import('../check/tidy.js'),
    import('../check/fields.js'),
  ]);
  return sound(checked).flatMap(({ path, role, text }) => {
    if (role !== 'entry' && role !== 'system') return [];
    const ordered = inOrderOfFields(text, FIELDS[role]);
    if (ordered === null) return [];
    writeText(join(root, path), ordered);
    return [path];
  });
}

/** Gives files their names. What has come to lie there since the book was read stays as it is. */
function rename(root: string, diagnostics: readonly Diagnostic[]): Rename[] {
  return diagnostics.flatMap(({ fix }) => {
    if (fix?.rename === undefined) return [];
    const { from, to } = fix.rename;
    const [source, target] = [statOf(join(root, from)), statOf(join(root, to))];
    if (source === undefined || (target !== undefined && target.ino !== source.ino)) return [];
    makeFolder(dirname(join(root, to)));
    renameSync(join(root, from), join(root, to));
    return [{ from, to }];
  });
}

function statOf(path: string) {
  return lstatSync(path, { throwIfNoEntry: false });
}

/** The checker does not see a byte order mark; the file keeps the one it has. */
function writeText(path: string, text: string): void {
  const marked = readFileSync(path)
    .subarray(0, 3)
    .equals(Buffer.from([0xef, 0xbb, 0xbf]));
  writeWhole(path, marked ? `\uFEFF${text}` : text);
}

function changedLines(file: string, before: string, after: string): MendedLine[] {
  const old = before.split(/\r?\n/);
  return after
    .split(/\r?\n/)
    .flatMap((now, index) => (now === old[index] ? [] : [{ file, line: index + 1, now: now.trim() }]));
}
