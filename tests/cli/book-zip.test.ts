import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { unzipSync } from 'fflate';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { tempFolder } from '../folders.js';
import { DEMO } from '../site/demo.js';
import { book, put, run } from './support.js';

/** The zip of a book's sources: unpacked it is a book, from which the same site is built, and in it the same zip. */

const DAY = '2026-11-20';
const ZIP = 'open/sources.zip';

/** Everything in a site, by path. */
function filesOf(site: string): ReadonlyMap<string, Buffer> {
  const files = readdirSync(site, { withFileTypes: true, recursive: true }).filter((item) => item.isFile());
  return new Map(
    files.map((item) => {
      const path = join(item.parentPath, item.name);
      return [path.slice(site.length + 1).replaceAll('\\', '/'), readFileSync(path)];
    }),
  );
}

async function built(root: string, ...more: readonly string[]): Promise<ReadonlyMap<string, Buffer>> {
  const site = join(tempFolder(), 'site');
  const told = await run(['build', root, '--out', site, '--as-of', DAY, ...more], {
    cwd: root,
    env: { RIBBAND_TODAY: DAY },
  });
  expect(told.err).not.toMatch(/No site was built/);
  expect(told.code).toBe(0);
  return filesOf(site);
}

function unpacked(zip: Uint8Array): string {
  const root = tempFolder();
  for (const [path, bytes] of Object.entries(unzipSync(zip))) {
    mkdirSync(dirname(join(root, path)), { recursive: true });
    writeFileSync(join(root, path), bytes);
  }
  return root;
}

/** Paths at which two sites differ. */
function differences(a: ReadonlyMap<string, Buffer>, b: ReadonlyMap<string, Buffer>): readonly string[] {
  return [...new Set([...a.keys(), ...b.keys()])].filter(
    (path) => a.get(path)?.equals(b.get(path) ?? Buffer.alloc(0)) !== true,
  );
}

/** A picture on its side, with a word in it that nobody may see. */
async function camera(width: number): Promise<Buffer> {
  return sharp({ create: { width, height: 80, channels: 3, background: '#a63' } })
    .withExif({ IFD0: { Copyright: 'not-for-anybody' }, IFD3: { GPSLatitude: '51/1 30/1 3230/100' } })
    .withMetadata({ orientation: 6 })
    .withIccProfile('p3')
    .jpeg()
    .toBuffer();
}

const SHOWN = `---
date: 2026-03-05
title: Shown
systems: [engine]
photos:
  - { file: photos/2026/side.jpg, alt: The engine }
---
Text. # no comment

![Again](../../photos/2026/other.jpg)
`;

async function withPictures(): Promise<string> {
  const root = book({ 'entries/2026/2026-03-05-shown.md': SHOWN, 'photos/2026/unseen.jpg': 'not shown' });
  writeFileSync(join(root, 'photos/2026/side.jpg'), await camera(120));
  writeFileSync(join(root, 'photos/2026/other.jpg'), await camera(121));
  put(root, { 'book.yaml': `\ufeff${readFileSync(join(root, 'book.yaml'), 'utf8')}# a comment\n` });
  return root;
}

describe('the demo book', () => {
  it.each(['owner', 'buyer', 'surveyor', 'public'])(
    'is built again from its zip for %s, the same to the last byte',
    async (audience) => {
      const site = await built(DEMO, '--for', audience);
      const zip = site.get(ZIP);
      expect(zip?.length).toBeGreaterThan(100_000);
      if (zip === undefined) return;
      const again = await built(unpacked(zip));
      expect(site.size).toBeGreaterThan(200);
      expect(differences(site, again)).toEqual([]);
    },
    300_000,
  );
});

describe('a book with pictures', () => {
  it('has those that it shows in its zip, without what a camera adds, and is built again from them', async () => {
    const root = await withPictures();
    const site = await built(root);
    const zip = site.get(ZIP) ?? Buffer.alloc(0);
    const inside = unzipSync(zip);
    expect(Object.keys(inside)).toContain('photos/2026/side.jpg');
    expect(Object.keys(inside)).not.toContain('photos/2026/unseen.jpg');
    expect([...site.values()].filter((bytes) => bytes.includes('not-for-anybody')).length).toBe(0);
    expect(Buffer.from(inside['book.yaml'] ?? []).equals(readFileSync(join(root, 'book.yaml')))).toBe(true);
    const again = await built(unpacked(zip));
    expect(differences(site, again)).toEqual([]);
    expect([...site.keys()].filter((path) => path.startsWith('photos/')).length).toBe(2);
  });

  it('has a zip that says nothing of the machine or the time', async () => {
    const root = await withPictures();
    const first = (await built(root)).get(ZIP);
    const zip = (await built(unpacked(first ?? Buffer.alloc(0)))).get(ZIP) ?? Buffer.alloc(0);
    // The date and the time of every file, as they stand in the list at the end.
    const list = zip.readUInt32LE(zip.length - 6);
    const count = zip.readUInt16LE(zip.length - 12);
    let at = list;
    for (let file = 0; file < count; file += 1) {
      expect([zip.readUInt32LE(at), zip.readUInt16LE(at + 12), zip.readUInt16LE(at + 14)]).toEqual([
        0x02014b50, 0, 0x21,
      ]);
      at += 46 + zip.readUInt16LE(at + 28);
    }
    expect(at).toBe(zip.length - 22);
  });

  it('is not zipped again where no source has changed, and is where one has', async () => {
    const root = await withPictures();
    const site = join(tempFolder(), 'site');
    const build = () => run(['build', root, '--out', site], { cwd: root });
    await build();
    const before = readFileSync(join(site, ZIP));
    const same = await build();
    expect(same.err + same.out).toContain('nothing has changed');
    put(root, { 'entries/2026/2026-03-05-shown.md': `${SHOWN}\nMore.\n` });
    await build();
    const after = readFileSync(join(site, ZIP));
    expect(after.equals(before)).toBe(false);
    expect(Buffer.from(unzipSync(after)['entries/2026/2026-03-05-shown.md'] ?? []).includes('More.')).toBe(
      true,
    );
  });

  it('is sealed with its zip', async () => {
    const root = await withPictures();
    const site = await built(root, '--seal');
    expect(site.get('SHA256SUMS')?.toString()).toContain(`  ${ZIP}\n`);
  });
});
