import { randomBytes } from 'node:crypto';
import { closeSync, fchmodSync, fsyncSync, openSync, renameSync, rmSync, statSync, writeSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { makeFolder } from './make-folder.js';

/**
 * Writes a file whole or not at all: aside first, onto the disk, then renamed into its place. Whoever reads
 * meanwhile sees the old file or the new one. Folders on the way are made; the mode of an old file is kept.
 *
 * @param onDisk `now` for what must outlive a loss of power; `soon` for what can be made again, which is many
 *   times faster.
 * @throws what the file system throws; nothing is left behind then.
 */
export function writeWhole(path: string, content: string | Uint8Array, onDisk: 'now' | 'soon' = 'now'): void {
  const folder = dirname(path);
  makeFolder(folder);
  const aside = join(folder, `.${basename(path)}.${randomBytes(6).toString('hex')}.part`);
  try {
    const mode = modeOf(path);
    const handle = openSync(aside, 'wx', mode ?? 0o666);
    try {
      // What a new file may be is bounded by the process's mask; an old one keeps what it had.
      if (mode !== null) fchmodSync(handle, mode);
      const bytes = typeof content === 'string' ? Buffer.from(content) : content;
      for (let done = 0; done < bytes.length; ) done += writeSync(handle, bytes, done);
      if (onDisk === 'now') fsyncSync(handle);
    } finally {
      closeSync(handle);
    }
    renameSync(aside, path);
  } catch (error) {
    removeAside(aside);
    // That it was written aside first is nobody else's matter.
    throw toldOf(error, path);
  }
}

/** The same fault, told of the file that was wanted; of a full disk the system does not say which file it was. */
export function toldOf(error: unknown, path: string): unknown {
  return error instanceof Error && 'code' in error ? Object.assign(error, { path }) : error;
}

/** Where the folder lets nothing be written, it may not let anything be taken away either; the first fault counts. */
function removeAside(aside: string): void {
  try {
    rmSync(aside, { force: true });
  } catch {
    // What could not be written is the fault that is told of.
  }
}

/** The mode of a file; null where there is none. */
function modeOf(path: string): number | null {
  try {
    return statSync(path).mode & 0o777;
  } catch {
    return null;
  }
}
