import { basename } from 'node:path';
import { LinkOnTheWay } from '../write/new-file.js';
import { NameTaken, type Together, writeTogether } from '../write/together.js';
import { seenFrom } from './book-root.js';
import { Refusal } from './refusal.js';

/**
 * Writes files into a book, all of them or none.
 *
 * @throws Refusal for a name that is taken and for a link on the way.
 */
export function writeIntoBook(root: string, files: readonly Together[]): void {
  try {
    writeTogether(root, files);
  } catch (error) {
    if (error instanceof NameTaken)
      throw new Refusal(`There is a ${error.message} already; nothing was written.`);
    if (error instanceof LinkOnTheWay)
      throw new Refusal(`${seenFrom(root, error.message)} is a link; nothing is written through links.`);
    throw error;
  }
}

/** The first of the names of an entry that is free: as wanted, or with a number behind it. */
export function freeEntryName(wanted: string, isTaken: (path: string) => boolean): string {
  const stem = wanted.slice(0, -'.md'.length);
  for (let number = 1; ; number += 1) {
    const path = number === 1 ? wanted : `${stem}-${number}.md`;
    if (!isTaken(path)) return path;
  }
}

/** Names of a book's files without their folders: an entry's is an entry's in every year. */
export function namesIn(files: readonly { readonly path: string }[]): Set<string> {
  return new Set(files.map(({ path }) => basename(path)));
}
