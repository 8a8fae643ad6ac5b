import type { SealSummary } from '../../seal/summary.js';

/** A seal as a pack shows it; how many files it covers is null where that is not for the reader to know. */
export type PackSeal = Omit<SealSummary, 'files'> & { readonly files: number | null };

/** What the pack says about its seal. */
export interface SealView {
  readonly seal: PackSeal | null;
  /** How to check it, step by step; empty where there is nothing to check. */
  readonly steps: readonly string[];
}

/** The section about the seal. */
export function sealView(seal: PackSeal | null): SealView {
  if (seal === null) return { seal, steps: [] };
  return {
    seal,
    steps: [
      'Ask the owner for the files of the book and the seal that belongs to this pack.',
      'Run `ribband seal --check` on them. It names every file that was changed, added, removed or reordered since.',
      'Compare the hash that it prints with the one above, letter by letter.',
      ...(seal.signedBy === null
        ? []
        : [
            'Check that the key by which it is signed is the owner’s: ask for it by another way than this pack.',
          ]),
    ],
  };
}
