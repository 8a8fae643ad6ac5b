import { crc32 } from 'node:zlib';

/**
 * Writes a zip, a file at a time (ISO/IEC 21320-1). Everything is stored as it is: pictures do not get smaller, and no
 * version of a compressor has a say in the bytes, so that the same files give the same zip on every machine and in
 * every year. Libraries for this compress, hold the whole in memory, or leave lengths to be said behind a stored file,
 * which not everything that unpacks can read.
 */

/** A file on its way into a zip. */
export interface ZipFile {
  /** With forward slashes, from the folder that it is unpacked into. */
  readonly path: string;
  readonly read: () => Uint8Array;
}

/** What the format can count in its first version, which everything reads. */
export const ZIP_LIMITS = { files: 65_535, bytes: 0xffff_ffff } as const;

const LOCAL = 0x04034b50;
const CENTRAL = 0x02014b50;
const END = 0x06054b50;

/** Version 2.0 of the format; what is needed to unpack, too. */
const VERSION = 20;

/** Names are in UTF-8. */
const FLAGS = 0x0800;

/** 1 January 1980, midnight, the first moment that the format knows: no file's own time is told. */
const DATE = 0x0021;

/**
 * The bytes of a zip of these files, in order, in pieces; no more than one file is held at a time.
 *
 * @throws Error where there is more than `ZIP_LIMITS` says, or what reading a file throws
 */
export function* zipOf(files: readonly ZipFile[]): Generator<Uint8Array> {
  if (files.length > ZIP_LIMITS.files) throw new Error(`more than ${ZIP_LIMITS.files} files`);
  const central: Buffer[] = [];
  let at = 0;
  for (const { path, read } of files) {
    const bytes = read();
    const name = Buffer.from(path);
    const facts = factsOf(bytes, name);
    const local = headed(LOCAL, facts, Buffer.alloc(0));
    yield Buffer.concat([local, name]);
    yield bytes;
    central.push(headed(CENTRAL, facts, rest(at)), name);
    at += local.length + name.length + bytes.length;
    if (at > ZIP_LIMITS.bytes) throw new Error(`more than ${ZIP_LIMITS.bytes} bytes`);
  }
  const list = Buffer.concat(central);
  yield list;
  yield end(files.length, list.length, at);
}

/** What stands both before a file and in the list at the end. */
function factsOf(bytes: Uint8Array, name: Buffer): Buffer {
  const facts = Buffer.alloc(26);
  facts.writeUInt16LE(VERSION, 0);
  facts.writeUInt16LE(FLAGS, 2);
  // 0 at 4: stored; 0 at 6: midnight.
  facts.writeUInt16LE(DATE, 8);
  facts.writeUInt32LE(crc32(bytes), 10);
  facts.writeUInt32LE(bytes.length, 14);
  facts.writeUInt32LE(bytes.length, 18);
  facts.writeUInt16LE(name.length, 22);
  return facts;
}

function headed(signature: number, facts: Buffer, more: Buffer): Buffer {
  const head = Buffer.alloc(signature === CENTRAL ? 6 : 4);
  head.writeUInt32LE(signature);
  // The list says besides which version wrote it.
  if (signature === CENTRAL) head.writeUInt16LE(VERSION, 4);
  return Buffer.concat([head, facts, more]);
}

/** The end of a row of the list: no comment, no attributes, and where the file begins. */
function rest(at: number): Buffer {
  const more = Buffer.alloc(14);
  more.writeUInt32LE(at, 10);
  return more;
}

function end(files: number, length: number, at: number): Buffer {
  const bytes = Buffer.alloc(22);
  bytes.writeUInt32LE(END);
  bytes.writeUInt16LE(files, 8);
  bytes.writeUInt16LE(files, 10);
  bytes.writeUInt32LE(length, 12);
  bytes.writeUInt32LE(at, 16);
  return bytes;
}
