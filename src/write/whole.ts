import { randomBytes } from 'node:crypto';
import { closeSync, fsyncSync, mkdirSync, openSync, renameSync, rmSync, statSync, writeSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';

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
  mkdirSync(folder, { recursive: true });
  const aside = join(folder, `.${basename(path)}.${randomBytes(6).toString('hex')}.part`);
  try {
    const handle = openSync(aside, 'wx', modeOf(path));
    try {
      const bytes = typeof content === 'string' ? Buffer.from(content) : content;
      for (let done = 0; done < bytes.length; ) done += writeSync(handle, bytes, done);
      if (onDisk === 'now') fsyncSync(handle);
    } finally {
      closeSync(handle);
    }
    renameSync(aside, path);
  } catch (error) {
    rmSync(aside, { force: true });
    throw error;
  }
}

function modeOf(path: string): number {
  try {
    return statSync(path).mode & 0o777;
  } catch {
    return 0o666;
  }
}
