import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { randomFrom } from './random.js';

/** A made-up book of photos as a camera takes them; run with a folder and how many, it writes one. */

const WIDTH = 4032;
const HEIGHT = 3024;

/** Stands in every photo, where nobody may see it. */
export const WORD = 'taken-at-home';

/** Another photo, beside the book's own. */
export const SPARE = 'spare.jpg';

/** How many pixels across a grain of the noise is: noise that is made larger is as hard to compress as what a camera sees. */
const GRAIN = 3;

/** Writes the book. */
async function writePhotos(root: string, count: number): Promise<void> {
  for (const name of ['photos', 'entries', 'systems']) mkdirSync(join(root, name), { recursive: true });
  writeFileSync(join(root, 'book.yaml'), 'book: photos\nsubject: { name: Photos }\n');
  writeFileSync(join(root, 'systems', 'hull.md'), '---\nsystem: hull\ntitle: Hull\n---\n');
  writeFileSync(join(root, SPARE), await photo(0));
  for (let number = 1; number <= count; number += 1) {
    writeFileSync(join(root, photoPath(number)), await photo(number));
    writeFileSync(join(root, entryPath(number)), entryText(number, 'A plank.'));
  }
}

export function photoPath(number: number): string {
  return `photos/${String(number).padStart(4, '0')}.jpg`;
}

function dayOf(number: number): string {
  return new Date(Date.UTC(2024, 0, number)).toISOString().slice(0, 10);
}

export function entryPath(number: number): string {
  return `entries/${dayOf(number)}-plank.md`;
}

export function entryText(number: number, body: string): string {
  const file = photoPath(number);
  return `---\ndate: ${dayOf(number)}\ntitle: Plank ${number}\nsystems: [hull]\nphotos:\n  - { file: ${file}, alt: A plank }\n---\n${body}\n`;
}

/** Lies on its side, and tells where and by whom it was taken. */
async function photo(seed: number): Promise<Buffer> {
  const [width, height] = [WIDTH / GRAIN, HEIGHT / GRAIN];
  const { next } = randomFrom(seed);
  const noise = Buffer.alloc(width * height * 3);
  for (let at = 0; at < noise.length; at += 1) noise[at] = 96 + next() * 64;
  return sharp(noise, { raw: { width, height, channels: 3 } })
    .resize(WIDTH, HEIGHT)
    .withExif({
      IFD0: { Artist: WORD },
      IFD3: { GPSLatitude: '51/1 30/1 3230/100', GPSAreaInformation: WORD },
    })
    .withMetadata({ orientation: 6 })
    .jpeg({ quality: 92 })
    .toBuffer();
}

const [script, root, count] = process.argv.slice(1);
if (script === fileURLToPath(import.meta.url) && root !== undefined) {
  await writePhotos(root, Number(count));
  console.log('{}');
}
