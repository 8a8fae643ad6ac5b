import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { type OpenedSeal, openSeal } from '../seal/check.js';
import { keysIn, type SshKey } from '../seal/ssh-key.js';
import { type KeptSeal, SEAL_FOLDER, sealsIn } from '../seal/store.js';
import { seenFrom } from './book-root.js';
import type { Effects } from './effects.js';
import { Refusal } from './refusal.js';

/** The seals that a command is told of. */

/** A seal that was looked for: opened, or the reason why it is none. */
export interface NamedSeal {
  readonly file: string;
  readonly opened: OpenedSeal | string;
}

/**
 * Opens the seal that was named, from the current folder or from the book's, or by its day; or the newest of the book.
 *
 * @throws Refusal where there is none.
 */
export function namedSeal(
  named: string | null,
  root: string,
  kept: readonly KeptSeal[],
  signers: readonly SshKey[] | null,
  { cwd }: Pick<Effects, 'cwd'>,
): NamedSeal {
  const newest = kept.at(-1);
  if (named === null && newest === undefined)
    throw new Refusal('There is no seal in this book.', '`ribband seal` makes one.');
  const ways =
    named === null
      ? [join(root, newest?.file ?? '')]
      : [resolve(cwd, named), resolve(root, named), resolve(root, SEAL_FOLDER, `${named}.json`)];
  const path = ways.find((way) => existsSync(way));
  if (path === undefined) throw new Refusal(`There is no seal \`${named}\`.`, sealsThere(root));
  const file = seenFrom(cwd, path);
  return { file, opened: openSeal(path, file, signers) };
}

function sealsThere(root: string): string | null {
  const names = sealsIn(root).map(({ file }) => file);
  return names.length === 0 ? null : `In the book there are ${names.join(', ')}.`;
}

/** The keys in a file. @throws Refusal where there are none. */
export function signersGiven(file: string | null, { cwd }: Pick<Effects, 'cwd'>): readonly SshKey[] | null {
  if (file === null) return null;
  const path = resolve(cwd, file);
  if (!existsSync(path)) throw new Refusal(`There is no file \`${file}\`.`);
  const keys = keysIn(readFileSync(path, 'latin1'));
  if (keys.length === 0)
    throw new Refusal(
      `There is no public key in \`${file}\`.`,
      'Name a .pub file, or a list of allowed signers of OpenSSH.',
    );
  return keys;
}
