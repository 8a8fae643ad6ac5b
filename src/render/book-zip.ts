import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { barePicture } from '../read/bare/picture.js';
import type { BookFolder, SeriesFile } from '../read/folder.js';
import { ZIP_LIMITS, type ZipFile, zipOf } from '../write/zip.js';
import { paths } from './links.js';
import { OPEN_FILES } from './open-forms.js';
import type { BarePhoto } from './photos.js';

/**
 * The sources of a book as one zip, as whoever the site is for may have them: unpacked, they are a book from which the
 * same site can be built, and in it the same zip. Texts are as the book that is shown has them; of pictures, those that
 * the site shows, bare.
 */

/** What the page of downloads tells about the zip. */
export interface BookZipOffer {
  readonly files: number;
  readonly photos: number;
  /** Of all files together; the zip adds a little. */
  readonly bytes: number;
  /** False for more than `MOST_BYTES`: then there is no zip in the site. */
  readonly isMade: boolean;
}

export interface BookZip extends BookZipOffer {
  /** Where it lies in the site. */
  readonly path: string;
  /** Stands for all that is in it. */
  readonly key: string;
  /** Makes the zip, in pieces, from the files as they lie there. @throws PictureChanged */
  readonly pieces: () => Iterable<Uint8Array>;
}

/** Hosts of static sites and of code take no larger file, and a site should not be many times what it shows. */
export const MOST_BYTES = 100_000_000;

/** A text that belongs to the book and is no part of its record. */
export interface ExtraText {
  readonly path: string;
  readonly text: string;
}

/** A picture is not what it was when the site's own were made of it. */
export class PictureChanged extends Error {}

interface Source {
  readonly path: string;
  readonly hash: string;
  readonly bytes: number;
  readonly read: () => Uint8Array;
}

/**
 * @param photos the pictures that the site shows
 * @param extra what the owner's site needs besides
 */
export function bookZip(
  folder: BookFolder,
  photos: readonly BarePhoto[],
  extra: readonly ExtraText[],
): BookZip {
  const sources: readonly Source[] = [
    ...[...folder.files, ...folder.series].map(textSource),
    ...extra.map(({ path, text }) => textSource({ path, text, hash: hashOf(text) })),
    ...photos.map(photoSource),
  ].sort((a, b) => (a.path < b.path ? -1 : 1));
  const bytes = sources.reduce((sum, source) => sum + source.bytes, 0);
  const files: readonly ZipFile[] = sources;
  return {
    path: paths.open(OPEN_FILES.sources),
    files: sources.length,
    photos: photos.length,
    bytes,
    isMade: bytes <= MOST_BYTES && sources.length <= ZIP_LIMITS.files,
    key: hashOf(JSON.stringify(['stored 1', sources.map(({ path, hash }) => [path, hash])])),
    pieces: () => zipOf(files),
  };
}

const BYTE_ORDER_MARK = Buffer.from([0xef, 0xbb, 0xbf]);

/** Reading has dropped a byte order mark; it is put back, so that the file is the one that a seal knows. */
function textSource({ path, text, hash }: SeriesFile): Source {
  return {
    path,
    hash,
    bytes: Buffer.byteLength(text),
    read: () => {
      const plain = Buffer.from(text);
      return hashOf(plain) === hash ? plain : Buffer.concat([BYTE_ORDER_MARK, plain]);
    },
  };
}

/** Made again from the book's own picture: to keep it would take as much room as the book's pictures do. */
function photoSource({ path, source, hash, bytes }: BarePhoto): Source {
  return {
    path,
    hash,
    bytes,
    read: () => {
      const bare = barePicture(readFileSync(source));
      if (bare === null || hashOf(bare) !== hash)
        throw new PictureChanged(`${path} has changed while the site was being made.`);
      return bare;
    },
  };
}

function hashOf(content: string | Uint8Array): string {
  return createHash('sha256').update(content).digest('hex');
}
