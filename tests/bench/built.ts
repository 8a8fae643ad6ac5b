import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { REPO } from './child.js';

/** The tool as it is shipped: compiled, from `dist/`. Loaded by name, so that types come from the sources. */
export const BIN = join(REPO, 'dist', 'src', 'bundle', 'bin.js');

const load = (path: string): Promise<unknown> => import(pathToFileURL(join(REPO, 'dist', path)).href);

export const loadPipeline = () =>
  load('src/cli/pipeline.js') as Promise<typeof import('../../src/cli/pipeline.js')>;
export const loadLiveSite = () =>
  load('src/cli/live-site.js') as Promise<typeof import('../../src/cli/live-site.js')>;
export const loadFolder = () =>
  load('src/read/folder.js') as Promise<typeof import('../../src/read/folder.js')>;
export const loadFrontMatter = () =>
  load('src/read/front-matter.js') as Promise<typeof import('../../src/read/front-matter.js')>;
export const loadSchema = () =>
  load('src/check/schema.js') as Promise<typeof import('../../src/check/schema.js')>;
export const loadCheck = () =>
  load('src/check/check.js') as Promise<typeof import('../../src/check/check.js')>;
export const loadReckon = () =>
  load('src/reckon/reckon.js') as Promise<typeof import('../../src/reckon/reckon.js')>;

/** A day after all entries of a made-up book. */
export const TODAY = '2025-06-01';
