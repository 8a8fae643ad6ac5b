import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { CheckedBook } from '../check/model.js';
import type { BookFolder } from '../read/folder.js';
import { type BookZip, bookZip, PictureChanged } from '../render/book-zip.js';
import type { PublishedPhotos } from '../render/photos.js';
import { Refusal } from './refusal.js';
import { schemaCopies } from './schema-copies.js';

/** The zip of a book's sources, as it lies in the site that is made from them. */

/**
 * The zip for whoever a site is for.
 *
 * @param folder the book as they see it
 * @param root the owner's book, whose schemas for editors go with it where it has some: the writing page of its site
 *   leads editors to them, which a copy does not have
 */
export function zipFor(
  { copy }: CheckedBook,
  folder: BookFolder,
  { bare }: PublishedPhotos,
  root: string,
): BookZip {
  const schemas = copy === null ? schemaCopies().filter(({ path }) => existsSync(join(root, path))) : [];
  const zip = bookZip(folder, bare, schemas);
  return { ...zip, pieces: () => refused(zip.pieces()) };
}

function* refused(pieces: Iterable<Uint8Array>): Generator<Uint8Array> {
  try {
    yield* pieces;
  } catch (error) {
    if (!(error instanceof PictureChanged)) throw error;
    throw new Refusal(error.message, 'What was there is as it was; build it again.');
  }
}
