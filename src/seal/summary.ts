import type { Seal } from '../../schemas/seal.js';
import { fingerprint, keysIn } from './ssh-key.js';

/** What a printed page says of a seal, so that whoever holds it can tell later whether anything was changed. */
export interface SealSummary {
  /** SHA-256 of the bytes of the seal, in hexadecimal, as `sha256sum` prints it. */
  readonly hash: string;
  /** Day on which it was made, by the clock of whoever made it. */
  readonly made: string;
  /** How many files it covers. */
  readonly files: number;
  /** Fingerprint of the key that has signed it, as it says itself; null where it is not signed. */
  readonly signedBy: string | null;
}

/** What a seal proves where all is as it was sealed. */
export const PROVES: readonly string[] = [
  'The files are, to the last bit, those that were sealed; none was changed, added, removed or put in another order since.',
];

/** What it does not prove. */
export const PROVES_NOT: readonly string[] = [
  'That what was written was true when it was written.',
  'When it was written or sealed: whoever makes a seal can set any date. Only a hash that lay elsewhere at the time can show that: on a printed page, in a letter, with a timestamp service.',
];

/**
 * Sums a seal up.
 *
 * @param hash SHA-256 of its bytes.
 */
export function sealSummary({ made, files, entries, key }: Seal, hash: string): SealSummary {
  const signer = keysIn(key ?? '')[0];
  return {
    hash,
    made,
    files: files.length + entries.length,
    signedBy: signer === undefined ? null : fingerprint(signer),
  };
}
