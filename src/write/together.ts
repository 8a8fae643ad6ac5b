import {
  existsSync,
  lstatSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmdirSync,
  rmSync,
  statSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { CACHE_FOLDER } from './cache.js';
import { makeFolder } from './make-folder.js';
import { codeOf, placeNew, refuseLinks } from './new-file.js';
import { toldOf, writeWhole } from './whole.js';

/**
 * Several files of a book written together, all or none, also where the run is killed in between. They are written
 * aside; then a list of where each belongs is put down, from which moment on they count as written; then they
 * are moved. Who opens the book next moves what is left. Before the list is there nothing has happened.
 */

/** A file that is to be written. */
export interface Together {
  /** Path in the book, with forward slashes. */
  readonly path: string;
  readonly content: string | Uint8Array;
  /** Whether an older file of that name is replaced; else the name has to be free. */
  readonly replaces: boolean;
}

/** A name that is taken already. */
export class NameTaken extends Error {}

type List = readonly (readonly [path: string, replaces: boolean])[];

const STAGE = 'writing-';
const LIST = 'list.json';

/** What has been written aside for so long without its list was left by a run that was killed, in milliseconds. */
const LEFT_BEHIND = 3_600_000;

/**
 * Writes files together, or none of them.
 *
 * @throws NameTaken, LinkOnTheWay, and what the file system throws; nothing is changed then.
 */
export function writeTogether(root: string, files: readonly Together[]): void {
  if (files.length === 0) return;
  for (const { path, replaces } of files) {
    refuseLinks(root, dirname(join(root, path)));
    const there = lstatSync(join(root, path), { throwIfNoEntry: false });
    if (there?.isSymbolicLink() === true) refuseLinks(root, join(root, path));
    if (there !== undefined && !replaces) throw new NameTaken(path);
  }
  const base = join(root, CACHE_FOLDER);
  toldWhere(base, () => makeFolder(base));
  const stage = toldWhere(base, () => mkdtempSync(join(base, STAGE)));
  const madeFolders: (readonly [made: string, folder: string])[] = [];
  const list: List = files.map(({ path, replaces }) => [path, replaces]);
  try {
    for (const [at, { path, content }] of files.entries()) {
      // The folders are made beforehand: where that is not let, it shows while nothing has been promised.
      toldWhere(join(root, path), () => {
        const folder = dirname(join(root, path));
        const made = makeFolder(folder);
        if (made !== undefined) madeFolders.push([made, folder]);
        writeWhole(join(stage, String(at)), content);
      });
    }
    toldWhere(root, () => writeWhole(join(stage, LIST), JSON.stringify(list)));
  } catch (error) {
    rmSync(stage, { recursive: true, force: true });
    for (const [made, folder] of madeFolders.reverse()) removeEmpty(made, folder);
    throw error;
  }
  const { taken, moved } = move(root, stage, list);
  if (taken !== null) {
    // Somebody has been quicker with the name: the promise is taken back, with all that was moved of it.
    rmSync(join(stage, LIST));
    for (const path of moved) rmSync(join(root, path), { force: true });
  }
  rmSync(stage, { recursive: true, force: true });
  if (taken !== null) throw new NameTaken(taken);
}

/** Takes folders away again, from the inmost on, as far as nobody has put anything into them. */
function removeEmpty(outmost: string, inmost: string): void {
  try {
    for (let folder = inmost; folder.length >= outmost.length; folder = dirname(folder)) rmdirSync(folder);
  } catch {
    // Somebody has; it is theirs now.
  }
}

/** A fault told of the file that was to be written, wherever it is written first. */
function toldWhere<T>(path: string, write: () => T): T {
  try {
    return write();
  } catch (error) {
    throw toldOf(error, path);
  }
}

/**
 * Moves what a killed run has promised and not moved, and takes away what one has not promised. A promised file
 * whose name somebody else has taken since stays where it is: nothing is lost.
 *
 * @returns the paths of the files that were moved.
 */
export function finishWriting(root: string): readonly string[] {
  const base = join(root, CACHE_FOLDER);
  if (!existsSync(base)) return [];
  const stages = readdirSync(base).filter((name) => name.startsWith(STAGE));
  return stages.flatMap((name) => {
    const stage = join(base, name);
    if (!existsSync(join(stage, LIST))) {
      if (Date.now() - statSync(stage).mtimeMs > LEFT_BEHIND) rmSync(stage, { recursive: true, force: true });
      return [];
    }
    const list = JSON.parse(readFileSync(join(stage, LIST), 'utf8')) as List;
    const { taken, moved } = move(root, stage, list);
    if (taken === null) rmSync(stage, { recursive: true, force: true });
    return moved;
  });
}

interface Moved {
  /** The path that had something of somebody else's; null where all went well. */
  readonly taken: string | null;
  /** New files that are in their place now. */
  readonly moved: readonly string[];
}

function move(root: string, stage: string, list: List): Moved {
  const moved: string[] = [];
  for (const [at, [path, replaces]] of list.entries()) {
    const aside = join(stage, String(at));
    const file = join(root, path);
    if (!existsSync(aside)) continue;
    if (replaces) rename(aside, file);
    else if (placeNew(aside, file)) moved.push(path);
    else if (!isSame(aside, file)) return { taken: path, moved };
  }
  return { taken: null, moved };
}

/** Another run may be finishing the same at this moment, and have moved it first. */
function rename(from: string, to: string): void {
  try {
    renameSync(from, to);
  } catch (error) {
    if (codeOf(error) !== 'ENOENT') throw error;
  }
}

/** Whether a file is the one that was to be put there: a run may be killed between giving it its name and saying so. */
function isSame(aside: string, file: string): boolean {
  return readFileSync(aside).equals(readFileSync(file));
}
