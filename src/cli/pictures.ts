import { isPicture } from '../read/picture.js';

/** Pictures on their way into a book. */

/** More than the largest camera takes, far less than what a picture made to choke a reader unfolds to. */
const MOST_PIXELS = 120_000_000;

/**
 * A picture as it goes into a book: turned upright, without any of the data that a camera adds (the place, the
 * time, the camera's number), made anew from its pixels as a JPEG. The quality is high, since what is taken in
 * is evidence and the original is not kept by the book.
 *
 * @returns null for what is no picture: only what begins like a JPEG, PNG or WebP is opened at all.
 */
export async function cleanPicture(bytes: Uint8Array): Promise<Uint8Array | null> {
  if (!isPicture(bytes)) return null;
  const { default: sharp } = await import('sharp');
  try {
    return await sharp(bytes, { limitInputPixels: MOST_PIXELS, failOn: 'error' })
      .autoOrient()
      .flatten({ background: '#fff' })
      .toColourspace('srgb')
      .jpeg({ quality: 90 })
      .toBuffer();
  } catch {
    // What the decoder says is for programmers.
    return null;
  }
}
