import { exifOf, orientationIn } from './exif.js';
import { bareProfile } from './profile.js';

/** A JPEG without anything but its picture (ITU-T T.81, annex B). */

const SOI = Buffer.from([0xff, 0xd8]);
const EOI = Buffer.from([0xff, 0xd9]);
const MARK = 0xff;
const SOS = 0xda;
const APP0 = 0xe0;
const APP1 = 0xe1;
const APP2 = 0xe2;
const APP14 = 0xee;

const EXIF = Buffer.from('Exif\0\0', 'latin1');
const PROFILE = Buffer.from('ICC_PROFILE\0', 'latin1');

/** Whoever reads the picture takes its numbers for other colours where these are there; what else they hold is not kept. */
const JFIF = Buffer.from('JFIF\0\x01\x01\0\0\x01\0\x01\0\0', 'latin1');
const ADOBE = Buffer.from('Adobe\0\x64\0\0\0\0', 'latin1');

interface Told {
  jfif: boolean;
  /** How the colours are written, where Adobe's marker says so. */
  adobe: number | null;
  orientation: number | null;
  readonly profile: Buffer[];
}

/**
 * The picture of a JPEG, with which side is up and what colours need, written anew: without any segment of an
 * application, any comment, and anything behind its end, where cameras put films and further pictures.
 *
 * @returns null for one that is broken or cut short
 */
export function bareJpeg(bytes: Buffer): Buffer | null {
  const told: Told = { jfif: false, adobe: null, orientation: null, profile: [] };
  const picture: Buffer[] = [];
  for (let at = SOI.length; ; ) {
    if (bytes[at] !== MARK) return null;
    while (bytes[at + 1] === MARK) at += 1;
    const marker = bytes[at + 1];
    if (marker === undefined) return null;
    if (marker === EOI[1]) return Buffer.concat([SOI, ...toldAnew(told), ...picture, EOI]);
    if (at + 4 > bytes.length) return null;
    const end = at + 2 + bytes.readUInt16BE(at + 2);
    if (end < at + 4 || end > bytes.length) return null;
    if (isPicturePart(marker)) picture.push(bytes.subarray(at, end));
    else hear(marker, bytes.subarray(at + 4, end), told);
    at = end;
    if (marker !== SOS) continue;
    const next = endOfScan(bytes, at);
    if (next === null) return null;
    picture.push(bytes.subarray(at, next));
    at = next;
  }
}

/** Frames, scans and the tables that they need. */
function isPicturePart(marker: number): boolean {
  return marker >= 0xc0 && marker <= 0xdf && marker !== 0xc8 && !(marker >= 0xd0 && marker <= 0xd8);
}

/** In the data of a scan a marker's first byte stands before a zero, or before a mark to start over. */
function endOfScan(bytes: Buffer, from: number): number | null {
  for (let at = bytes.indexOf(MARK, from); at >= 0; at = bytes.indexOf(MARK, at + 1)) {
    const next = bytes[at + 1];
    if (next === undefined) return null;
    if (next !== 0 && next !== MARK && !(next >= 0xd0 && next <= 0xd7)) return at;
  }
  return null;
}

function hear(marker: number, data: Buffer, told: Told): void {
  const begins = (name: Buffer) => data.subarray(0, name.length).equals(name);
  if (marker === APP0 && begins(JFIF.subarray(0, 5))) told.jfif = true;
  if (marker === APP14 && begins(ADOBE.subarray(0, 5)) && data.length >= 12) told.adobe = data.readUInt8(11);
  if (marker === APP1 && begins(EXIF)) told.orientation ??= orientationIn(data.subarray(EXIF.length));
  // Two bytes number the pieces of a profile, which come in order.
  if (marker === APP2 && begins(PROFILE)) told.profile.push(data.subarray(PROFILE.length + 2));
}

function toldAnew({ jfif, adobe, orientation, profile }: Told): readonly Buffer[] {
  const colours = profile.length === 0 ? null : bareProfile(Buffer.concat(profile));
  return [
    ...(jfif ? [segment(APP0, JFIF)] : []),
    ...((orientation ?? 1) === 1 ? [] : [segment(APP1, EXIF, exifOf(orientation ?? 1))]),
    ...(colours === null ? [] : [segment(APP2, PROFILE, Buffer.from([1, 1]), colours)]),
    ...(adobe === null ? [] : [segment(APP14, ADOBE, Buffer.from([adobe]))]),
  ];
}

function segment(marker: number, ...data: readonly Buffer[]): Buffer {
  const body = Buffer.concat(data);
  const head = Buffer.from([MARK, marker, 0, 0]);
  head.writeUInt16BE(body.length + 2, 2);
  return Buffer.concat([head, body]);
}
