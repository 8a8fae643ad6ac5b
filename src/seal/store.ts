import { lstatSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { NameTaken, writeTogether } from '../write/together.js';

/** The seals of a book: `seals/DATE.json`, one beside the other, with their signatures in `DATE.json.sig`. */
export const SEAL_FOLDER = 'seals';

const NAME = /^(\d{4}-\d{2}-\d{2})(?:-([2-9]|[1-9]\d{1,3}))?\.json$/;

/** A seal by its place. */
export interface KeptSeal {
  /** Path in the book. */
  readonly file: string;
  /** Day in its name. */
  readonly day: string;
  /** 1 for the first of its day. */
  readonly number: number;
}

/** The seals of a book, oldest first. A folder that is not there has none. */
export function sealsIn(root: string): readonly KeptSeal[] {
  return namesIn(root)
    .flatMap((name) => {
      const [, day, number] = NAME.exec(name) ?? [];
      return day === undefined ? [] : [{ file: `${SEAL_FOLDER}/${name}`, day, number: Number(number ?? 1) }];
    })
    .sort((a, b) => (a.day === b.day ? a.number - b.number : a.day < b.day ? -1 : 1));
}

function namesIn(root: string): readonly string[] {
  const folder = join(root, SEAL_FOLDER);
  if (lstatSync(folder, { throwIfNoEntry: false })?.isDirectory() !== true) return [];
  return readdirSync(folder, { withFileTypes: true })
    .filter((item) => item.isFile())
    .map(({ name }) => name);
}

/** The bytes of a seal and the text of its signature, null where there is none. @throws what the file system throws. */
export function readKept(path: string): { readonly bytes: Buffer; readonly signature: string | null } {
  return { bytes: readFileSync(path), signature: readIfThere(`${path}.sig`) };
}

function readIfThere(path: string): string | null {
  const stat = lstatSync(path, { throwIfNoEntry: false });
  return stat?.isFile() === true ? readFileSync(path, 'latin1') : null;
}

/** The path of the next seal of a day: never one that is taken. */
export function nextName(kept: readonly KeptSeal[], day: string): string {
  const last = Math.max(0, ...kept.filter((seal) => seal.day === day).map(({ number }) => number));
  return `${SEAL_FOLDER}/${day}${last === 0 ? '' : `-${last + 1}`}.json`;
}

/**
 * Puts a seal and its signature in their places, both or neither. The signature goes first: whoever copies the folder
 * at a bad moment has a signature too many, which counts for nothing, and never a seal without its signature.
 *
 * @returns false where something has the name already. @throws what the file system throws, and for a link on the way.
 */
export function keepSeal(root: string, file: string, text: string, signature: string | null): boolean {
  const signed = signature === null ? [] : [{ path: `${file}.sig`, content: signature, replaces: true }];
  try {
    writeTogether(root, [...signed, { path: file, content: text, replaces: false }]);
    return true;
  } catch (error) {
    if (error instanceof NameTaken) return false;
    throw error;
  }
}
