import { mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type PhotoRequest, publishPhotos } from '../../src/render/photos.js';

let folder: string;
const kept = new Map<string, unknown>();
const cache = () => ({
  folder,
  load: <T>(name: string) => (kept.get(name) as T | undefined) ?? null,
  save: (name: string, value: unknown) => void kept.set(name, value),
});

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'photos-'));
  mkdirSync(join(folder, 'in'));
});
afterAll(() => rmSync(folder, { recursive: true }));

/** A picture lying on its side, with a place and a name in its metadata. */
async function cameraJpeg(): Promise<Buffer> {
  return sharp({ create: { width: 2400, height: 1800, channels: 3, background: '#467' } })
    .withExif({
      IFD0: { Copyright: 'Somebody', Orientation: '6' },
      IFD3: { GPSLatitude: '51/1 30/1 3230/100' },
    })
    .withMetadata({ orientation: 6 })
    .jpeg()
    .toBuffer();
}

function request(name: string, bytes: Uint8Array | string): PhotoRequest {
  const source = join(folder, 'in', name);
  writeFileSync(source, bytes);
  return {
    path: `photos/${name}`,
    kept: `photos/${name}`,
    source,
    stamp: `${statSync(source).mtimeMs} ${bytes.length}`,
  };
}

describe('publishing photos', () => {
  test('two sizes, upright, without metadata', async () => {
    const { index, files, problems } = await publishPhotos([request('a.jpg', await cameraJpeg())], cache());
    expect(problems).toEqual([]);
    const sizes = index.get('photos/a.jpg')?.sizes ?? [];
    expect(sizes.map(({ width, height }) => [width, height])).toEqual([
      [600, 800],
      [1200, 1600],
    ]);
    expect(files.map(({ path }) => path).sort()).toEqual(sizes.map(({ path }) => path).sort());
    for (const { source } of files) {
      const { exif, icc, xmp, orientation, format } = await sharp(source).metadata();
      expect({ exif, icc, xmp, orientation, format }).toEqual({ format: 'jpeg' });
      expect(readFileSync(source).includes('Somebody')).toBe(false);
    }
  });

  test('a small picture is not blown up', async () => {
    const small = await sharp({ create: { width: 300, height: 200, channels: 4, background: '#0000' } })
      .png()
      .toBuffer();
    const { index } = await publishPhotos([request('small.png', small)], cache());
    expect(index.get('photos/small.png')?.sizes.map(({ width, height }) => [width, height])).toEqual([
      [300, 200],
    ]);
  });

  test('the same picture is made once, a changed one again', async () => {
    const first = request('b.jpg', await cameraJpeg());
    const told: string[] = [];
    await publishPhotos([first], cache(), { progress: (line) => told.push(line) });
    await publishPhotos([first], cache(), { progress: (line) => told.push(line) });
    expect(told).toEqual(['making photo 1 of 1']);
    const before = (await publishPhotos([first], cache())).index.get(first.path);
    const other = await sharp({ create: { width: 900, height: 900, channels: 3, background: '#a31' } })
      .jpeg()
      .toBuffer();
    const after = (await publishPhotos([request('b.jpg', other)], cache())).index.get(first.path);
    expect(after).not.toEqual(before);
  });

  const svg = '<svg xmlns="http://www.w3.org/2000/svg"><image href="file:///etc/passwd"/></svg>';
  test.each([
    ['an SVG with the name of a JPEG', 'svg.jpg', () => svg],
    ['a text', 'text.png', () => 'not a picture'],
    ['an empty file', 'empty.png', () => ''],
    ['a JPEG cut short', 'short.jpg', async () => (await cameraJpeg()).subarray(0, 900)],
    ['a PNG that unfolds to 121 megapixels', 'bomb.png', bomb],
  ])('%s is a problem and not an error', async (_, name, make) => {
    const good = request('good.jpg', await cameraJpeg());
    const { index, problems } = await publishPhotos([request(name, await make()), good], cache());
    expect(problems.map(({ path }) => path)).toEqual([`photos/${name}`]);
    expect(problems[0]?.why).toMatch(/^This (?:file|picture) .+\.$/);
    expect([...index.keys()]).toEqual(['photos/good.jpg']);
  });

  test('a book that cannot be written to has its pictures made elsewhere', async () => {
    const none = { folder: null, load: () => null, save: () => undefined };
    const { files } = await publishPhotos([request('c.jpg', await cameraJpeg())], none);
    expect(files.length).toBe(2);
    for (const { source } of files) expect(source.startsWith(folder)).toBe(false);
  });
});

async function bomb(): Promise<Buffer> {
  return sharp({ create: { width: 11_000, height: 11_000, channels: 3, background: '#000' } })
    .png({ compressionLevel: 1 })
    .toBuffer();
}
