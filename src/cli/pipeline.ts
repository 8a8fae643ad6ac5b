import { createHash } from 'node:crypto';
import { basename, join } from 'node:path';
import { OWNER } from '../audience/policy.js';
import type { Checked } from '../check/check.js';
import { CODES } from '../check/codes.js';
import type { Diagnostic } from '../check/diagnostic.js';
import type { CheckedBook } from '../check/model.js';
import { photosInProse } from '../check/rules/photos.js';
import { type BookFolder, readFolder } from '../read/folder.js';
import { hashOfCode, packageVersion, shippedSchema } from '../read/package.js';
import type { Reckoning } from '../reckon/model.js';
import { reckon } from '../reckon/reckon.js';
import type { FitMemory } from '../reckon/trend.js';
import { bodiesReady, loadBodies, makeBodiesAhead, renderBody } from '../render/bodies.js';
import type { BookZip, BookZipOffer } from '../render/book-zip.js';
import type { PhotoIndex } from '../render/photo-index.js';
import type { PhotoOptions, PhotoRequest, PublishedPhotos } from '../render/photos.js';
import type { Page, ReferenceInput } from '../render/site.js';
import { type Cache, openCache, parseMemory } from '../write/cache.js';
import { fitMemory } from '../write/fits.js';
import { loadManifest, type Manifest, saveManifest } from '../write/manifest.js';
import { type Assembler, assembler } from '../write/pieces.js';
import { publish, type SiteFile } from '../write/publish.js';
import { type Seen, seenBy } from './copy.js';
import { checkAndReckon, hasErrors } from './reckon-book.js';
import { entryModelineOf } from './schema-copies.js';
import type { SiteSealing } from './sealed-site.js';

/** The five steps, one after the other: read, check, reckon, render, write. Commands and the server call these. */

/** What there is to say about a book. */
export interface Told {
  readonly folder: BookFolder;
  /** By file and place. */
  readonly diagnostics: readonly Diagnostic[];
}

/** A book that was read and checked. */
export interface CheckedFolder extends Checked, Told {
  /** The book as of the day it was checked; null where it has errors. */
  readonly reckoning: Reckoning | null;
}

/** Opens the cache of a book for this version of the code. */
export function cacheOf(root: string): Cache {
  return openCache(root, `${packageVersion()} ${hashOfCode(['schemas', 'src', 'site'])}`);
}

/** Stands for everything that a book's files say, and for what else is given. */
export function fingerprint(
  { files, series, attachments, problems }: BookFolder,
  ...more: readonly string[]
): string {
  const texts = [...files, ...series].map(({ path, hash }) => [path, hash]);
  const all = [more, texts, attachments, problems];
  return createHash('sha256').update(JSON.stringify(all)).digest('base64url');
}

interface Verdict {
  readonly on: string;
  readonly diagnostics: readonly Diagnostic[];
}

/**
 * Reads a book and tells what is wrong in it. What was told of the very same files on the same day is told
 * again; nothing else is looked at then.
 *
 * @param today `YYYY-MM-DD`.
 */
export async function tellFolder(root: string, today: string): Promise<Told> {
  const cache = cacheOf(root);
  const folder = readFolder(root);
  const verdict = cache.load<Verdict>('verdict.json');
  if (verdict?.on === fingerprint(folder, today)) return { folder, diagnostics: verdict.diagnostics };
  return checkRead(folder, today, cache);
}

/**
 * Reads and checks a book, remembering in its cache what was found in order. A book without errors is
 * reckoned too, since some advice (money spent on what nobody has checked) can only be given then.
 *
 * @param today `YYYY-MM-DD`.
 */
export async function checkFolder(root: string, today: string): Promise<CheckedFolder> {
  return checkRead(readFolder(root), today, cacheOf(root));
}

async function checkRead(folder: BookFolder, today: string, cache: Cache): Promise<CheckedFolder> {
  const memory = parseMemory(cache);
  const checked = await checkAndReckon(folder, today, memory);
  memory.store(folder.files);
  const verdict: Verdict = { on: fingerprint(folder, today), diagnostics: checked.diagnostics };
  cache.save('verdict.json', verdict);
  return { folder, ...checked };
}

export interface BuildOptions {
  readonly root: string;
  readonly out: string;
  readonly today: string;
  /** The day whose state is shown; today's where null. */
  readonly asOf: string | null;
  /** For whom it is built. */
  readonly audience: string;
  readonly pathPrefix: string;
  /** How the site is to be sealed; without, it carries no seal. */
  readonly seal?: SiteSealing;
  /** Told what is being done, a line at a time. */
  readonly progress: (line: string) => void;
}

export interface BuildResult {
  readonly diagnostics: readonly Diagnostic[];
  /** Files of the book. */
  readonly sources: number;
  readonly pages: number;
  readonly photos: number;
  /** Files of the site: all, those written anew, those taken away. */
  readonly files: number;
  readonly written: number;
  readonly removed: number;
  /** True where errors kept the site from being built; the old one is as it was. */
  readonly stopped: boolean;
}

/** What is remembered of a site that was built, so that it can be told again. */
type Built = Omit<BuildResult, 'written' | 'removed' | 'stopped'>;

/**
 * Builds the site of a book into a folder, whole or not at all; what has not changed is not made again.
 *
 * @throws what the file system throws while publishing, with the old site left as it was.
 */
export async function buildSite(options: BuildOptions): Promise<BuildResult> {
  const { root, out, progress, pathPrefix, seal } = options;
  const cache = cacheOf(root);
  const folder = readFolder(root);
  const sealing = seal === undefined ? null : await import('./sealed-site.js');
  const asOf = options.asOf ?? options.today;
  const { rendererId } = await import('../render/renderer-id.js');
  const entryModeline = entryModelineOf(root);
  const { audience } = options;
  // The owner's seal is of what a copy for somebody else must not show, by its hash either.
  const bookSeal = audience === OWNER ? (sealing?.newestSeal(root) ?? null) : null;
  const sealId = JSON.stringify(seal === undefined ? null : [seal.signer?.key ?? null, bookSeal]);
  const madeFrom = fingerprint(
    folder,
    ...[options.today, asOf, audience, pathPrefix, rendererId(), entryModeline ?? '', sealId],
  );
  const manifest = loadManifest<Built>(cache, out);
  const same = manifest.noteOn(madeFrom);
  if (same !== null) return { ...same, written: 0, removed: 0, stopped: false };
  const { book, diagnostics, reckoning: today } = await checkRead(folder, options.today, cache);
  const sources = folder.files.length;
  if (book === null || today === null) return notBuilt(diagnostics, sources);
  if (audience !== OWNER) progress(`making the copy for ${audience}`);
  const seen = await seenBy(audience, { folder, book, reckoning: today }, options.today, () =>
    parseMemory(cache),
  );
  const reckoning = asOf === today.asOf ? seen.reckoning : reckon(seen.reckoning.book, asOf);
  const isTrusted = (path: string) => manifest.has(path, path);
  const photos = await photosOf(reckoning.book, seen, cache, { progress, isTrusted });
  const all = [...diagnostics, ...photos.diagnostics];
  if (hasErrors(all)) return notBuilt(all, sources);
  const { zipFor } = await import('./book-zip.js');
  const zip = zipFor(reckoning.book, seen.folder, photos.published, root);
  const shown = { photos: photos.published.index, zip };
  const fits = fitMemory(cache);
  const pages = await pagesOf(reckoning, { ...shown, fits }, pathPrefix, entryModeline, sealing !== null);
  const pieced = assembler(cache, out, manifest);
  const plain = await siteFiles(pages, photos.published, zip, manifest, pieced);
  const facts = { subject: reckoning.book.subject.name, made: options.today, book: bookSeal };
  const site =
    sealing === null || seal === undefined ? plain : sealing.withSeal(plain, seal, facts, manifest, out);
  const removed = manifest.paths.filter((path) => !site.keys.has(path)).length;
  if (site.written + removed > 0) await publish(out, site.files(progress));
  const built: Built = {
    diagnostics: all,
    sources,
    pages: pages.length,
    photos: photos.published.index.size,
    files: site.keys.size,
  };
  saveManifest(cache, out, site.keys, madeFrom, built);
  pieced.store();
  fits.store();
  await clearKept(cache, photos.published);
  return { ...built, written: site.written, removed, stopped: false };
}

/** Made pictures that no site has shown for long are not kept for ever. */
async function clearKept({ folder }: Cache, { files }: PublishedPhotos): Promise<void> {
  if (folder === null) return;
  const { clearPhotos } = await import('../render/photo-clearing.js');
  clearPhotos(join(folder, 'photos'), new Set(files.map(({ source }) => basename(source))), Date.now());
}

function notBuilt(diagnostics: readonly Diagnostic[], sources: number): BuildResult {
  return {
    diagnostics,
    sources,
    pages: 0,
    photos: 0,
    files: 0,
    written: 0,
    removed: 0,
    stopped: true,
  };
}

/** The files of a site: what each is made from is known at once, pages are made as they are asked for. */
export interface SiteFiles {
  /** The key that each file is made from, by its path. */
  readonly keys: ReadonlyMap<string, string>;
  /** How many have to be made anew. */
  readonly written: number;
  readonly files: (progress: (line: string) => void) => AsyncIterable<SiteFile>;
}

/** Every file of the site; only what the manifest does not have is rendered. */
async function siteFiles(
  pages: readonly Page[],
  photos: PublishedPhotos,
  zip: BookZip,
  manifest: Manifest<unknown>,
  pieced: Assembler,
): Promise<SiteFiles> {
  const { siteAssets } = await import('../render/assets.js');
  const keys = new Map<string, string>();
  const made: SiteFile[] = [];
  const kept: SiteFile[] = [];
  const isThere = (path: string, key: string) => {
    keys.set(path, key);
    if (!manifest.has(path, key)) return false;
    kept.push({ path, keep: true });
    return true;
  };
  for (const { path, bytes } of siteAssets()) {
    const key = createHash('sha256').update(bytes).digest('hex');
    if (!isThere(path, key)) made.push({ path, content: bytes });
  }
  for (const { path, source } of photos.files) if (!isThere(path, path)) made.push({ path, copyOf: source });
  if (zip.isMade && !isThere(zip.path, zip.key)) made.push({ path: zip.path, pieces: zip.pieces });
  const changed = pages.filter(({ path, key }) => !isThere(path, key));
  return {
    keys,
    written: made.length + changed.length,
    files: async function* (progress) {
      yield* kept;
      yield* made;
      yield* renderInTurn(changed, pieced, progress);
    },
  };
}

/** Pages rendered at one time: few enough that a large site is never in memory whole. */
const BATCH = 200;

async function* renderInTurn(
  pages: readonly Page[],
  pieced: Assembler,
  progress: (line: string) => void,
): AsyncIterable<SiteFile> {
  // Pages without prose come first: meanwhile the prose of the others is being made.
  const whole = pages.filter(({ pieces }) => pieces === undefined);
  const inTurn = [...whole.filter(({ prose }) => !prose), ...whole.filter(({ prose }) => prose)];
  const end = await makeBodiesAhead(inTurn);
  try {
    for (let from = 0; from < inTurn.length; from += BATCH) {
      progress(`rendering page ${from + 1} of ${inTurn.length}`);
      yield* await renderThrough(inTurn.slice(from, from + BATCH));
    }
    for (const { path, key, pieces } of pages)
      if (pieces !== undefined) yield { path, content: pieced.assemble({ path, key, pieces }) };
  } finally {
    await end();
  }
}

/** Up to so many pages are rendered straight away: starting Eleventy for them would take longer than they do. */
const FEW = 50;

/** Renders pages; what that takes is loaded only when there is one to render. */
export async function renderThrough(
  pages: readonly Page[],
): Promise<readonly { readonly path: string; readonly content: string }[]> {
  if (pages.length === 0) return [];
  await loadBodies();
  await bodiesReady(pages);
  if (pages.length <= FEW) return pages.map((page) => ({ path: page.path, content: page.render() }));
  const { renderPages } = await import('../render/eleventy.js');
  return renderPages(pages);
}

/** What pages tell of besides the reckoning. */
interface Shown {
  readonly photos: PhotoIndex;
  readonly zip: BookZipOffer;
  readonly fits?: FitMemory;
}

/** All pages of a site, not yet rendered. */
export async function pagesOf(
  reckoning: Reckoning,
  { photos, zip, fits }: Shown,
  pathPrefix: string,
  entryModeline: string | null,
  sealed = false,
): Promise<readonly Page[]> {
  const { sitePages } = await import('../render/site.js');
  return sitePages({
    reckoning,
    photos,
    zip,
    pathPrefix,
    reference: referenceInput(),
    exportSchema: `${JSON.stringify(shippedSchema('export'), null, 2)}\n`,
    entryModeline,
    sealed,
    renderBody,
    fits,
  });
}

const SCHEMA_NAMES = ['book', 'system', 'entry', 'power-plan', 'weights-plan', 'take-map', 'seal'] as const;

function referenceInput(): ReferenceInput {
  return {
    codes: CODES,
    schemas: SCHEMA_NAMES.map((name) => ({
      name,
      schema: shippedSchema(name) as ReferenceInput['schemas'][number]['schema'],
    })),
  };
}

interface Photos {
  readonly published: PublishedPhotos;
  readonly diagnostics: readonly Diagnostic[];
}

/** Publishes the pictures that entries and prose show, and no others. */
export async function photosOf(
  book: CheckedBook,
  { folder, pictureOf }: Pick<Seen, 'folder' | 'pictureOf'>,
  cache: Cache,
  options: PhotoOptions,
): Promise<Photos> {
  const shown = new Set([
    ...book.entries.flatMap((entry) => entry.photos.map((photo) => photo.file)),
    ...[...book.entries, ...book.systems.values()].flatMap(({ body }) => photosInProse(body)),
  ]);
  const requests = folder.attachments
    .filter((attachment) => shown.has(attachment.path))
    .map(
      (attachment): PhotoRequest => ({
        path: attachment.path,
        kept: pictureOf(attachment.path),
        source: join(folder.root, pictureOf(attachment.path)),
        stamp: attachment.stamp,
      }),
    );
  if (requests.length === 0)
    return { published: { index: new Map(), files: [], bare: [], problems: [] }, diagnostics: [] };
  const { publishPhotos } = await import('../render/photos.js');
  const published = await publishPhotos(requests, cache, options);
  return { published, diagnostics: published.problems.map(({ path, why }) => corrupt(pictureOf(path), why)) };
}

function corrupt(file: string, why: string): Diagnostic {
  const span = { offset: 0, length: 0, line: 1, column: 1, endLine: 1, endColumn: 1 };
  return {
    code: 'photo-unreadable',
    severity: CODES['photo-unreadable'].severity,
    file,
    span,
    excerpt: '',
    message: why,
    hint: CODES['photo-unreadable'].mend,
    fix: null,
  };
}
