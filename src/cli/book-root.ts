import { existsSync, readdirSync, type Stats, statSync } from 'node:fs';
import { basename, dirname, join, relative, resolve } from 'node:path';
import { finishWriting } from '../write/together.js';
import type { Effects } from './effects.js';
import { Refusal } from './refusal.js';

const START_ONE = '`ribband init` starts a new one.';

/**
 * The folder of the book that a command is about: the one given; else the current folder; else the one
 * folder in it that has a `book.yaml`, or the next one above it that has, which is then said.
 *
 * What a killed run has left to be put in its place is put there first.
 *
 * @returns an absolute path. @throws Refusal where there is no book there.
 */
export function findBook(given: string | undefined, effects: Pick<Effects, 'cwd' | 'err'>): string {
  const root = given === undefined ? findHere(effects) : findGiven(given, effects.cwd);
  const moved = finishWriting(root);
  if (moved.length > 0)
    effects.err(`Put in place what a run that was broken off had written: ${moved.join(', ')}.\n`);
  return root;
}

function findGiven(given: string, cwd: string): string {
  const root = resolve(cwd, given);
  const stat = lookAt(root);
  if (stat === undefined) throw new Refusal(`There is no folder \`${given}\`.`);
  if (!stat.isDirectory()) {
    const hint = basename(root) === 'book.yaml' ? 'Give the folder in which it lies.' : null;
    throw new Refusal(`\`${given}\` is a file; a book is a folder.`, hint);
  }
  if (isBook(root)) return root;
  const [inside, ...more] = booksIn(root);
  const hint =
    inside === undefined || more.length > 0 ? START_ONE : `Did you mean \`${join(given, inside)}\`?`;
  throw new Refusal(`\`${given}\` is no book: there is no book.yaml in it.`, hint);
}

function findHere({ cwd, err }: Pick<Effects, 'cwd' | 'err'>): string {
  if (isBook(cwd)) return cwd;
  const [inside, ...more] = booksIn(cwd);
  if (inside === undefined) {
    const above = bookAbove(cwd);
    if (above === null)
      throw new Refusal('There is no book.yaml in the current folder, nor in one above it.', START_ONE);
    err(`Taking the book in ${seenFrom(cwd, above)}, in which this folder lies.\n`);
    return above;
  }
  if (more.length > 0)
    throw new Refusal(
      `There is more than one book here: ${[inside, ...more].join(', ')}.`,
      'Name one of them.',
    );
  err(`Taking the book in ./${inside}.\n`);
  return join(cwd, inside);
}

/** A folder with a `book.yaml`; or with the folders of a book that has lost it, which the checker will tell. */
function isBook(folder: string): boolean {
  const has = (name: string) => existsSync(join(folder, name));
  return has('book.yaml') || (has('entries') && has('systems'));
}

/** The nearest folder above that has a `book.yaml`; null where there is none up to the root of the disk. */
export function bookAbove(folder: string): string | null {
  const above = dirname(folder);
  if (above === folder) return null;
  return existsSync(join(above, 'book.yaml')) ? above : bookAbove(above);
}

function booksIn(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true })
    .filter((item) => item.isDirectory() && !item.name.startsWith('.') && item.name !== 'node_modules')
    .map((item) => item.name)
    .filter((name) => existsSync(join(folder, name, 'book.yaml')))
    .sort();
}

function lookAt(path: string): Stats | undefined {
  return statSync(path, { throwIfNoEntry: false });
}

/** A path as seen from the current folder, with forward slashes. */
export function seenFrom(cwd: string, path: string): string {
  return relative(cwd, path).replaceAll('\\', '/');
}
