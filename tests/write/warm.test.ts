import {
  cpSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  truncateSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { type BuildResult, buildSite, checkFolder, tellFolder } from '../../src/cli/pipeline.js';
import { makeBook, writeBook } from '../bench/generate.js';
import { randomFrom } from '../bench/random.js';

/** A site built on what was there before is, to the byte, the site built from nothing. */

const TODAY = '2025-06-01';
const folders: string[] = [];

afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

function tempFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'ribband-warm-'));
  folders.push(folder);
  return folder;
}

function filesBelow(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((file) => file.isFile())
    .map((file) => relative(folder, join(file.parentPath ?? file.path, file.name)))
    .sort();
}

/** Every file of a folder with its contents. */
function treeOf(folder: string): ReadonlyMap<string, string> {
  return new Map(filesBelow(folder).map((path) => [path, readFileSync(join(folder, path), 'latin1')]));
}

/** Names of the files in which two folders differ: a difference of whole contents would fill screens. */
function differences(one: string, other: string): string[] {
  const [a, b] = [treeOf(one), treeOf(other)];
  return [...new Set([...a.keys(), ...b.keys()])].filter((path) => a.get(path) !== b.get(path));
}

function build(root: string, out: string, more: { readonly today?: string; readonly asOf?: string } = {}) {
  const { today = TODAY, asOf = null } = more;
  return buildSite({ root, out, today, asOf, audience: 'owner', pathPrefix: '/', progress: () => undefined });
}

let root = '';
let out = '';

/** Sites built from nothing, by all that their books say: many of these tests come to the same book. */
const builtAnew = new Map<string, { readonly site: string; readonly result: BuildResult }>();

/** Builds the book as it is now elsewhere, without anything remembered. */
async function anew(more: Parameters<typeof build>[2]) {
  const texts = [...treeOf(root)].filter(([path]) => !path.startsWith('.ribband'));
  const key = JSON.stringify([texts, more]);
  const known = builtAnew.get(key);
  if (known !== undefined) return known;
  const folder = tempFolder();
  const [copy, site] = [join(folder, 'book'), join(folder, 'site')];
  cpSync(root, copy, { recursive: true, preserveTimestamps: true });
  rmSync(join(copy, '.ribband'), { recursive: true, force: true });
  const result = await build(copy, site, more);
  expect(result.written).toBe(result.files);
  builtAnew.set(key, { site, result });
  return { site, result };
}

/** Holds the site against one of the same book that was built from nothing. */
async function expectLikeNew(result: BuildResult, more: Parameters<typeof build>[2] = {}): Promise<void> {
  expect(result.stopped).toBe(false);
  const fresh = await anew(more);
  expect(differences(out, fresh.site)).toEqual([]);
  expect({ ...result, written: 0, removed: 0 }).toEqual({ ...fresh.result, written: 0, removed: 0 });
}

function entries(): string[] {
  return filesBelow(join(root, 'entries')).map((path) => join(root, 'entries', path));
}

function write(path: string, text: string | Buffer): void {
  mkdirSync(dirname(join(root, path)), { recursive: true });
  writeFileSync(join(root, path), text);
}

function change(path: string, from: string | RegExp, to: string): void {
  const before = readFileSync(join(root, path), 'utf8');
  const after = before.replace(from, to);
  expect(after).not.toBe(before);
  write(path, after);
}

function picture(colour: string): Promise<Buffer> {
  return sharp({ create: { width: 40, height: 30, channels: 3, background: colour } })
    .png()
    .toBuffer();
}

const NEW_ENTRY = `---
date: 2025-01-04
title: A look in the new year
systems: [engine]
hours: [{ by: owner, spent: 2 h }]
measurements:
  - { what: ice on the deck, value: 4 mm }
opens:
  - { item: sweep-the-deck, what: Sweep the deck, size: 1 h }
photos:
  - { file: photos/2025/ice.png, alt: Ice on the deck }
---
Cold. See [the last one](2024-11-29-1-look.md).

![Ice](photos/2025/ice.png)
`;

/** What happens to a book, one thing after another. */
const HAPPENINGS: readonly (readonly [what: string, happens: () => void | Promise<void>])[] = [
  ['nothing', () => undefined],
  ['prose is added', () => writeFileSync(entries()[3] as string, '\nMore.\n', { flag: 'a' })],
  [
    'an entry comes, with a picture',
    async () => {
      write('photos/2025/ice.png', await picture('#abc'));
      write('entries/2025/2025-01-04-new-year.md', NEW_ENTRY);
    },
  ],
  [
    'a reading is put right',
    () => change('entries/2025/2025-01-04-new-year.md', 'value: 4 mm', 'value: 6 mm'),
  ],
  ['a title changes', () => change('entries/2025/2025-01-04-new-year.md', 'A look in', 'A second look in')],
  ['a picture changes', async () => write('photos/2025/ice.png', await picture('#def'))],
  [
    'an entry gets another name',
    () =>
      renameSync(
        join(root, 'entries/2025/2025-01-04-new-year.md'),
        join(root, 'entries/2025/2025-01-04-ice.md'),
      ),
  ],
  [
    'an item is closed',
    () => change('entries/2025/2025-01-04-ice.md', 'photos:', 'closes: [sweep-the-deck]\nphotos:'),
  ],
  [
    'an entry gets another date',
    () => {
      change('entries/2025/2025-01-04-ice.md', 'date: 2025-01-04', 'date: 2025-02-05');
      renameSync(join(root, 'entries/2025/2025-01-04-ice.md'), join(root, 'entries/2025/2025-02-05-ice.md'));
    },
  ],
  [
    'a system gets another title',
    () => change('systems/engine.md', 'title: Main engine', 'title: The engine'),
  ],
  ['a limit changes', () => change('systems/engine.md', /at-least: \S+/, 'at-least: 0.1')],
  ['a claim changes', () => change('systems/hull.md', /basis: (?:told|printed|marked)/, 'basis: measured')],
  ['a person gets a name', () => change('book.yaml', 'name: bas', 'name: Bas Oldring')],
  ['an instrument gets better', () => change('book.yaml', '0.5 % + 0.02 V', '0.2 % + 0.01 V')],
  ['the subject gets another name', () => change('book.yaml', 'name: Longshore', 'name: Shorelong')],
  [
    'units are shown otherwise',
    () => write('book.yaml', `${readFileSync(join(root, 'book.yaml'), 'utf8')}units: { show: us }\n`),
  ],
  ['an entry goes', () => rmSync(join(root, 'entries/2025/2025-02-05-ice.md'))],
  ['a picture goes', () => rmSync(join(root, 'photos'), { recursive: true })],
  ['prose of a system changes', () => change('systems/rig.md', 'as found', 'as found then')],
];

beforeEach(() => {
  const folder = tempFolder();
  root = join(folder, 'book');
  out = join(folder, 'site');
  mkdirSync(root);
  writeBook(makeBook(24), root);
});

describe('a warm build', () => {
  it('gives what a cold one gives, whatever has happened to the book in between', async () => {
    await build(root, out);
    for (const [what, happens] of HAPPENINGS) {
      await happens();
      const result = await build(root, out);
      await expectLikeNew(result).catch((error: unknown) => {
        throw new Error(`after: ${what}`, { cause: error });
      });
    }
  }, 300_000);

  it('gives what a cold one gives after changes in any order', async () => {
    const random = randomFrom(7);
    await build(root, out);
    for (let round = 0; round < 8; round += 1) {
      for (let times = 1 + random.below(3); times > 0; times -= 1) {
        const file = random.pick(entries());
        const text = readFileSync(file, 'utf8');
        const what = random.below(3);
        if (what === 0) writeFileSync(file, `${text}\nRound ${round}.\n`);
        else if (what === 1) writeFileSync(file, text.replace(/^title: .*$/m, `title: Round ${round}`));
        else
          writeFileSync(
            file,
            text.replace(
              'measurements:\n',
              `measurements:\n  - { what: round ${round}.${times}, value: ${round + 1} mm }\n`,
            ),
          );
      }
      await expectLikeNew(await build(root, out));
    }
  }, 300_000);

  it('writes nothing where nothing has changed, and only what shows a change where something has', async () => {
    await build(root, out);
    const stamps = () => filesBelow(out).map((path) => statSync(join(out, path)).ino);
    const before = stamps();
    expect(await build(root, out)).toMatchObject({ written: 0, removed: 0 });
    expect(stamps()).toEqual(before);
    writeFileSync(entries()[3] as string, '\nMore.\n', { flag: 'a' });
    const { written, files } = await build(root, out);
    expect(written).toBeGreaterThan(0);
    expect(written).toBeLessThan(files / 4);
  });

  it('shows another day when the day is another', async () => {
    await build(root, out);
    const later = { today: '2026-02-02' };
    await expectLikeNew(await build(root, out, later), later);
    const earlier = { asOf: '2015-06-01' };
    await expectLikeNew(await build(root, out, earlier), earlier);
    await expectLikeNew(await build(root, out));
  }, 120_000);
});

describe('an output that was touched', () => {
  it('is put right: files edited, emptied, deleted, or all of it', async () => {
    await build(root, out);
    const page = filesBelow(join(out, 'entries'))[0] as string;
    const touches: readonly (() => void)[] = [
      () => writeFileSync(join(out, 'index.html'), 'something else'),
      () => {
        // As long as before, and as old: only the clock of the file system tells, and it was set back.
        const path = join(out, 'entries', page);
        const { mtime, size } = statSync(path);
        writeFileSync(path, 'x'.repeat(size));
        utimesSync(path, mtime, new Date(mtime.getTime() - 60_000));
      },
      () => truncateSync(join(out, 'log', 'index.html')),
      () => rmSync(join(out, 'assets'), { recursive: true }),
      () => rmSync(join(out, 'entries', page)),
      () => rmSync(out, { recursive: true }),
    ];
    for (const touch of touches) {
      touch();
      await expectLikeNew(await build(root, out));
    }
  }, 120_000);
});

describe('a cache', () => {
  const cached = () => filesBelow(join(root, '.ribband')).filter((path) => path.endsWith('.json'));
  const spoils: readonly (readonly [string, (path: string) => void])[] = [
    ['deleted', (path) => rmSync(path)],
    ['emptied', (path) => truncateSync(path)],
    ['cut short', (path) => truncateSync(path, statSync(path).size >> 1)],
    ['of something else', (path) => writeFileSync(path, '{"value":[]}')],
    ['of another version', (path) => writeFileSync(path, `0.0.0 ${readFileSync(path, 'utf8')}`)],
    [
      'changed in the middle',
      (path) => {
        const text = readFileSync(path, 'utf8');
        const middle = text.length >> 1;
        writeFileSync(
          path,
          `${text.slice(0, middle)}${text[middle] === '1' ? '2' : '1'}${text.slice(middle + 1)}`,
        );
      },
    ],
  ];

  it.each(spoils)(
    'that was %s makes nothing wrong, file by file',
    async (_, spoil) => {
      await build(root, out);
      const names = cached();
      expect(names).toContain('parsed.json');
      for (const name of names) {
        spoil(join(root, '.ribband', name));
        change('systems/rig.md', 'as found', 'as found, so');
        await expectLikeNew(await build(root, out));
      }
    },
    120_000,
  );

  it('deleted whole while it was in use is made again', async () => {
    await build(root, out);
    rmSync(join(root, '.ribband'), { recursive: true });
    await expectLikeNew(await build(root, out));
    expect(cached()).toContain('parsed.json');
  });
});

describe('a check that remembers', () => {
  it('tells the same as one that does not, problems with their places too', async () => {
    const told = async () => (await tellFolder(root, TODAY)).diagnostics;
    const toldAnew = async () => {
      rmSync(join(root, '.ribband'), { recursive: true, force: true });
      return (await checkFolder(root, TODAY)).diagnostics;
    };
    const file = relative(root, entries()[5] as string);
    change(file, 'by: owner', 'by: nobody');
    const first = await told();
    expect(first.map(({ code }) => code)).toContain('unknown-person');
    expect(await told()).toEqual(first);
    change('systems/rig.md', 'as found', 'as found then');
    expect(await told()).toEqual(first);
    expect(await toldAnew()).toEqual(first);
    change(file, 'by: nobody', 'by: owner');
    expect(await told()).toEqual(await toldAnew());
    expect(await told()).not.toEqual(first);
  });
});
