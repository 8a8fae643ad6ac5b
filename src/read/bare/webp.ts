import { exifOf, orientationIn } from './exif.js';
import { bareProfile } from './profile.js';

/** A WebP without anything but its picture (RFC 9649, 2). */

/** `RIFF`, the length and `WEBP`. */
const HEAD = 12;

/** What the features of a file are told by, bit by bit. */
const HAS_PROFILE = 0x20;
const HAS_ALPHA = 0x10;
const HAS_EXIF = 0x08;
const MOVES = 0x02;

/** Data of a frame before the chunks in it. */
const FRAME = 16;

interface Chunk {
  readonly name: string;
  readonly data: Buffer;
}

/**
 * The picture of a WebP, with which side is up and what colours need: without EXIF, XMP, chunks of any other name, and
 * anything behind its end.
 *
 * @returns null for one that is broken or cut short
 */
export function bareWebp(bytes: Buffer): Buffer | null {
  if (bytes.length < HEAD) return null;
  const end = 8 + bytes.readUInt32LE(4);
  const chunks = end > bytes.length ? null : chunksOf(bytes.subarray(HEAD, end));
  if (chunks === null) return null;
  const find = (name: string) => chunks.find((one) => one.name === name)?.data;
  const picture = chunks.flatMap(picturePart);
  const features = find('VP8X');
  if (features === undefined || features.length < 10) return file(picture);
  const exif = find('EXIF');
  const orientation = exif === undefined ? 1 : orientationIn(tiffOf(exif));
  const written = find('ICCP');
  const profile = written === undefined ? null : bareProfile(written);
  const head = Buffer.alloc(10);
  features.copy(head, 4, 4, 10);
  const isTurned = orientation !== 1;
  head.writeUInt8(
    (features.readUInt8(0) & (HAS_ALPHA | MOVES)) |
      (profile === null ? 0 : HAS_PROFILE) |
      (isTurned ? HAS_EXIF : 0),
  );
  return file([
    chunk('VP8X', head),
    ...(profile === null ? [] : [chunk('ICCP', profile)]),
    ...picture,
    ...(isTurned ? [chunk('EXIF', exifOf(orientation))] : []),
  ]);
}

/** Some write EXIF as in a JPEG, with its name before it. */
function tiffOf(exif: Buffer): Buffer {
  return exif.toString('latin1', 0, 6) === 'Exif\0\0' ? exif.subarray(6) : exif;
}

function picturePart({ name, data }: Chunk): Buffer[] {
  if (name === 'ANIM') return data.length === 6 ? [chunk(name, data)] : [];
  if (name === 'ANMF') {
    const inside = chunksOf(data.subarray(FRAME));
    const kept = (inside ?? []).flatMap((one) => (isImage(one) ? [chunk(one.name, one.data)] : []));
    return [chunk(name, Buffer.concat([data.subarray(0, FRAME), ...kept]))];
  }
  return isImage({ name, data }) ? [chunk(name, data)] : [];
}

function isImage({ name }: Chunk): boolean {
  return name === 'ALPH' || name === 'VP8 ' || name === 'VP8L';
}

/** Null where one of them is longer than what is there. */
function chunksOf(bytes: Buffer): readonly Chunk[] | null {
  const chunks: Chunk[] = [];
  for (let at = 0; at + 8 <= bytes.length; ) {
    const end = at + 8 + bytes.readUInt32LE(at + 4);
    if (end > bytes.length) return null;
    chunks.push({ name: bytes.toString('latin1', at, at + 4), data: bytes.subarray(at + 8, end) });
    at = end + (end % 2);
  }
  return chunks;
}

function chunk(name: string, data: Buffer): Buffer {
  const head = Buffer.alloc(8);
  head.write(name, 'latin1');
  head.writeUInt32LE(data.length, 4);
  return Buffer.concat([head, data, Buffer.alloc(data.length % 2)]);
}

function file(chunks: readonly Buffer[]): Buffer {
  const body = Buffer.concat(chunks);
  const head = Buffer.from('RIFF\0\0\0\0WEBP', 'latin1');
  head.writeUInt32LE(body.length + 4, 4);
  return Buffer.concat([head, body]);
}
