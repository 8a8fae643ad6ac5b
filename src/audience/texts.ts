import { createHash } from 'node:crypto';
import { stringify } from 'yaml';
import type { SystemFile } from '../../schemas/system.js';
import type { BookFolder, SourceFile } from '../read/folder.js';
import type { DraftFile } from './draft.js';
import type { Redacted } from './redact.js';
import type { Spoken } from './speech.js';

/** From the files of a copy to texts: written anew, so that no comment, no order and no layout is taken over. */

/** The copy as a folder of a book that was read. */
export function folderOf(
  files: readonly DraftFile[],
  { paths, pictures }: Spoken,
  folder: BookFolder,
): Redacted {
  const renamed = (path: string) => paths.get(path) ?? path;
  const origin = new Map<string, string>();
  const texts = files.map((file): SourceFile => {
    const path = renamed(file.path);
    origin.set(path, file.path);
    const text = textOf(file);
    return { path, role: file.role, text, hash: hashOf(text) };
  });
  const series = new Set(
    files.flatMap(({ role, data }) =>
      role === 'system'
        ? Object.values((data as SystemFile).points ?? {}).flatMap((point) => point.series ?? [])
        : [],
    ),
  );
  const shown = new Set(pictures);
  return {
    folder: {
      root: folder.root,
      files: texts.sort(byPath),
      series: folder.series
        .filter(({ path }) => series.has(renamed(path)))
        .map((file) => ({ ...file, path: renamed(file.path) }))
        .sort(byPath),
      attachments: folder.attachments
        .filter(({ path }) => shown.has(path))
        .map((attachment) => ({ ...attachment, path: renamed(attachment.path) }))
        .sort(byPath),
      problems: [],
    },
    photos: new Map(pictures.map((path) => [renamed(path), path])),
    origin,
  };
}

function byPath(a: { readonly path: string }, b: { readonly path: string }): number {
  return a.path < b.path ? -1 : a.path > b.path ? 1 : 0;
}

function textOf({ role, data, body }: DraftFile): string {
  const yaml = stringify(data, {
    version: '1.2',
    schema: 'core',
    aliasDuplicateObjects: false,
    lineWidth: 0,
  });
  return role === 'entry' || role === 'system' ? `---\n${yaml}---\n${body}` : yaml;
}

function hashOf(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
