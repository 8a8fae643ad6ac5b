import { crc32 } from 'node:zlib';
import sharp, { type Sharp } from 'sharp';
import { describe, expect, it } from 'vitest';
import { barePicture } from '../../src/read/bare/picture.js';

/** Pictures as they may leave a book: the same pixels the same way up, and not a word more. */

const WORD = 'a-word-nobody-may-see';
const NOISE = Buffer.from(Array.from({ length: 60 * 40 * 3 }, (_, at) => (at * 7919 + (at >> 3) * 31) % 256));

/** With the most saturated colours that a camera's profile has, so that a profile that is lost shows. */
function plain(): Sharp {
  return sharp(NOISE, { raw: { width: 60, height: 40, channels: 3 } });
}

function told(image: Sharp, profile: string | null, orientation: number): Sharp {
  const named = image
    .withExif({
      IFD0: { ImageDescription: WORD, Copyright: WORD },
      IFD3: { GPSAreaInformation: WORD, GPSLatitude: '51/1 30/1 3230/100' },
    })
    .withXmp(`<x:xmpmeta xmlns:x="adobe:ns:meta/"><note>${WORD}</note></x:xmpmeta>`)
    .withMetadata({ orientation });
  return profile === null ? named : named.withIccProfile(profile);
}

function segment(marker: number, text: string): Buffer {
  const body = Buffer.from(text, 'latin1');
  return Buffer.concat([Buffer.from([0xff, marker, 0, body.length + 2]), body]);
}

function chunk(name: string, text: string): Buffer {
  const named = Buffer.from(name + text, 'latin1');
  const [length, sum] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(text.length);
  sum.writeUInt32BE(crc32(named));
  return Buffer.concat([length, named, sum]);
}

/** Words in every place of a JPEG that a word can stand in, with a film behind its end. */
function wordyJpeg(bytes: Buffer): Buffer {
  const marks = [0xe0, 0xe1, 0xe2, 0xe3, 0xec, 0xed, 0xee, 0xef, 0xfe].map((one) =>
    segment(one, `JFXX\0${WORD}`),
  );
  const parts = [segment(0xed, `Photoshop 3.0\0${WORD}`), segment(0xe2, `MPF\0${WORD}`), ...marks];
  return Buffer.concat([bytes.subarray(0, 2), ...parts, bytes.subarray(2), Buffer.from(`ftyp${WORD}`)]);
}

function wordyPng(bytes: Buffer): Buffer {
  const chunks = ['tEXt', 'zTXt', 'iTXt', 'tIME', 'prVt', 'sPLT', 'eXIf', 'acTL', 'gAMA'].map((one) =>
    chunk(one, WORD),
  );
  return Buffer.concat([bytes.subarray(0, 33), ...chunks, bytes.subarray(33), Buffer.from(WORD)]);
}

function wordyWebp(bytes: Buffer): Buffer {
  const added = ['XMP ', 'QQQQ', 'ICCP'].map((name) => {
    const head = Buffer.alloc(8);
    head.write(name);
    head.writeUInt32LE(WORD.length, 4);
    return Buffer.concat([head, Buffer.from(WORD), Buffer.alloc(WORD.length % 2)]);
  });
  const all = Buffer.concat([bytes, ...added]);
  all.writeUInt32LE(all.length - 8, 4);
  return Buffer.concat([all, Buffer.from(WORD)]);
}

const FORMATS: Readonly<Record<string, readonly [(image: Sharp) => Sharp, (bytes: Buffer) => Buffer]>> = {
  jpeg: [(image) => image.jpeg({ quality: 95, chromaSubsampling: '4:4:4' }), wordyJpeg],
  'jpeg in several scans': [(image) => image.jpeg({ progressive: true, mozjpeg: true }), wordyJpeg],
  png: [(image) => image.png(), wordyPng],
  'png with a palette': [(image) => image.png({ palette: true }), wordyPng],
  webp: [(image) => image.webp({ lossless: true }), wordyWebp],
};

/** As a page would show it. */
function seen(bytes: Buffer): Promise<Buffer> {
  return sharp(bytes, { failOn: 'error' }).autoOrient().toColourspace('srgb').raw().toBuffer();
}

describe.each(Object.entries(FORMATS))('a %s', (_, [as, wordy]) => {
  it.each([
    [null, 1],
    ['p3', 1],
    [null, 6],
    ['p3', 3],
  ])('with the profile %s, on its side %i', async (profile, orientation) => {
    const bytes = wordy(await told(as(plain()), profile, orientation).toBuffer());
    expect(bytes.includes(WORD)).toBe(true);
    const bare = barePicture(bytes);
    expect(bare?.includes(WORD)).toBe(false);
    if (bare === null) return;
    expect((await seen(bare)).equals(await seen(bytes))).toBe(true);
    expect(barePicture(bare)?.equals(bare)).toBe(true);
    const { xmp, iptc, comments, orientation: side, icc } = await sharp(bare).metadata();
    expect({ xmp, iptc, comments, side: side ?? 1 }).toEqual({ side: orientation });
    // Whether sharp writes a profile for plain colours differs from version to version; what was there is kept.
    expect(icc === undefined).toBe((await sharp(bytes).metadata()).icc === undefined);
    if (profile !== null) expect(icc).toBeDefined();
    for (const end of [bare.length >> 1, bare.length - 3])
      expect(barePicture(bare.subarray(0, end))).toBeNull();
  });
});

it('keeps colours that are written in an unusual way', async () => {
  const cmyk = await plain().toColourspace('cmyk').jpeg({ quality: 95 }).toBuffer();
  const grey = await plain().greyscale().jpeg().toBuffer();
  const clear = await sharp({ create: { width: 9, height: 9, channels: 4, background: '#12345678' } })
    .webp()
    .toBuffer();
  for (const bytes of [cmyk, grey, clear]) {
    const bare = barePicture(bytes) ?? Buffer.alloc(0);
    expect((await seen(bare)).equals(await seen(bytes))).toBe(true);
  }
});

it('every frame of a moving picture is cleaned, and the first is the same', async () => {
  const frames = Buffer.concat([NOISE, Buffer.from(NOISE).reverse()]);
  const moving = await sharp(frames, { raw: { width: 60, height: 80, channels: 3, pageHeight: 40 } })
    .webp({ lossless: true })
    .toBuffer();
  expect((await sharp(moving).metadata()).pages).toBe(2);
  const bare = barePicture(wordyWebp(moving)) ?? Buffer.alloc(0);
  expect(bare.includes(WORD)).toBe(false);
  expect((await sharp(bare).metadata()).pages).toBe(2);
  expect((await seen(bare)).equals(await seen(moving))).toBe(true);
});

it('never throws, whatever byte of a picture is another one', async () => {
  const all = await Promise.all(
    Object.values(FORMATS).map(async ([as, wordy]) => wordy(await told(as(plain()), 'p3', 6).toBuffer())),
  );
  let whole = 0;
  for (const bytes of all)
    for (let at = 12; at < Math.min(bytes.length, 1500); at += 1)
      for (const flip of [0x01, 0x80, 0xff]) {
        const broken = Buffer.from(bytes);
        broken.writeUInt8(broken.readUInt8(at) ^ flip, at);
        const bare = barePicture(broken);
        if (bare === null) continue;
        whole += 1;
        if (barePicture(bare)?.equals(bare) !== true) throw new Error(`byte ${at} with ${flip}`);
      }
  expect(whole).toBeGreaterThan(1000);
});
