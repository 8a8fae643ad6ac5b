import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { applyFixes } from '../check/fix.js';
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
  /** The book as it is after it. */
  readonly checked: Told;
}

/** Mends can lie so close to each other that they have to be made one after the other; more rounds are a circle. */
const MAX_ROUNDS = 5;

/**
 * Makes all mends that are safe to make in the files of a book, each file whole or not at all.
 *
 * @param again checks the book as it is now.
 */
export async function mendBook(first: Told, root: string, again: () => Promise<Told>): Promise<Mended> {
  let checked = first;
  const lines: MendedLine[] = [];
  for (let round = 0; round < MAX_ROUNDS; round += 1) {
    const texts = new Map(checked.folder.files.map((file) => [file.path, file.text]));
    const changed = applyFixes(checked.diagnostics, (file) => texts.get(file) ?? '');
    if (changed.size === 0) break;
    for (const [file, text] of changed) {
      lines.push(...changedLines(file, texts.get(file) ?? '', text));
      write(join(root, file), text);
    }
    checked = await again();
  }
  return { lines, checked };
}

/** The checker does not see a byte order mark; the file keeps the one it has. */
function write(path: string, text: string): void {
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
