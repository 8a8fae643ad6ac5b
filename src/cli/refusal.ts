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

const REASONS: Readonly<Record<string, string | undefined>> = {
  EACCES: 'you have no permission',
  EPERM: 'you have no permission',
  EROFS: 'the disk is read-only',
  ENOSPC: 'the disk is full',
  EDQUOT: 'your share of the disk is full',
  EEXIST: 'something else is there already',
  EISDIR: 'it is a folder',
  ENOTDIR: 'part of the path is a file, not a folder',
  ELOOP: 'its links lead in a circle',
  ENAMETOOLONG: 'the name is too long',
};

/**
 * A fault of the file system in plain words, or null where it is a fault of the program.
 *
 * @param error whatever was thrown.
 */
export function fileSystemRefusal(error: unknown): Refusal | null {
  if (!(error instanceof Error) || !('code' in error) || typeof error.code !== 'string') return null;
  const reason = REASONS[error.code];
  if (reason === undefined) return null;
  const path = 'path' in error && typeof error.path === 'string' ? error.path : null;
  return new Refusal(
    `Cannot ${path === null ? 'write there' : `use ${plainLine(path, LONGEST_PATH)}`}: ${reason}.`,
  );
}
