import { readFileSync } from 'node:fs';
import type { CheckMemory } from '../check/check.js';
import type { Diagnostic } from '../check/diagnostic.js';
import { type ReadMemory, readFolder } from '../read/folder.js';
import { reckon } from '../reckon/reckon.js';
import type { FitMemory } from '../reckon/trend.js';
import type { BookZip } from '../render/book-zip.js';
import type { Page } from '../render/site.js';
import type { Cache } from '../write/cache.js';
import { fitMemory } from '../write/fits.js';
import { seenBy } from './copy.js';
import { lastingMemory } from './lasting-memory.js';
import { cacheOf, fingerprint, pagesOf, photosOf, renderThrough } from './pipeline.js';
import { checkAndReckon } from './reckon-book.js';
import { entryModelineOf } from './schema-copies.js';

/** The site of a book in memory, for the server: always what the files say now. */

/** What a page, a picture or a script of a live site is. */
export interface LiveFile {
  readonly body: string | Uint8Array;
  readonly path: string;
}

/** A site kept in memory, brought up to date when the book changes, rendered page by page as it is asked for. */
export interface LiveSite {
  /** Problems of the book as it is now. While there are errors, the pages are those of the last good state. */
  readonly diagnostics: () => readonly Diagnostic[];
  /** Whether there has been a good state yet. */
  readonly hasPages: () => boolean;
  /** A file of the site by its path, or null. */
  readonly get: (path: string) => Promise<LiveFile | null>;
  /** Looks at the book again. @returns whether anything is different now. */
  readonly refresh: () => Promise<boolean>;
}

export interface LiveOptions {
  readonly root: string;
  /** Asked at every refresh, since a server outlives a day. */
  readonly today: () => string;
  readonly asOf: string | null;
  /** For whom it is shown. */
  readonly audience: string;
}

/** Opens a live site of a book. The book may be broken; it recovers with a later refresh. */
export async function openLiveSite({ root, today, asOf, audience }: LiveOptions): Promise<LiveSite> {
  const cache = cacheOf(root);
  const memory = lastingMemory(cache);
  const fits = fitMemory(cache);
  const read: ReadMemory = new Map();
  let state: LiveState = NOTHING_YET;
  const rendered = new Map<string, { readonly key: string; readonly content: string }>();
  const { siteAssets } = await import('../render/assets.js');
  const assets = new Map(siteAssets().map(({ path, bytes }) => [path, bytes] as const));

  const refresh = async (): Promise<boolean> => {
    const before = state.signature;
    state = await nextState(state, { root, today: today(), asOf, audience, read, memory, fits, cache });
    return state.signature !== before;
  };
  const get = async (path: string): Promise<LiveFile | null> => {
    const page = state.pages.get(path);
    if (page !== undefined) return { path, body: await renderOne(page, rendered) };
    const photo = state.photos.get(path);
    if (photo !== undefined) return { path, body: readFileSync(photo) };
    if (state.zip?.isMade === true && path === state.zip.path)
      return { path, body: Buffer.concat([...state.zip.pieces()]) };
    const asset = assets.get(path);
    return asset === undefined ? null : { path, body: asset };
  };
  await refresh();
  memory.store([...read.values()].flatMap(({ file }) => ('role' in file ? [file] : [])));
  return {
    diagnostics: () => state.diagnostics,
    hasPages: () => state.pages.size > 0,
    get,
    refresh,
  };
}

interface LiveState {
  readonly diagnostics: readonly Diagnostic[];
  readonly pages: ReadonlyMap<string, Page>;
  /** Published pictures: path in the site to file on disk. */
  readonly photos: ReadonlyMap<string, string>;
  readonly zip: BookZip | null;
  readonly signature: string;
}

const NOTHING_YET: LiveState = {
  diagnostics: [],
  pages: new Map(),
  photos: new Map(),
  zip: null,
  signature: '',
};

interface Refreshing {
  readonly root: string;
  readonly today: string;
  readonly asOf: string | null;
  readonly audience: string;
  readonly read: ReadMemory;
  readonly memory: CheckMemory;
  readonly fits: FitMemory;
  readonly cache: Cache;
}

async function nextState(
  last: LiveState,
  { root, today, asOf, audience, read, memory, fits, cache }: Refreshing,
): Promise<LiveState> {
  const folder = readFolder(root, read);
  const { book, diagnostics, reckoning: now } = await checkAndReckon(folder, today, memory);
  if (book === null || now === null) return { ...last, diagnostics, signature: JSON.stringify(diagnostics) };
  const seen = await seenBy(audience, { folder, book, reckoning: now }, today, () => memory);
  const reckoning = asOf === null ? seen.reckoning : reckon(seen.reckoning.book, asOf);
  const photos = await photosOf(reckoning.book, seen, cache, { isTrusted: (path) => last.photos.has(path) });
  const { zipFor } = await import('./book-zip.js');
  const zip = zipFor(reckoning.book, seen.folder, photos.published, root);
  const shown = { photos: photos.published.index, zip, fits };
  const pages = await pagesOf(reckoning, shown, '/', entryModelineOf(root));
  return {
    diagnostics: [...diagnostics, ...photos.diagnostics],
    pages: new Map(pages.map((page) => [page.path, page])),
    zip,
    photos: new Map(photos.published.files.map(({ path, source }) => [path, source])),
    signature: fingerprint(folder, today),
  };
}

async function renderOne(
  page: Page,
  rendered: Map<string, { readonly key: string; readonly content: string }>,
): Promise<string> {
  const known = rendered.get(page.path);
  if (known?.key === page.key) return known.content;
  const [made] = await renderThrough([page]);
  const content = made?.content ?? '';
  rendered.set(page.path, { key: page.key, content });
  return content;
}
