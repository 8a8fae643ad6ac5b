import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { BookFolder, FolderProblem, Role, SourceFile } from '../../../src/read/folder.js';
import { decode } from '../../../src/read/text.js';

/** A small book that uses every field of the format, for breaking: `whole/`, beside this file. */

const FOLDER = join(import.meta.dirname, 'whole');

const FILES: readonly (readonly [path: string, role: Role])[] = [
  ['book.yaml', 'book'],
  ['systems/engine.md', 'system'],
  ['systems/house-dc.md', 'system'],
  ['entries/2026/2026-02-01-begin.md', 'entry'],
  ['entries/2026/2026-03-08-capacity.md', 'entry'],
  ['entries/2026/2026-04-18-new-bank.md', 'entry'],
  ['plans/power.yaml', 'power-plan'],
  ['plans/weights.yaml', 'weights-plan'],
];

export interface Original {
  readonly path: string;
  readonly role: Role;
  readonly bytes: Buffer;
  readonly file: SourceFile;
}

export const ORIGINALS: readonly Original[] = FILES.map(([path, role]) => {
  const bytes = readFileSync(join(FOLDER, path));
  return { path, role, bytes, file: { path, role, text: bytes.toString('utf8'), hash: path } };
});

/** The book with one file changed, as the reader would give it. */
export function bookWith(original: Original, bytes: Buffer): BookFolder {
  const decoded = decode(bytes);
  const problems: FolderProblem[] = decoded.ok ? [] : [{ path: original.path, why: decoded.why }];
  const files = ORIGINALS.flatMap(({ path, role, file }): SourceFile[] => {
    if (path !== original.path) return [file];
    return decoded.ok ? [{ path, role, text: decoded.text, hash: 'changed' }] : [];
  });
  const attachments = [{ path: 'photos/2026/label.jpg', isPicture: true, bytes: 1, stamp: '1' }];
  return { root: '/nowhere', files, series: [], attachments, problems };
}
