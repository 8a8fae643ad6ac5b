import { crc32, deflateSync, inflateSync } from 'node:zlib';
import { exifOf, orientationIn } from './exif.js';
import { bareProfile } from './profile.js';

/** A PNG without anything but its picture (PNG, third edition, 5.3 and 11). */

const SIGNATURE = 8;

/** Length and name before a chunk's data, and the sum behind it. */
const AROUND = 12;

/** Chunks without which the picture is not the same, with how long each may be where that is fixed. */
const KEPT: ReadonlyMap<string, number | null> = new Map([
  ['IHDR', 13],
  ['PLTE', null],
  ['tRNS', null],
  ['gAMA', 4],
  ['cHRM', 32],
  ['sRGB', 1],
  ['cICP', 4],
  ['IDAT', null],
]);

/** More than any profile has; a chunk can unfold to much more. */
const MOST_PROFILE = 4_000_000;

/**
 * The picture of a PNG, with which side is up and what colours need: without any text, any time, the further pictures
 * of a moving one, and anything behind its end.
 *
 * @returns null for one that is broken or cut short
 */
export function barePng(bytes: Buffer): Buffer | null {
  const parts: Buffer[] = [bytes.subarray(0, SIGNATURE)];
  let orientation = 1;
  for (let at = SIGNATURE; at + AROUND <= bytes.length; ) {
    const end = at + AROUND + bytes.readUInt32BE(at);
    if (end > bytes.length) return null;
    const name = bytes.toString('latin1', at + 4, at + 8);
    const data = bytes.subarray(at + 8, end - 4);
    const length = KEPT.get(name);
    if (length === null || length === data.length) parts.push(bytes.subarray(at, end));
    if (name === 'eXIf') orientation = orientationIn(data);
    if (name === 'iCCP') parts.push(...profileAnew(data));
    if (name === 'IEND') {
      const turned = orientation === 1 ? [] : [chunk('eXIf', exifOf(orientation))];
      // Behind the head, since some readers look no further than the first data.
      return Buffer.concat([
        ...parts.slice(0, 2),
        ...turned,
        ...parts.slice(2),
        chunk('IEND', Buffer.alloc(0)),
      ]);
    }
    at = end;
  }
  return null;
}

function profileAnew(data: Buffer): readonly Buffer[] {
  const name = data.indexOf(0);
  try {
    const profile = bareProfile(inflateSync(data.subarray(name + 2), { maxOutputLength: MOST_PROFILE }));
    // Not made smaller, so that it is the same whatever made it.
    return profile === null
      ? []
      : [
          chunk(
            'iCCP',
            Buffer.concat([Buffer.from('icc\0\0', 'latin1'), deflateSync(profile, { level: 0 })]),
          ),
        ];
  } catch {
    // A broken profile says nothing.
    return [];
  }
}

function chunk(name: string, data: Buffer): Buffer {
  const named = Buffer.concat([Buffer.from(name, 'latin1'), data]);
  const [length, sum] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  sum.writeUInt32BE(crc32(named));
  return Buffer.concat([length, named, sum]);
}
