import { randomBytes } from 'node:crypto';
import { linkSync, lstatSync, mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { basename, dirname, join, relative, sep } from 'node:path';
import { writeWhole } from './whole.js';

/**
 * Writes a file that is not there yet, whole or not at all, and over nothing: where something has the name
 * already, whether it was there before or came this moment, the answer is no and all is as it was.
 *
 * @param root the folder below which no folder on the way may be a link.
 * @returns whether it was written. @throws what the file system throws, and for a link on the way.
 */
export function writeNew(root: string, path: string, content: string | Uint8Array): boolean {
  const file = join(root, path);
  refuseLinks(root, dirname(file));
  mkdirSync(dirname(file), { recursive: true });
  const aside = join(dirname(file), `.${basename(file)}.${randomBytes(6).toString('hex')}.new`);
  writeWhole(aside, content);
  try {
    placeNew(aside, file, content);
    return true;
  } catch (error) {
    if (codeOf(error) === 'EEXIST') return false;
    throw error;
  } finally {
    rmSync(aside, { force: true });
  }
}

/** A second name for the finished file: unlike a renaming, that takes nobody's place. */
function placeNew(aside: string, file: string, content: string | Uint8Array): void {
  try {
    linkSync(aside, file);
  } catch (error) {
    // Some disks (cards and sticks) know no second names.
    if (!['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK'].includes(codeOf(error))) throw error;
    writeFileSync(file, content, { flag: 'wx' });
  }
}

/** A folder on the way that is a link; what is written through it would lie outside the book. */
export class LinkOnTheWay extends Error {}

function refuseLinks(root: string, folder: string): void {
  const steps = relative(root, folder).split(sep);
  for (const [index] of steps.entries()) {
    const part = join(root, ...steps.slice(0, index + 1));
    if (lstatSync(part, { throwIfNoEntry: false })?.isSymbolicLink() === true) throw new LinkOnTheWay(part);
  }
}

function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';
}
