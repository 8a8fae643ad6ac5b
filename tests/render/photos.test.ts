import { mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { barePicture } from '../../src/read/bare/picture.js';
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

  test('a picture that was moved or written anew is not made again', async () => {
    const bytes = await cameraJpeg();
    const first = request('moved-from.jpg', bytes);
    const { index } = await publishPhotos([first], cache());
    const name = index.get(first.path)?.sizes[0]?.path.replace('photos/', '') ?? '';
    const before = statSync(join(folder, 'photos', name)).mtimeMs;
    const second = { ...request('moved-to.jpg', bytes), stamp: 'another' };
    const after = await publishPhotos([second], cache());
    expect(after.index.get(second.path)).toEqual(index.get(first.path));
    expect(statSync(join(folder, 'photos', name)).mtimeMs).toBe(before);
  });

  test('a made picture that is not as it was made is made again, unless what is published is known to be', async () => {
    const one = request('damaged.jpg', await cameraJpeg());
    const [made] = (await publishPhotos([one], cache())).files;
    const path = made?.source ?? '';
    const whole = readFileSync(path);
    const damaged = Buffer.from(whole);
    damaged.writeUInt8(damaged.readUInt8(999) ^ 4, 999);
    writeFileSync(path, damaged);
    await publishPhotos([one], cache(), { isTrusted: () => true });
    expect(readFileSync(path).equals(damaged)).toBe(true);
    await publishPhotos([one], cache());
    expect(readFileSync(path).equals(whole)).toBe(true);
    rmSync(path);
    await publishPhotos([one], cache());
    expect(readFileSync(path).equals(whole)).toBe(true);
  });

  test('names come from the picture alone, so that a bare one has the same', async () => {
    const bytes = await cameraJpeg();
    const bare = barePicture(bytes) ?? '';
    const { index, bare: told } = await publishPhotos(
      [request('whole.jpg', bytes), request('bare.jpg', bare)],
      cache(),
    );
    expect(index.get('photos/bare.jpg')).toEqual(index.get('photos/whole.jpg'));
    expect(told.map(({ bytes: length }) => length)).toEqual([bare.length, bare.length]);
  });

  test('what was made before a run was stopped is known to the next', async () => {
    const small = await Promise.all(
      Array.from({ length: 40 }, async (_, index) => {
        const made = sharp({ create: { width: 20 + index, height: 9, channels: 3, background: '#123' } });
        return request(`many-${index}.jpg`, await made.jpeg().toBuffer());
      }),
    );
    const stopped = publishPhotos(small, cache(), {
      progress: (line) => {
        if (line === 'making photo 40 of 40') throw new Error('stopped');
      },
    });
    await expect(stopped).rejects.toThrow('stopped');
    const told: string[] = [];
    await publishPhotos(small, cache(), { progress: (line) => told.push(line) });
    expect(told.length).toBeLessThan(20);
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
