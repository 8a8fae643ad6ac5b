import { isPicture } from '../picture.js';
import { bareJpeg } from './jpeg.js';
import { barePng } from './png.js';
import { bareWebp } from './webp.js';

/**
 * A picture as it may leave the book: every pixel as it was, since nothing is decoded, with which side is up and what
 * the colours need; nothing else that a camera or a program has written into it. What stays is chosen, not what goes, so
 * that data of a sort that nobody has thought of goes too. The libraries for this either know some sorts by name and
 * keep the rest, or lose which side is up.
 *
 * A picture that is bare already comes back as the same bytes.
 *
 * @returns null for what is no picture, is broken or cut short; what it shows may still be broken
 */
export function barePicture(bytes: Uint8Array): Buffer | null {
  if (!isPicture(bytes)) return null;
  const all = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  switch (all[0]) {
    case 0xff:
      return bareJpeg(all);
    case 0x89:
      return barePng(all);
    default:
      return bareWebp(all);
  }
}
