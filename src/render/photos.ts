import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { isPicture } from '../read/picture.js';
import { writeWhole } from '../write/whole.js';
import type { PhotoIndex, PhotoSize, PublishedPhoto } from './photo-index.js';

/** A picture of the book that a page shows. */
export interface PhotoRequest {
  /** Path from the book's folder, as the book that is shown calls it. */
  readonly path: string;
  /** Its path in the owner's book, by which what was made of it is remembered. */
  readonly kept: string;
  /** Where it lies on the disk. */
  readonly source: string;
  /** Changes when the file does. */
  readonly stamp: string;
}

/** What became of the pictures. */
export interface PublishedPhotos {
  readonly index: PhotoIndex;
  /** Files of the site, and where each lies ready to be copied. */
  readonly files: readonly { readonly path: string; readonly source: string }[];
  /** Pictures that could not be opened. */
  readonly problems: readonly { readonly path: string; readonly why: string }[];
}

/** Where made pictures are kept between runs. */
interface PhotoCache {
  readonly folder: string | null;
  readonly load: <T>(name: string) => T | null;
  readonly save: (name: string, value: unknown) => void;
}

/** Longest sides in which a picture is published, largest first. The original never is. */
const SIDES = [1600, 800];

/** More than the largest camera takes, far less than what a picture made to choke a reader unfolds to. */
const MOST_PIXELS = 120_000_000;

/** Changed with the way pictures are made, so that older ones are made again. */
const RECIPE = 'jpeg 1600 800 q80 1';

/** What was made of a picture, by its path in the owner's book; a copy for an audience shows only some of them. */
type Known = Readonly<Record<string, { readonly stamp: string; readonly sizes: readonly PhotoSize[] }>>;

/**
 * Makes the pictures that the site shows: two sizes of JPEG, turned upright, without any of the data that a
 * camera adds. Only files that begin like a JPEG, PNG or WebP are opened, whatever their names. A picture is
 * made again only when its content changes; names come from the content.
 *
 * @param progress told once, where there is anything to make
 * @returns never throws for a picture: one that cannot be opened is a problem
 */
export async function publishPhotos(
  requests: readonly PhotoRequest[],
  cache: PhotoCache,
  progress: (line: string) => void = () => undefined,
): Promise<PublishedPhotos> {
  const folder = cache.folder === null ? temporaryFolder() : join(cache.folder, 'photos');
  mkdirSync(folder, { recursive: true });
  const known = cache.load<Known>('photos.json') ?? {};
  const index = new Map<string, PublishedPhoto>();
  const problems: { path: string; why: string }[] = [];
  const isMade = ({ kept, stamp }: PhotoRequest) =>
    known[kept]?.stamp === stamp &&
    known[kept].sizes.every((size) => existsSync(join(folder, baseName(size))));
  const fresh = requests.filter((request) => !isMade(request));
  if (fresh.length > 0) progress(`making ${fresh.length} of ${requests.length} photos`);
  for (const request of requests) {
    const kept = known[request.kept];
    const made = kept !== undefined && isMade(request) ? kept.sizes : await makeSizes(request.source, folder);
    if (typeof made === 'string') problems.push({ path: request.path, why: made });
    else index.set(request.path, { sizes: made });
  }
  if (fresh.length > 0) cache.save('photos.json', { ...known, ...knownFrom(requests, index) });
  return { index, files: filesOf(index, folder), problems };
}

function knownFrom(requests: readonly PhotoRequest[], index: PhotoIndex): Known {
  return Object.fromEntries(
    requests.flatMap(({ path, kept, stamp }) => {
      const sizes = index.get(path)?.sizes;
      return sizes === undefined ? [] : [[kept, { stamp, sizes }] as const];
    }),
  );
}

/** Two pictures with the same content share their files. */
function filesOf(index: PhotoIndex, folder: string): PublishedPhotos['files'] {
  const files = new Map<string, string>();
  for (const { sizes } of index.values()) {
    for (const size of sizes) files.set(size.path, join(folder, baseName(size)));
  }
  return [...files].map(([path, source]) => ({ path, source }));
}

/** The sizes of one picture, smallest first, or a sentence that says why there are none. */
async function makeSizes(source: string, folder: string): Promise<readonly PhotoSize[] | string> {
  try {
    const bytes = readFileSync(source);
    if (!isPicture(bytes)) return 'This file is not a JPEG, PNG or WebP picture, whatever its name says.';
    const name = createHash('sha256').update(RECIPE).update(bytes).digest('hex').slice(0, 24);
    return await writeSizes(bytes, join(folder, name), name);
  } catch {
    // What the decoder says is for programmers; the file cannot be shown, and that is what matters.
    return 'This picture cannot be opened: it is broken, cut short or far too large.';
  }
}

/** Decodes once; each smaller size is made from the pixels of the one before. */
async function writeSizes(bytes: Buffer, base: string, name: string): Promise<PhotoSize[]> {
  const sizes: PhotoSize[] = [];
  let image = sharp(bytes, { limitInputPixels: MOST_PIXELS, failOn: 'error' })
    .autoOrient()
    .flatten({ background: '#fff' });
  for (const side of SIDES) {
    const { data, info } = await image
      .resize({ width: side, height: side, fit: 'inside', withoutEnlargement: true })
      .toColourspace('srgb')
      .raw()
      .toBuffer({ resolveWithObject: true });
    const { width, height, channels } = info;
    const raw = { width, height, channels };
    if (sizes[0]?.width === width) break;
    const jpeg = await sharp(data, { raw }).jpeg({ quality: 80, mozjpeg: false }).toBuffer();
    writeWhole(`${base}-${side}.jpg`, jpeg);
    sizes.unshift({ path: `photos/${name}-${side}.jpg`, width, height });
    image = sharp(data, { raw });
  }
  return sizes;
}

function baseName({ path }: PhotoSize): string {
  return path.slice(path.lastIndexOf('/') + 1);
}

/** For a book whose folder cannot be written to; gone when the process ends. */
function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'ribband-photos-'));
  process.once('exit', () => rmSync(folder, { recursive: true, force: true }));
  return folder;
}
