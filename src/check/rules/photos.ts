import type { Attachment } from '../../read/folder.js';
import * as m from '../messages.js';
import type { Entry } from '../model.js';
import { nearest } from '../nearest.js';
import type { Problem, Said } from '../problem.js';
import { decoded } from '../prose-links.js';

/** Pictures named in front matter: inside the book, there, and of a sort that can be shown. */
export function checkPhotos(
  entries: readonly Entry[],
  attachments: readonly Attachment[],
): readonly Problem[] {
  const there = picturesIn(attachments);
  const named = new Set(entries.flatMap(({ photos }) => photos.map(({ file }) => file)));
  const unnamed = [...there].flatMap(([path, isPicture]) => (isPicture && !named.has(path) ? [path] : []));
  return entries.flatMap((entry) =>
    entry.photos.flatMap((photo, index): Problem[] => {
      const said = checkPhotoPath(photo.file, there, unnamed);
      if (said === null) return [];
      const path = withSlashes(photo.file, there);
      // Only what needs no quotes is put in place of what may have some.
      const mend =
        path !== null && /^[\w./-]+$/.test(path)
          ? { mend: { title: 'Write forward slashes', text: path } }
          : {};
      return [{ ...said, ...mend, at: { file: entry.file, path: ['photos', index, 'file'] } }];
    }),
  );
}

/** What lies among the pictures of a book, with whether it begins like one. */
export type Pictures = ReadonlyMap<string, boolean>;

export function picturesIn(attachments: readonly Attachment[]): Pictures {
  return new Map(attachments.map(({ path, isPicture }) => [path, isPicture]));
}

const PLAIN = /^photos\/(?:[^/\\:*?"<>|\p{Cc}]+\/)*[^/\\:*?"<>|\p{Cc}]+$/u;
const SHOWN = /\.(?:jpe?g|png|webp)$/i;

/** More pictures than these are no help in a sentence. */
const MOST_OFFERED = 3;

/**
 * What is wrong with the path of a picture, or with the file there; null if nothing is.
 *
 * @param unnamed pictures that nothing names: where they are few, a renamed one is most likely among them.
 */
export function checkPhotoPath(file: string, there: Pictures, unnamed: readonly string[] = []): Said | null {
  const steps = file.split('/');
  if (!PLAIN.test(file) || steps.includes('..') || steps.includes('.'))
    return m.photoPath(file, withSlashes(file, there));
  if (!SHOWN.test(file)) return m.photoSort(file);
  const found = [file, file.normalize('NFC'), file.normalize('NFD')].find((path) => there.has(path));
  if (found === undefined) return m.photoMissing(file, nearest(file, there.keys()), offered(file, unnamed));
  return there.get(found) === true ? null : m.photoUnreadable(file);
}

/** Those in the folder where it should be; none where they are many. */
function offered(file: string, unnamed: readonly string[]): readonly string[] {
  const folder = file.slice(0, file.lastIndexOf('/') + 1);
  const beside = unnamed.filter((path) => path.startsWith(folder));
  return beside.length > MOST_OFFERED ? [] : beside;
}

/** The path of a picture that is there, where a path differs from it only by its sort of slash. */
function withSlashes(file: string, there: Pictures): string | null {
  const path = file.replaceAll('\\', '/');
  return path !== file && there.has(path) ? path : null;
}

/** A path in prose counts from the entry, or from the book; the book's is what is kept. */
export function photoFromProse(url: string): string {
  return decoded(url).replace(/^(?:\.\.?\/)*(?=photos\/)/, '');
}

/** Paths of pictures that a prose seems to show. It may name too many (in a code block, say), never too few. */
export function photosInProse(body: string): readonly string[] {
  if (!body.includes('![')) return [];
  return [
    ...body.matchAll(/!\[[^\]]*\]\(\s*<?([^)>\s]+)/g),
    ...body.matchAll(/^\s*\[[^\]]+\]:\s*<?([^>\s]+)/gm),
  ].map((match) => photoFromProse(match[1] ?? ''));
}
