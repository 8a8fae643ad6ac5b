import {
  constants,
  copyFileSync,
  existsSync,
  linkSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { makeFolder } from './make-folder.js';
import { toldOf } from './whole.js';

/**
 * Puts a site in its place, whole or not at all. The new site is made beside the old one, out of new files
 * and of links to old ones that have not changed; then the two change names. Whoever looks meanwhile finds
 * the old site or the new one, or for the moment between two renamings none, and never half of one. A run
 * that is killed leaves the old site, and rubbish that the next run takes away.
 */

/** A file of the site: its bytes, whole or in pieces, a file to copy, or the word that the one there is right. */
export type SiteFile =
  | { readonly path: string; readonly content: string | Uint8Array }
  | { readonly path: string; readonly pieces: () => Iterable<Uint8Array> }
  | { readonly path: string; readonly copyOf: string }
  | { readonly path: string; readonly keep: true };

/** Marks a folder as a site of ours, so that no other folder is ever replaced; behind its words it lists what is at the top. */
export const MARKER = '.ribband-site';

const MARKER_TEXT =
  'This folder is made by `ribband build` and replaced whole by it. Keep nothing of your own in it.\n';

/**
 * What lies at the top of a site of ours that was not made with it: `.git` of a host, say, or notes. A new site takes
 * the place of the whole folder, so whoever put it there has to be asked first. The mark tells what was made.
 */
export function strangersIn(out: string): readonly string[] {
  const made = new Set([MARKER, ...readFileSync(join(out, MARKER), 'utf8').split('\n').slice(1)]);
  return readdirSync(out).filter((name) => !made.has(name));
}

/** What publishing may meet. `foreign` is a folder with something in it that is no site of ours. */
export type Target = 'absent' | 'empty' | 'ours' | 'foreign' | 'not-a-folder';

/** What lies at the place where a site is to go. */
export function inspectTarget(out: string): Target {
  recover(out);
  if (!existsSync(out)) return 'absent';
  if (!statSync(out).isDirectory()) return 'not-a-folder';
  const names = readdirSync(out);
  if (names.length === 0) return 'empty';
  return names.includes(MARKER) ? 'ours' : 'foreign';
}

/**
 * Replaces the site at `out` by the given files. They are taken one by one as they come, and written while the
 * next ones are being made, so that a large site is never held in memory whole.
 *
 * @throws what the file system or the files' maker throws, with the old site left as it was.
 */
export async function publish(out: string, files: AsyncIterable<SiteFile>): Promise<void> {
  const fresh = beside(out, 'new');
  const old = beside(out, 'old');
  recover(out);
  rmSync(fresh, { recursive: true, force: true });
  try {
    await fill(fresh, out, files);
    rmSync(old, { recursive: true, force: true });
    if (existsSync(out)) renameSync(out, old);
    swapIn(fresh, out, old);
  } catch (error) {
    removeFresh(fresh);
    throw isOf(error, fresh) ? toldOf(error, out) : error;
  }
  rmSync(old, { recursive: true, force: true });
}

/** A disk that lets nothing be written may not let anything be taken away either; the first fault counts. */
function removeFresh(fresh: string): void {
  try {
    rmSync(fresh, { recursive: true, force: true });
  } catch {
    // What could not be written is the fault that is told of.
  }
}

/** Whether a fault is one of writing the new site: that it is made beside the old one is nobody else's matter. */
function isOf(error: unknown, fresh: string): boolean {
  if (!(error instanceof Error) || !('code' in error)) return false;
  const named = [error].flatMap((fault) =>
    ['path', 'dest'].map((key) => (fault as unknown as Record<string, unknown>)[key]),
  );
  const paths = named.filter((path) => typeof path === 'string');
  return paths.length === 0 || paths.some((path) => path.startsWith(fresh));
}

function swapIn(fresh: string, out: string, old: string): void {
  try {
    renameSync(fresh, out);
  } catch (error) {
    if (existsSync(old)) renameSync(old, out);
    throw error;
  }
}

/** Between the two renamings a killed run leaves no site at all; the old one is put back. */
function recover(out: string): void {
  const old = beside(out, 'old');
  if (!existsSync(out) && existsSync(old)) renameSync(old, out);
}

function beside(out: string, what: 'new' | 'old'): string {
  return join(dirname(out), `.${basename(out)}.ribband-${what}`);
}

async function fill(fresh: string, out: string, files: AsyncIterable<SiteFile>): Promise<void> {
  makeFolder(fresh);
  const folders = new Set<string>();
  const atTop = new Set<string>();
  const writes = writesAtOnce();
  try {
    for await (const file of files) {
      const target = join(fresh, file.path);
      atTop.add(file.path.split('/')[0] as string);
      makeOnce(dirname(target), folders);
      if ('content' in file) await writes.add(writeFile(target, file.content));
      else if ('pieces' in file) await writes.add(writeFile(target, file.pieces()));
      else if ('copyOf' in file) copyFileSync(file.copyOf, target, constants.COPYFILE_FICLONE);
      else linkOrCopy(join(out, file.path), target);
    }
  } finally {
    // Whatever went wrong, nothing may still be writing into a folder that is about to be taken away.
    await writes.end();
  }
  writeFileSync(join(fresh, MARKER), `${MARKER_TEXT}${[...atTop].sort().join('\n')}\n`);
}

/** Files that are being written at one time: enough to keep the disk busy, few enough to hold in memory. */
const AT_ONCE = 32;

function writesAtOnce() {
  const open = new Set<Promise<void>>();
  const failures: unknown[] = [];
  const tell = () => {
    if (failures.length > 0) throw failures[0];
  };
  return {
    add: async (write: Promise<void>): Promise<void> => {
      const settled = write
        .catch((error: unknown) => {
          failures.push(error);
        })
        .finally(() => open.delete(settled));
      open.add(settled);
      if (open.size >= AT_ONCE) await Promise.race(open);
      tell();
    },
    end: async (): Promise<void> => {
      await Promise.all(open);
      tell();
    },
  };
}

function makeOnce(folder: string, made: Set<string>): void {
  if (made.has(folder)) return;
  makeFolder(folder);
  made.add(folder);
}

/** A hard link costs nothing; file systems without them, or links across disks, get a copy. */
function linkOrCopy(from: string, to: string): void {
  try {
    linkSync(from, to);
  } catch {
    copyFileSync(from, to);
  }
}
