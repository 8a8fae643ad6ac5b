import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { checkBook } from '../../src/check/check.js';
import { CODES } from '../../src/check/codes.js';
import type { CheckedBook } from '../../src/check/model.js';
import { readFolder } from '../../src/read/folder.js';
import { reckon } from '../../src/reckon/reckon.js';
import { siteAssets } from '../../src/render/assets.js';
import { type BookZipOffer, bookZip } from '../../src/render/book-zip.js';
import { renderPages } from '../../src/render/eleventy.js';
import { bodyRenderer } from '../../src/render/markdown.js';
import type { PhotoIndex } from '../../src/render/photo-index.js';
import { publishPhotos } from '../../src/render/photos.js';
import type { JsonSchema } from '../../src/render/schema-fields.js';
import { type Page, type ReferenceInput, sitePages } from '../../src/render/site.js';

/** Builds sites for the tests out of the same steps as the tool, without its command line. */

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

/** The demo book's folder. */
export const DEMO = join(ROOT, 'log');

/** A day after the last entry of the demo. */
export const TODAY = '2026-12-31';

export async function loadBook(folder: string): Promise<CheckedBook> {
  const { book, diagnostics } = await checkBook(readFolder(folder), TODAY);
  const errors = diagnostics.filter(({ severity }) => severity === 'error');
  if (book === null || errors.length > 0) {
    const list = errors.map(({ file, span, message }) => `${file}:${span.line} ${message}`).join('\n');
    throw new Error(`the book in ${folder} has errors:\n${list}`);
  }
  return book;
}

export interface PageOptions {
  readonly asOf?: string;
  readonly photos?: PhotoIndex;
  readonly zip?: BookZipOffer;
}

const render = bodyRenderer();

const NO_ZIP: BookZipOffer = { files: 99, photos: 0, bytes: 123_000_000, isMade: false };

/** The pages of a book, not yet rendered. */
export function pagesOf(
  book: CheckedBook,
  { asOf, photos = new Map(), zip = NO_ZIP }: PageOptions = {},
): readonly Page[] {
  return sitePages({
    reckoning: reckon(book, asOf ?? book.entries.at(-1)?.date ?? TODAY),
    photos,
    zip,
    pathPrefix: '/boats/marram/',
    reference: reference(),
    exportSchema: readFileSync(join(ROOT, 'schemas', 'json', 'export.schema.json'), 'utf8'),
    entryModeline: null,
    renderBody: (markdown, _hash, context) => render(markdown, context),
  });
}

function reference(): ReferenceInput {
  const names = ['book', 'system', 'entry', 'power-plan', 'weights-plan', 'take-map'];
  const read = (name: string) => readFileSync(join(ROOT, 'schemas', 'json', `${name}.schema.json`), 'utf8');
  return {
    codes: CODES,
    schemas: names.map((name) => ({ name, schema: JSON.parse(read(name)) as JsonSchema })),
  };
}

/** Writes the whole site of a book into a folder; gives the paths of its pages. */
export async function buildInto(out: string, bookFolder: string): Promise<readonly string[]> {
  const book = await loadBook(bookFolder);
  const folder = readFolder(bookFolder);
  const requests = folder.attachments.map(({ path, stamp }) => {
    return { path, kept: path, stamp, source: join(bookFolder, path) };
  });
  const none = { folder: null, load: () => null, save: () => undefined };
  const photos = await publishPhotos(requests, none);
  const zip = bookZip(folder, photos.bare, []);
  const pages = await renderPages(pagesOf(book, { photos: photos.index, zip }));
  const write = (path: string, content: string | Uint8Array) => {
    mkdirSync(dirname(join(out, path)), { recursive: true });
    writeFileSync(join(out, path), content);
  };
  for (const { path, content } of pages) write(path, content);
  for (const { path, bytes } of siteAssets()) write(path, bytes);
  write(zip.path, Buffer.concat([...zip.pieces()]));
  for (const { path, source } of photos.files) write(path, readFileSync(source));
  return pages.map(({ path }) => path).filter((path) => path.endsWith('.html'));
}
