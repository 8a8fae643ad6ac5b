import type { ShownPhoto } from './prose-tree.js';

/** One published size of a photo. */
export interface PhotoSize {
  /** Path from the site's folder. */
  readonly path: string;
  readonly width: number;
  readonly height: number;
}

/** A photo as published: its sizes, smallest first; never empty. */
export interface PublishedPhoto {
  readonly sizes: readonly PhotoSize[];
}

/** Published photos by their path in the book. */
export type PhotoIndex = ReadonlyMap<string, PublishedPhoto>;

/** A published photo as seen from a page, or null where the photo was not published. */
export function shownPhoto(index: PhotoIndex, file: string, root: string): ShownPhoto | null {
  const sizes = index.get(file)?.sizes ?? [];
  const smallest = sizes[0];
  if (smallest === undefined) return null;
  return {
    src: root + smallest.path,
    srcset: sizes.map(({ path, width }) => `${root}${path} ${width}w`).join(', '),
    width: smallest.width,
    height: smallest.height,
  };
}
