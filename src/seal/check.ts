import { join } from 'node:path';
import type { Seal } from '../../schemas/seal.js';
import { type Differences, differencesOf, isSame } from './compare.js';
import type { Covered } from './sources.js';
import { fingerprint, keysIn, keyText, type SshKey } from './ssh-key.js';
import { verifySignature } from './ssh-signature.js';
import { type KeptSeal, readKept } from './store.js';
import { readSeal } from './text.js';

/** Holds what lies there against a seal. Nothing is ever opened because a seal names it. */

/** A seal as it was found. */
export interface OpenedSeal {
  /** Where it was found, for people. */
  readonly file: string;
  readonly seal: Seal;
  readonly hash: string;
  readonly signature: SignatureFinding;
}

/** What is to be said of the signature. */
export type SignatureFinding =
  | { readonly state: 'none' }
  /** The seal says that it is signed, and no signature lies beside it. */
  | { readonly state: 'missing'; readonly due: string }
  | { readonly state: 'bad'; readonly why: string }
  | {
      readonly state: 'good';
      readonly type: string;
      readonly fingerprint: string;
      /** Whether it is a key that whoever checks has named; null where none was named. */
      readonly isNamed: boolean | null;
    };

/** Something wrong with the seals before this one. */
export interface Before {
  readonly file: string;
  readonly why: string;
}

/** What holding files against a seal has shown. */
export interface Holding {
  readonly differences: Differences;
  readonly unreadable: Covered['unreadable'];
}

/**
 * Opens a seal.
 *
 * @param signers the keys of those whose signature is looked for; null where none are named.
 * @returns a text where it is no whole seal: why. @throws what the file system throws.
 */
export function openSeal(path: string, file: string, signers: readonly SshKey[] | null): OpenedSeal | string {
  const { bytes, signature } = readKept(path);
  const read = readSeal(bytes);
  if (!read.ok) return read.why;
  const { seal, hash } = read;
  return { file, seal, hash, signature: signatureFinding(bytes, seal, signature, signers) };
}

function signatureFinding(
  bytes: Uint8Array,
  seal: Seal,
  signature: string | null,
  signers: readonly SshKey[] | null,
): SignatureFinding {
  const due = keysIn(seal.key ?? '')[0];
  if (signature === null)
    return seal.key === null
      ? { state: 'none' }
      : { state: 'missing', due: due === undefined ? 'a key that cannot be made out' : fingerprint(due) };
  const verdict = verifySignature(bytes, signature);
  if (!verdict.ok) return { state: 'bad', why: verdict.why };
  const { key } = verdict;
  if (seal.key !== null && keyText(key) !== seal.key)
    return { state: 'bad', why: 'it is by another key than the one that the seal names' };
  return {
    state: 'good',
    type: key.type,
    fingerprint: fingerprint(key),
    isNamed: signers === null ? null : signers.some((signer) => keyText(signer) === keyText(key)),
  };
}

/**
 * Follows the seals of a book back from one: each names the one before with its hash, so none can be changed or
 * taken away by itself.
 *
 * @param kept the seals that lie in the book; only these are opened.
 */
export function sealsBefore(
  root: string,
  { seal }: OpenedSeal,
  kept: readonly KeptSeal[],
): readonly Before[] {
  const known = new Set(kept.map(({ file }) => file));
  const seen = new Set<string>();
  for (let named = seal.previous; named !== null; ) {
    const { file, sha256 } = named;
    if (!known.has(file)) return [{ file, why: 'it is not there' }];
    if (seen.has(file)) return [{ file, why: 'it comes before itself' }];
    seen.add(file);
    const read = readSeal(readKept(join(root, file)).bytes);
    if (!read.ok) return [{ file, why: `it is no whole seal: ${read.why}` }];
    if (read.hash !== sha256) return [{ file, why: 'it is not the one that the seal after it names' }];
    named = read.seal.previous;
  }
  return [];
}

/** Holds files against a seal. */
export function holdAgainst(seal: Seal, covered: Covered): Holding {
  return { differences: differencesOf(seal, covered), unreadable: covered.unreadable };
}

/** Whether all is as it was sealed. */
export function holds({ differences, unreadable }: Holding): boolean {
  return isSame(differences) && unreadable.length === 0;
}
