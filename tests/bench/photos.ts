import { mkdtempSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { BIN } from './built.js';
import { runNode, runScript, type Taken } from './child.js';
import { entryPath, entryText, photoPath, SPARE, WORD } from './made-photos.js';

/**
 * How long a book of photos of 12 megapixels takes to build: at first, with nothing changed, with one photo changed,
 * with one entry changed, with every photo's time changed, and with a made picture damaged; and whether what is
 * published is upright and says nothing of where it was taken.
 *
 *     npm run bench -- --photos 500
 */

export async function benchPhotos(count: number): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'ribband-bench-photos-'));
  try {
    const root = join(folder, 'book');
    const out = join(folder, 'site');
    // By a process of its own: what making them takes is not to be counted.
    runScript('made-photos.ts', [root, String(count)]);
    const bytes = photosIn(join(root, 'photos')).reduce((sum, path) => sum + statSync(path).size, 0);
    console.log(`${count} photos of 12 megapixels, ${(bytes / 1e6).toFixed(0)} MB, ${count} entries`);
    const build = (what: string) => told(what, runNode([BIN, 'build', root, '--out', out], folder));
    build('first build');
    build('nothing changed');
    renameSync(join(root, SPARE), join(root, photoPath(1)));
    build('one photo changed');
    writeFileSync(join(root, entryPath(2)), entryText(2, 'Another word.'));
    build('one entry changed');
    for (const path of photosIn(join(root, 'photos'))) writeFileSync(path, readFileSync(path));
    build('every photo written anew, the same');
    const kept = photosIn(join(root, '.ribband', 'photos'));
    const [damaged = ''] = kept;
    const whole = readFileSync(damaged);
    damage(damaged);
    rmSync(out, { recursive: true });
    build('site gone, one made picture damaged');
    if (!readFileSync(damaged).equals(whole)) throw new Error('a damaged picture was kept');
    await inspect(join(out, 'photos'), kept.length);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function told(what: string, { seconds, cpu, peak }: Taken): void {
  const figures = `${seconds.toFixed(1)} s, ${cpu.toFixed(1)} s of processors, at most ${peak.toFixed(0)} MB`;
  console.log(`  ${what.padEnd(38)} ${figures}`);
}

function photosIn(folder: string): readonly string[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith('.jpg'))
    .map((name) => join(folder, name));
}

/** A bit that a disk has lost, with the file's time as it was. */
function damage(path: string): void {
  const bytes = readFileSync(path);
  bytes.writeUInt8(bytes.readUInt8(bytes.length >> 1) ^ 1, bytes.length >> 1);
  writeFileSync(path, bytes);
}

async function inspect(folder: string, made: number): Promise<void> {
  const published = photosIn(folder);
  for (const path of published) {
    const { width, height, exif, xmp, icc, orientation } = await sharp(path).metadata();
    if (
      width >= height ||
      exif !== undefined ||
      xmp !== undefined ||
      icc !== undefined ||
      orientation !== undefined
    )
      throw new Error(`${path} lies on its side, or says more than it shows`);
    if (readFileSync(path).includes(WORD)) throw new Error(`${path} says where it was taken`);
  }
  console.log(`  ${published.length} published pictures upright and bare, of ${made} made`);
}
