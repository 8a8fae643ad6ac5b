import { readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { type Draft, readDraft } from '../../draft/draft.js';
import { CACHE_FOLDER } from '../../write/cache.js';
import { writeWhole } from '../../write/whole.js';

/** Entries that were begun and not finished, kept in the book's folder until they are. */

/** How far somebody has come with an entry. */
export interface Begun {
  readonly draft: Draft;
  /** Questions that have been answered, by their keys. */
  readonly answered: readonly string[];
  /** What was picked to be asked about: points, meters, tests and people. */
  readonly picked: readonly string[];
  /** Where each picture lies on the disk, by the path that the draft proposes for it. */
  readonly pictures: Readonly<Record<string, string>>;
}

/** A begun entry and the file it is kept in. */
export interface Kept {
  readonly file: string;
  readonly begun: Begun;
}

function folderOf(root: string): string {
  return join(root, CACHE_FOLDER, 'drafts');
}

/** All that are kept, the one worked on last first. Files that are none are left alone. */
export function keptDrafts(root: string): readonly Kept[] {
  const folder = folderOf(root);
  return namesIn(folder)
    .map((name) => join(folder, name))
    .flatMap((file) => {
      const begun = readBegun(file);
      return begun === null ? [] : [{ file, begun, time: statSync(file).mtimeMs }];
    })
    .sort((a, b) => b.time - a.time)
    .map(({ file, begun }) => ({ file, begun }));
}

/** A file for one more draft, which nobody has yet. */
export function freeDraft(root: string): string {
  const folder = folderOf(root);
  const names = new Set(namesIn(folder));
  for (let number = 1; ; number += 1)
    if (!names.has(`draft-${number}.json`)) return join(folder, `draft-${number}.json`);
}

/** Keeps a draft, whole: whoever pulls the plug finds the one before or this one. */
export function keepDraft({ file, begun }: Kept): void {
  writeWhole(file, `${JSON.stringify(begun, null, 2)}\n`);
}

export function forgetDraft({ file }: Pick<Kept, 'file'>): void {
  rmSync(file, { force: true });
}

function namesIn(folder: string): readonly string[] {
  try {
    return readdirSync(folder).filter((name) => /^draft-\d+\.json$/.test(name));
  } catch {
    return [];
  }
}

function readBegun(file: string): Begun | null {
  try {
    const kept = JSON.parse(readFileSync(file, 'utf8')) as Partial<Record<keyof Begun, unknown>>;
    const draft = readDraft(kept.draft);
    return draft === null
      ? null
      : {
          draft,
          answered: words(kept.answered),
          picked: words(kept.picked),
          pictures: Object.fromEntries(
            Object.entries(kept.pictures ?? {}).filter((pair) => typeof pair[1] === 'string'),
          ),
        };
  } catch {
    return null;
  }
}

function words(kept: unknown): readonly string[] {
  return Array.isArray(kept) ? kept.filter((word): word is string => typeof word === 'string') : [];
}
