import { join } from 'node:path';
import type { BookFolder } from '../read/folder.js';
import { chainOf } from './chain.js';
import { differencesOf, isSame } from './compare.js';
import { sourcesOf, subjectOf } from './sources.js';
import { keyText, type SshKey } from './ssh-key.js';
import { type KeptSeal, nextName, readKept } from './store.js';
import { readSeal, sealText } from './text.js';

/** A seal that is ready to be signed and written, or why there is none. */
export type NewSeal =
  | {
      readonly state: 'ready';
      readonly file: string;
      readonly text: string;
      readonly files: number;
      readonly entries: number;
    }
  /** The newest seal, of the same day and key, says the same. */
  | { readonly state: 'sealed-already'; readonly file: string }
  | { readonly state: 'refused'; readonly why: string; readonly hint: string };

/**
 * Makes the seal of a book as it was read.
 *
 * @param today `YYYY-MM-DD`.
 * @param key the public key that will sign it; null where none will.
 */
export function newSeal(
  folder: BookFolder,
  kept: readonly KeptSeal[],
  today: string,
  key: SshKey | null,
): NewSeal {
  const covered = sourcesOf(folder);
  const [unreadable] = covered.unreadable;
  if (unreadable !== undefined)
    return refused(`\`${unreadable.path}\` cannot be sealed: ${unreadable.why}.`, 'Mend or remove it.');
  const last = kept.at(-1);
  const before = last === undefined ? null : readSeal(readKept(join(folder.root, last.file)).bytes);
  if (last !== undefined && before?.ok === false)
    return refused(
      `\`${last.file}\`, the seal before, is no whole seal: ${before.why}.`,
      'Put it back from a copy, or move it out of the book.',
    );
  if (last !== undefined && last.day > today)
    return refused(
      `\`${last.file}\` is of a day that is still to come.`,
      'Set the clock right, or RIBBAND_TODAY.',
    );
  const signer = key === null ? null : keyText(key);
  if (
    before?.ok === true &&
    before.seal.made === today &&
    before.seal.key === signer &&
    isSame(differencesOf(before.seal, covered))
  )
    return { state: 'sealed-already', file: last?.file ?? '' };
  const text = sealText({
    of: 'book',
    subject: subjectOf(folder),
    made: today,
    key: signer,
    previous: before?.ok === true ? { file: last?.file ?? '', sha256: before.hash } : null,
    book: null,
    files: [...covered.files],
    entries: chainOf(covered.entries),
  });
  const { entries } = covered;
  return {
    state: 'ready',
    file: nextName(kept, today),
    text,
    files: covered.files.length + entries.length,
    entries: entries.length,
  };
}

function refused(why: string, hint: string): NewSeal {
  return { state: 'refused', why, hint };
}
