import { plainLine } from '../quantity/plain-line.js';

/** Why a command was not carried out: wrong use, or a file system that does not let it. Told in plain words. */
export class Refusal extends Error {
  /** What to do about it, or null. */
  readonly hint: string | null;

  constructor(message: string, hint: string | null = null) {
    super(message);
    this.name = 'Refusal';
    this.hint = hint;
  }
}

/** A refusal on one line: what, where, and what to do about it. */
export function sayRefusal({ message, hint }: Refusal): string {
  return hint === null ? message : `${message} ${hint}`;
}

/** As much of a path as is told. */
const LONGEST_PATH = 300;

/** Exit codes; they are part of what scripts rely on. */
export const EXIT = { clean: 0, problems: 1, wrongUse: 2, fault: 70 } as const;

/** What a system's word means, and what to do about it. */
const REASONS: Readonly<Record<string, readonly [reason: string, hint: string | null] | undefined>> = {
  EACCES: ['you have no permission', 'Change whose it is, or take another folder.'],
  EPERM: ['you have no permission', 'Change whose it is, or take another folder.'],
  EROFS: ['the disk is read-only', 'Take a folder on another disk, or make this one writable.'],
  ENOSPC: ['the disk is full', 'Make room on it, and call this again.'],
  EDQUOT: ['your share of the disk is full', 'Take something of yours away, and call this again.'],
  EFBIG: ['the file would be larger than is let here', null],
  EMFILE: ['too many files are open at once', 'Let more be opened (`ulimit -n`), and call this again.'],
  ENFILE: ['too many files are open on this machine', 'End some other programs, and call this again.'],
  EBUSY: ['another program holds it', 'End that program, and call this again.'],
  EIO: ['the disk does not answer as it should', 'Look after the disk before anything else.'],
  EEXIST: ['something else is there already', 'Move it away, or take another name.'],
  EISDIR: ['it is a folder', null],
  ENOTDIR: ['part of the path is a file, not a folder', null],
  ELOOP: ['its links lead in a circle', null],
  ENAMETOOLONG: ['the name is too long', null],
};

/**
 * A fault of the file system in plain words, or null where it is a fault of the program.
 *
 * @param error whatever was thrown.
 * @param tried what could not be done, where the fault does not say of which file it is.
 */
export function fileSystemRefusal(error: unknown, tried = 'write there'): Refusal | null {
  if (!(error instanceof Error) || !('code' in error) || typeof error.code !== 'string') return null;
  const known = REASONS[error.code];
  if (known === undefined) return null;
  const [reason, hint] = known;
  const path = 'path' in error && typeof error.path === 'string' ? error.path : null;
  const what = path === null ? tried : `use ${plainLine(path, LONGEST_PATH)}`;
  return new Refusal(`Cannot ${what}: ${reason}.`, hint);
}
