import { existsSync, mkdirSync } from 'node:fs';
import { dirname } from 'node:path';
import { codeOf } from './new-file.js';

/**
 * Makes a folder, with those on the way to it.
 *
 * @returns the first that was made; undefined where all were there.
 * @throws what the file system throws. Of a disk that lets nothing be written Node says, of a folder that is made with
 *   those on the way, only that something is not there: the one that is lacking is then tried by itself.
 */
export function makeFolder(path: string): string | undefined {
  try {
    return mkdirSync(path, { recursive: true });
  } catch (error) {
    if (codeOf(error) !== 'ENOENT') throw error;
    let lacking = path;
    while (!existsSync(dirname(lacking)) && dirname(lacking) !== lacking) lacking = dirname(lacking);
    mkdirSync(lacking);
    mkdirSync(path, { recursive: true });
    return lacking;
  }
}
