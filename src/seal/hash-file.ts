import { createHash } from 'node:crypto';
import { closeSync, fstatSync, openSync, readSync } from 'node:fs';

const PIECE = 1 << 20;

/**
 * The SHA-256 of a file, in hexadecimal, read piece by piece, so that a film is never in memory whole.
 *
 * @throws what the file system throws.
 */
export function hashFile(path: string): string {
  const handle = openSync(path, 'r');
  try {
    const hash = createHash('sha256');
    const piece = Buffer.allocUnsafe(Math.min(PIECE, Math.max(1, fstatSync(handle).size)));
    for (let read = 1; read > 0; ) {
      read = readSync(handle, piece, 0, piece.length, null);
      hash.update(piece.subarray(0, read));
    }
    return hash.digest('hex');
  } finally {
    closeSync(handle);
  }
}
