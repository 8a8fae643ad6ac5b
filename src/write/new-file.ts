import { constants, copyFileSync, linkSync, lstatSync } from 'node:fs';
import { join, relative, sep } from 'node:path';

/**
 * Gives a finished file a second name that nothing has yet: unlike a renaming, that takes nobody's place.
 *
 * @returns false where something has the name already, whether it was there before or came this moment; all is as
 *   it was then. @throws what the file system throws.
 */
export function placeNew(finished: string, file: string): boolean {
  try {
    place(finished, file);
    return true;
  } catch (error) {
    if (codeOf(error) === 'EEXIST') return false;
    throw error;
  }
}

function place(finished: string, file: string): void {
  try {
    linkSync(finished, file);
  } catch (error) {
    // Some disks (cards and sticks) know no second names.
    if (!['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK'].includes(codeOf(error))) throw error;
    copyFileSync(finished, file, constants.COPYFILE_EXCL);
  }
}

/** A folder on the way that is a link; what is written through it would lie outside the book. */
export class LinkOnTheWay extends Error {}

/** @throws LinkOnTheWay where a folder below `root` on the way to `folder`, or that folder itself, is a link. */
export function refuseLinks(root: string, folder: string): void {
  const steps = relative(root, folder).split(sep);
  for (const [index] of steps.entries()) {
    const part = join(root, ...steps.slice(0, index + 1));
    if (lstatSync(part, { throwIfNoEntry: false })?.isSymbolicLink() === true) throw new LinkOnTheWay(part);
  }
}

/** The system's word for what went wrong (`EEXIST`); empty where it has none. */
export function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';
}
