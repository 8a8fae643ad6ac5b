import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { crc32 } from 'node:zlib';
import { unzipSync } from 'fflate';
import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { redactBook } from '../../src/audience/redact.js';
import { NO_MEMORY } from '../../src/check/check.js';
import type { Hideable } from '../../src/check/model.js';
import { type Role, readFolder } from '../../src/read/folder.js';
import { put, run, TODAY } from '../cli/support.js';
import { tempFolder } from '../folders.js';
import { canaryBook, type Sight } from './canary-book.js';
import { fieldsOf, valuesAt } from './fields.js';

/**
 * A canary in every field of the format, in prose, in comments, in the names of files and in what a picture carries:
 * what an audience may not see is in no byte of what is made for it, and what it may see is there.
 */

const AUDIENCES: Readonly<Record<string, readonly Hideable[]>> = {
  public: ['cost', 'suppliers', 'people', 'serials', 'places', 'hours'],
  buyer: ['cost', 'suppliers', 'people'],
  surveyor: ['cost', 'suppliers', 'hours'],
  nothing: ['cost', 'suppliers', 'people', 'serials', 'places', 'hours', 'photos', 'prose'],
  everything: [],
};

const { files, data, canaries, pictures } = canaryBook();
const HIDDEN_IN_PICTURES = ['exif', 'xmp', 'iptc', 'png', 'gps'].map(
  (name) => `canary-in-${name}-of-a-picture`,
);

let root = '';
let own: Made = { site: '', zip: '', pictures: '' };

beforeAll(async () => {
  root = tempFolder();
  put(root, files);
  for (const [index, path] of pictures.entries()) {
    put(root, { [path]: '' });
    writeFileSync(join(root, path), await picture(path, index));
  }
  own = await made('owner');
}, 120_000);

/** A picture with something in every place in which a picture can carry words. */
async function picture(path: string, index: number): Promise<Buffer> {
  const [exif = '', xmp = '', iptc = '', png = '', gps = ''] = HIDDEN_IN_PICTURES;
  const plain = sharp({ create: { width: 40 + index, height: 30, channels: 3, background: '#357' } });
  if (path.endsWith('.png')) {
    const bytes = await plain.png().toBuffer();
    const text = Buffer.from(`tEXtComment\0${png}`);
    const length = Buffer.alloc(4);
    length.writeUInt32BE(text.length - 4);
    const sum = Buffer.alloc(4);
    sum.writeUInt32BE(crc32(text));
    // Behind the signature and the head, which are 33 bytes.
    return Buffer.concat([bytes.subarray(0, 33), length, text, sum, bytes.subarray(33)]);
  }
  const bytes = await plain
    .withExif({ IFD0: { ImageDescription: exif, Copyright: exif }, IFD3: { GPSAreaInformation: gps } })
    .withXmp(`<x:xmpmeta xmlns:x="adobe:ns:meta/"><note>${xmp}</note></x:xmpmeta>`)
    .jpeg()
    .toBuffer();
  const block = Buffer.from(`Photoshop 3.0\0${iptc}`);
  const head = Buffer.from([0xff, 0xed, 0, block.length + 2]);
  return Buffer.concat([bytes.subarray(0, 2), head, block, bytes.subarray(2)]);
}

/** Every byte that is made for an audience, with the names of the files. */
interface Made {
  /** The site but for its zip, and the export. */
  readonly site: string;
  /** The zip of the sources, in which everything is stored as it is. */
  readonly zip: string;
  /** The pictures in that zip. */
  readonly pictures: string;
}

const ZIP = 'sources.zip';

async function made(audience: string): Promise<Made> {
  const out = join(tempFolder(), 'site');
  const built = await run(['build', root, '--for', audience, '--out', out], { cwd: root });
  expect(built.err.replace(/^\d+ warnings? in the book.*\n/, ''), audience).toBe('');
  const exported = await run(['export', root, '--for', audience], { cwd: root });
  expect(exported.code).toBe(0);
  const items = readdirSync(out, { withFileTypes: true, recursive: true });
  const found = items.map((item) => {
    if (item.name === ZIP) return '';
    const path = join(item.parentPath, item.name);
    return `${path.slice(out.length)}\n${item.isFile() ? readFileSync(path, 'latin1') : ''}`;
  });
  expect(found.length).toBeGreaterThan(50);
  const zip = readFileSync(join(out, 'open', ZIP));
  const inside = Object.entries(unzipSync(zip));
  const pictures = inside.filter(([path]) => path.startsWith('photos/'));
  return {
    site: [...found, exported.out].join('\n').toLowerCase(),
    zip: [zip.toString('latin1'), ...inside.map(([, bytes]) => latin1(bytes))].join('\n').toLowerCase(),
    pictures: pictures.map(([path, bytes]) => `${path}\n${latin1(bytes)}`).join('\n'),
  };
}

function latin1(bytes: Uint8Array): string {
  return Buffer.from(bytes).toString('latin1');
}

/** What the copy's own sources are, with their names. */
async function sourcesFor(audience: string): Promise<string> {
  const copy = await redactBook(readFolder(root), audience, TODAY, NO_MEMORY);
  if (!copy.ok) throw new Error(copy.why);
  const { folder, photos } = copy.redacted;
  const texts = [...folder.files, ...folder.series].map(({ path, text }) => `${path}\n${text}`);
  return [...texts, ...photos.keys()].join('\n').toLowerCase();
}

function maySee(sight: Sight, hides: readonly Hideable[]): boolean {
  return (
    sight !== 'owner' &&
    sight !== 'nobody' &&
    !sight.split('+').some((one) => hides.includes(one as Hideable))
  );
}

/** Fields of the format that the book of the owner never has: a copy's own. */
const OF_COPIES = /^copy(?:\/|$)/;
/**
 * Fields in which only a kind, a unit, a formula, an amount or a word of the format can stand, or what stands for
 * something else.
 */
const NO_WORDS =
  /(?:^|\/)(?:private-sections\/\*|shown-as|quantity|unit|from|holds-while|prefer\/\*|range\/\*|accuracy|again-every|within|at-least|at-most|compare-at\/\*|plausible\/\*|wraps-at|every(?:\/\*)?|spent|reads|value|says|size|mass|(?:at|from)\/\*|under\/\*|review|days|charge-to|derate|efficiency|hours|for|language|currency|built|waits-on\/\*|between\/\*|file|see|series|cost|figures\/\*|readings\/\*|measurements\/\*\/\*)$|^(?:sources|stores|loads|hydrostatics)\//;

describe('the book of canaries', () => {
  it.each(['book', 'system', 'entry', 'power-plan', 'weights-plan'] as const)(
    'has every field of the format: %s',
    (role: Role) => {
      const fields = fieldsOf(role).filter(({ path }) => !OF_COPIES.test(path));
      expect(fields.length).toBeGreaterThan(20);
      const missing = fields.filter(
        ({ path }) => data[role].flatMap((one) => valuesAt(one, path)).length === 0,
      );
      expect(missing.map(({ path }) => path)).toEqual([]);
      const bare = fields.filter(({ path, free }) => {
        if (!free || NO_WORDS.test(path)) return false;
        const texts = data[role].flatMap((one) => valuesAt(one, path)).map(String);
        return !texts.some((text) => /zq\d{4}k/.test(text));
      });
      expect(bare.map(({ path }) => path)).toEqual([]);
    },
  );

  it('has enough of them, of every sort', () => {
    expect(canaries.size).toBeGreaterThan(250);
    for (const sight of [
      'shown',
      'owner',
      'nobody',
      'cost',
      'suppliers',
      'people',
      'serials',
      'places',
      'hours',
      'photos',
      'prose',
    ])
      expect([...canaries.values()].filter((one) => one === sight).length, sight).toBeGreaterThan(0);
  });

  it('shows nearly all of them to the owner, so that they would be found', () => {
    const shown = [...canaries].filter(([, sight]) => sight !== 'nobody').map(([canary]) => canary);
    const unseen = shown.filter((canary) => !own.site.includes(canary));
    expect(unseen.length / shown.length, unseen.join(' ')).toBeLessThan(0.15);
  });

  it('shows nobody a comment, the name of an audience, or what a picture carries', () => {
    const nobody = [...canaries].filter(([, sight]) => sight === 'nobody').map(([canary]) => canary);
    const pages = own.site + own.pictures;
    expect(own.pictures.match(/photos\//g)?.length).toBe(pictures.length);
    expect([...nobody, ...HIDDEN_IN_PICTURES].filter((canary) => pages.includes(canary))).toEqual([]);
  });
});

describe.each(Object.entries(AUDIENCES))('the copy for %s', (audience, hides) => {
  it('has nothing that they may not see in any byte, and what they may see', async () => {
    const { site, zip } = await made(audience);
    const sources = await sourcesFor(audience);
    const hidden = [...canaries].filter(([, sight]) => !maySee(sight, hides)).map(([canary]) => canary);
    const leaked = [...hidden, ...HIDDEN_IN_PICTURES].filter(
      (canary) => site.includes(canary) || zip.includes(canary) || sources.includes(canary),
    );
    const where = (canary: string) => {
      const at = Math.max(sources.indexOf(canary), 0);
      return `${canary} ${canaries.get(canary)}: ${sources.slice(Math.max(0, at - 60), at + 20)}`;
    };
    expect(leaked.map(where)).toEqual([]);
    const shown = [...canaries].filter(([, sight]) => maySee(sight, hides)).map(([canary]) => canary);
    expect(shown.length).toBeGreaterThan(60);
    expect(
      shown
        .filter((canary) => !sources.includes(canary))
        .map((canary) => `${canary} ${canaries.get(canary)}`),
    ).toEqual([]);
    expect(shown.filter((canary) => site.includes(canary)).length / shown.length).toBeGreaterThan(0.7);
  }, 120_000);
});
