import type { Seal } from '../../schemas/seal.js';
import { groupLines } from './groups.js';

/** What a printed page says of a seal, so that whoever holds it can tell later whether anything was changed. */
export interface SealSummary {
  readonly file: string;
  readonly made: string;
  readonly files: number;
  readonly entries: number;
  /** Dates of the first and last entry; null where there is none. */
  readonly from: string | null;
  readonly to: string | null;
  readonly signed: boolean;
  /** The seal's hash as it can be read aloud, in lines. */
  readonly hash: readonly string[];
  /** What to do with it, a step each. */
  readonly steps: readonly string[];
  readonly proves: readonly string[];
  readonly provesNot: readonly string[];
}

/** What a seal proves where all is as it was sealed, and what it does not. */
export const PROVES: readonly string[] = [
  'The files are, to the last bit, those that were sealed; none was changed, added, removed or put in another order since.',
];

export const PROVES_NOT: readonly string[] = [
  'That what was written was true when it was written.',
  'When it was written or sealed: whoever makes a seal can set any date. Only a hash that lay elsewhere at the time can show that: on a printed page, in a letter, with a timestamp service.',
];

/**
 * Sums a seal up for a page.
 *
 * @param hash SHA-256 of the bytes of the seal.
 */
export function sealSummary(file: string, seal: Seal, hash: string): SealSummary {
  return {
    file,
    made: seal.made,
    files: seal.files.length + seal.entries.length,
    entries: seal.entries.length,
    from: seal.entries[0]?.date ?? null,
    to: seal.entries.at(-1)?.date ?? null,
    signed: seal.key !== null,
    hash: groupLines(hash),
    steps: [
      `Ask for the folder of the book, with ${file} in it.`,
      `Compare the hash above with the first line that \`sha256sum ${file}\` prints; any computer has such a tool.`,
      'Run `ribband seal --check FOLDER`. It names every file that is not as it was sealed.',
    ],
    proves: PROVES,
    provesNot: PROVES_NOT,
  };
}
