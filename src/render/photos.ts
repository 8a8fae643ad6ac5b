import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { barePicture } from '../read/bare/picture.js';
import { isPicture } from '../read/picture.js';
import { writeWhole } from '../write/whole.js';
import type { PhotoIndex, PublishedPhoto } from './photo-index.js';
import { type MadeSize, type PhotoStore, photoMemory } from './photo-memory.js';

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

/** A picture without anything but what it shows, as it may leave the book. */
export interface BarePhoto {
  /** As the book that is shown calls it. */
  readonly path: string;
  /** Where the picture that it is made from lies. */
  readonly source: string;
  /** SHA-256 of the bare picture, in hexadecimal, and its length. */
  readonly hash: string;
  readonly bytes: number;
}

/** What became of the pictures. */
export interface PublishedPhotos {
  readonly index: PhotoIndex;
  /** Files of the site, and where each lies ready to be copied. */
  readonly files: readonly { readonly path: string; readonly source: string }[];
  /** The pictures themselves, bare; they are made again where they are wanted, since none of them is kept. */
  readonly bare: readonly BarePhoto[];
  /** Pictures that could not be opened. */
  readonly problems: readonly { readonly path: string; readonly why: string }[];
}

export interface PhotoOptions {
  /** Told of each picture that is made. */
  readonly progress?: (line: string) => void;
  /** Whether a file of the site, by its path there, is known to be as it was made; others are looked at. */
  readonly isTrusted?: (path: string) => boolean;
}

/** Longest sides in which a picture is published, largest first. The original never is. */
const SIDES = [1600, 800];

/** More than the largest camera takes, far less than what a picture made to choke a reader unfolds to. */
const MOST_PIXELS = 120_000_000;

/** Changed with the way pictures are made, so that older ones are made again. */
const RECIPE = 'jpeg 1600 800 q80 2';

/** Pictures that are made at one time; each needs some tens of megabytes while it is. */
const AT_ONCE = Math.min(availableParallelism(), 4);

/** After so many pictures what was made is written down, so that a run that is stopped has not worked for nothing. */
const WRITTEN_DOWN_AFTER = 25;

/**
 * Makes the pictures that the site shows: two sizes of JPEG, turned upright, without any of the data that a
 * camera adds. Only files that begin like a JPEG, PNG or WebP are opened, whatever their names. A picture is
 * made again only when its content changes, or when what was made of it is not what it was; names come from the
 * content of the bare picture, so that whoever has only that gets the same names.
 *
 * @returns never throws for a picture: one that cannot be opened is a problem
 */
export async function publishPhotos(
  requests: readonly PhotoRequest[],
  cache: PhotoStore,
  { progress = () => undefined, isTrusted = () => false }: PhotoOptions = {},
): Promise<PublishedPhotos> {
  const folder = cache.folder === null ? temporaryFolder() : join(cache.folder, 'photos');
  mkdirSync(folder, { recursive: true });
  const memory = photoMemory(cache, folder, isTrusted);
  const results = new Map<PhotoRequest, Made | string>();
  const fresh: PhotoRequest[] = [];
  for (const request of requests) {
    const known = memory.recall(request);
    if (known === null) fresh.push(request);
    else results.set(request, known);
  }
  let begun = 0;
  let done = 0;
  const lane = async () => {
    for (let request = fresh[begun]; request !== undefined; request = fresh[begun]) {
      begun += 1;
      progress(`making photo ${begun} of ${fresh.length}`);
      const made = await makeOne(request, folder, memory.madeOf);
      results.set(request, made);
      if (typeof made === 'string') continue;
      memory.keep(request, made);
      done += 1;
      if (done % WRITTEN_DOWN_AFTER === 0) memory.store();
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, lane));
  memory.store();
  return gather(requests, results, folder);
}

/** What was made of a picture, smallest size first. */
interface Made {
  readonly hash: string;
  readonly bytes: number;
  readonly sizes: readonly MadeSize[];
}

function gather(
  requests: readonly PhotoRequest[],
  results: ReadonlyMap<PhotoRequest, Made | string>,
  folder: string,
): PublishedPhotos {
  const index = new Map<string, PublishedPhoto>();
  const files = new Map<string, string>();
  const bare: BarePhoto[] = [];
  const problems: { path: string; why: string }[] = [];
  for (const request of requests) {
    const { path, source } = request;
    const made = results.get(request);
    if (made === undefined) continue;
    if (typeof made === 'string') {
      problems.push({ path, why: made });
      continue;
    }
    index.set(path, {
      sizes: made.sizes.map(({ path: file, width, height }) => ({ path: file, width, height })),
    });
    // Two pictures with the same content share their files.
    for (const size of made.sizes)
      files.set(size.path, join(folder, size.path.slice(size.path.lastIndexOf('/') + 1)));
    bare.push({ path, source, hash: made.hash, bytes: made.bytes });
  }
  return { index, files: [...files].map(([path, source]) => ({ path, source })), bare, problems };
}

/** What is made of a picture, or a sentence that says why there is nothing. */
async function makeOne(
  { source }: PhotoRequest,
  folder: string,
  madeOf: (hash: string) => readonly MadeSize[] | null,
): Promise<Made | string> {
  const bytes = readOr(source);
  if (bytes !== null && !isPicture(bytes))
    return 'This file is not a JPEG, PNG or WebP picture, whatever its name says.';
  const bare = bytes === null ? null : barePicture(bytes);
  if (bare === null) return BROKEN;
  const hash = hashOf(bare);
  const known = madeOf(hash);
  if (known !== null) return { hash, bytes: bare.length, sizes: known };
  // What the decoder says is for programmers; the file cannot be shown, and that is what matters.
  const drawn = await draw(bare).catch(() => null);
  if (drawn === null) return BROKEN;
  return { hash, bytes: bare.length, sizes: drawn.map((size) => written(size, hash, folder)).reverse() };
}

function readOr(source: string): Buffer | null {
  try {
    return readFileSync(source);
  } catch {
    return null;
  }
}

const BROKEN = 'This picture cannot be opened: it is broken, cut short or far too large.';

/** A size of a picture that is not written yet. */
interface Drawn {
  readonly side: number;
  readonly width: number;
  readonly height: number;
  readonly jpeg: Buffer;
}

/** The sizes of a picture, largest first. Decodes once; each smaller size is made from the pixels of the one before. */
async function draw(bare: Buffer): Promise<readonly Drawn[]> {
  const sizes: Drawn[] = [];
  let image = sharp(bare, { limitInputPixels: MOST_PIXELS, failOn: 'error' })
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
    if (sizes.at(-1)?.width === width) break;
    const jpeg = await sharp(data, { raw }).jpeg({ quality: 80, mozjpeg: false }).toBuffer();
    sizes.push({ side, width, height, jpeg });
    image = sharp(data, { raw });
  }
  return sizes;
}

/** @throws what the file system throws: a full disk is no fault of the picture. */
function written({ side, width, height, jpeg }: Drawn, hash: string, folder: string): MadeSize {
  const file = `${hashOf(`${RECIPE} ${hash}`).slice(0, 24)}-${side}.jpg`;
  // What is damaged before it reaches the disk is noticed by its hash, and made again.
  writeWhole(join(folder, file), jpeg, 'soon');
  return { path: `photos/${file}`, width, height, sum: hashOf(jpeg) };
}

function hashOf(content: string | Uint8Array): string {
  return createHash('sha256').update(content).digest('hex');
}

/** For a book whose folder cannot be written to; gone when the process ends. */
function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'ribband-photos-'));
  process.once('exit', () => rmSync(folder, { recursive: true, force: true }));
  return folder;
}
