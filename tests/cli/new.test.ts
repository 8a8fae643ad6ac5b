import { mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { quickFrontMatter } from '../../src/read/front-matter.js';
import { tempFolder } from '../folders.js';
import { BROKEN, book, run, TODAY } from './support.js';

function written(root: string, printed: string): string {
  return readFileSync(join(root, printed.trimEnd()), 'utf8');
}

describe('ribband new, from options', () => {
  it('writes an entry with what is known, and prints its path and nothing else', async () => {
    const cwd = book({ 'entries/2026/2026-04-18-capacity-test.md': NOT_CLOSED });
    const ran = await run(
      ['new', '--title', 'Oil: change #1', '--system', 'engine', '--system', 'house-dc'],
      {
        cwd,
      },
    );
    expect(ran).toEqual({
      code: 0,
      out: `entries/2026/${TODAY}-oil-change-1.md\n`,
      err: '',
    });
    expect(written(cwd, ran.out)).toBe(`---
date: ${TODAY}
title: "Oil: change #1"
systems: [engine, house-dc]
# hours:
#   - { by: owner, spent:  h }
# meters:
#   - { meter: engine.hours, reads:  h }  # last 1243.6 h on 2026-03-01
# measurements:
#   - house-dc.capacity:  Ah     # Capacity; last 318 ± 6 Ah on 2026-04-18
#   - house-dc.rest-voltage:  V  # Bank at rest; last 12.71 V on 2026-03-01
# closes:
#   - change-oil  # Change the oil
#   - test-bank   # Test the bank
---

`);
    expect(await run(['check'], { cwd })).toMatchObject({ code: 0 });
  });

  it('closes what it is told to, and offers the rest', async () => {
    const cwd = book({ 'entries/2026/2026-04-18-capacity-test.md': NOT_CLOSED });
    const { out } = await run(['new', '--title', 'Oil', '--close', 'change-oil', '--system', 'house-dc'], {
      cwd,
    });
    const text = written(cwd, out);
    expect(text).toContain('closes:\n  - change-oil\n#   - test-bank  # Test the bank\n---\n');
    expect(quickFrontMatter(text)?.data).toMatchObject({ closes: ['change-oil'] });
    expect(await run(['check'], { cwd })).toMatchObject({ code: 0 });
  });

  it.each(['rest-voltage', 'Bank at rest', 'bank at rest'])(
    'takes `%s` of a system that is named for its point, not for plain words',
    async (name) => {
      const cwd = book();
      const options = ['new', '--title', 'Volts', '--system', 'house-dc', '--reading', `${name}=12.7 V`];
      const { out } = await run(options, { cwd });
      expect(written(cwd, out)).toContain('  - house-dc.rest-voltage: 12.7 V\n');
    },
  );

  it('leaves what no point of the system is called in plain words', async () => {
    const cwd = book();
    const options = ['new', '--title', 'Volts', '--system', 'engine', '--reading', 'rest-voltage=12.7 V'];
    const { out } = await run(options, { cwd });
    expect(written(cwd, out)).toContain('  - { what: rest-voltage, value: 12.7 V }\n');
  });

  it('takes the systems of the items that it closes', async () => {
    const cwd = book();
    const { out } = await run(['new', '--title', 'Oil', '--close', 'change-oil'], { cwd });
    expect(written(cwd, out)).toContain('\nsystems: [engine]\n');
  });

  it('a commented line that is only uncommented is told as a problem, not taken for a reading', async () => {
    const cwd = book();
    const { out } = await run(['new', '--title', 'Oil', '--system', 'house-dc', '--system', 'engine'], {
      cwd,
    });
    const file = join(cwd, out.trimEnd());
    writeFileSync(file, readFileSync(file, 'utf8').replaceAll(/^# /gm, ''));
    const { diagnostics } = JSON.parse((await run(['check', '--format', 'json'], { cwd })).out) as {
      diagnostics: { file: string; severity: string; excerpt: string }[];
    };
    const errors = diagnostics.filter(({ severity }) => severity === 'error');
    expect(errors.every(({ file: name }) => name === out.trimEnd())).toBe(true);
    for (const field of ['spent:', 'reads:', 'house-dc.capacity:', 'house-dc.rest-voltage:'])
      expect(
        errors.some(({ excerpt }) => excerpt.includes(field)),
        field,
      ).toBe(true);
  });

  it('never overwrites: a second entry of that name is another file', async () => {
    const cwd = book();
    const names = [];
    for (let n = 0; n < 3; n += 1)
      names.push((await run(['new', '--title', 'Same', '--system', 'engine'], { cwd })).out.trimEnd());
    const stem = `entries/2026/${TODAY}-same`;
    expect(names).toEqual([`${stem}.md`, `${stem}-2.md`, `${stem}-3.md`]);
    expect(await run(['check'], { cwd })).toMatchObject({ code: 0 });
  });

  it('does not take a name that an entry in another folder has', async () => {
    const cwd = book({
      [`entries/${TODAY}-same.md`]: `---\ndate: ${TODAY}\ntitle: Same\nsystems: [engine]\n---\n`,
    });
    const { out } = await run(['new', '--title', 'Same', '--system', 'engine'], { cwd });
    expect(out).toBe(`entries/2026/${TODAY}-same-2.md\n`);
    expect(await run(['check'], { cwd })).toMatchObject({ code: 0 });
  });

  it('can be of an earlier day, with the items and readings that there were then', async () => {
    const cwd = book();
    const { out } = await run(['new', '--title', 'Late', '--date', '2026-03-05', '--system', 'house-dc'], {
      cwd,
    });
    expect(out).toBe('entries/2026/2026-03-05-late.md\n');
    expect(written(cwd, out)).toContain('#   - test-bank  # Test the bank\n');
    expect(written(cwd, out)).toMatch(/house-dc\.capacity: {2}Ah +# Capacity\n/);
  });

  it.each([
    ['Морская запись', 'an alphabet of its own'],
    ['---', 'nothing but hyphens'],
    ['x'.repeat(300), 'three hundred letters'],
    ['yes', 'a word that YAML knows'],
    ['one\ntwo: three', 'two lines'],
    ['date: 2020-01-01', 'a title that looks like a field'],
    ['../../outside', 'a title that looks like a path'],
  ])('the title %j (%s) gives an entry that passes', async (title) => {
    const cwd = book();
    const ran = await run(['new', `--title=${title}`, '--system', 'engine'], { cwd });
    expect(ran.code).toBe(0);
    expect(ran.out).toMatch(/^entries\/2026\/2026-04-20-[a-z0-9-]+\.md\n$/);
    expect(quickFrontMatter(written(cwd, ran.out))?.data).toMatchObject({
      title: title.replaceAll(/\s+/g, ' '),
    });
    expect(await run(['check'], { cwd })).toMatchObject({ code: 0 });
  });

  it.each([
    ['yesterday', '2026-04-19'],
    ['Today', TODAY],
    ['12 April 2026', '2026-04-12'],
    ['25.12.2025', '2025-12-25'],
  ])('takes the day %s, and a system by its title', async (day, date) => {
    const cwd = book();
    const ran = await run(['new', '--title', 'T', '--system', 'house Batteries', '--date', day], { cwd });
    expect(ran).toMatchObject({ code: 0, out: `entries/${date.slice(0, 4)}/${date}-t.md\n` });
    expect(written(cwd, ran.out)).toContain(`date: ${date}\ntitle: T\nsystems: [house-dc]\n`);
  });

  it('asks which of two systems is meant by one title', async () => {
    const cwd = book({ 'systems/other.md': '---\nsystem: other\ntitle: House batteries\n---\n' });
    const ran = await run(['new', '--title', 'T', '--system', 'House batteries'], { cwd });
    expect([ran.code, ran.err]).toEqual([
      2,
      'ribband: Several systems are called `House batteries`. Say which: house-dc, other.\n',
    ]);
  });

  it('keeps what items and points are called inside their comments', async () => {
    const cwd = book({
      'entries/2026/2026-04-18-capacity-test.md': `---
date: 2026-04-18
title: Sly
systems: [engine]
opens:
  - { item: sly, what: "one\\ncloses: [change-oil]\\n---\\nand more" }
---
`,
    });
    const { out } = await run(['new', '--title', 'Next', '--system', 'engine'], { cwd });
    expect(quickFrontMatter(written(cwd, out))?.data).toEqual({
      date: TODAY,
      title: 'Next',
      systems: ['engine'],
    });
  });

  it.each([
    [
      ['--system', 'engine'],
      /`--title` is needed where there is no terminal to ask at\.\nUsage: ribband new /,
    ],
    [
      ['--title', 'T'],
      /`--system` is needed where there is no terminal to ask at: one or more of engine, house-dc\./,
    ],
    [['--title', '  ', '--system', 'engine'], /`--title`: an entry needs a title\./],
    [['--title', 'x'.repeat(501), '--system', 'engine'], /`--title`: a title has at most 500 letters\./],
    [['--title', 'T', '--system', 'engin'], /There is no system `engin`\. Did you mean `engine`\?/],
    [['--title', 'T', '--system', 'rudder'], /There is no system `rudder`\. There are: engine, house-dc\./],
    [
      ['--title', 'T', '--close', 'change-oli'],
      /There was no open item `change-oli` on 2026-04-20\. Did you mean `change-oil`\?/,
    ],
    [
      ['--title', 'T', '--close', 'test-bank'],
      /`test-bank` is done already: 2026-04-18-capacity-test closes it\./,
    ],
    [['--title', 'T', '--system', 'engine', '--date', '2026-04-21'], /2026-04-21 is still to come/],
    [
      ['--title', 'T', '--system', 'engine', '--date', '2.4.2026'],
      /`--date` is a day such as `2026-04-18`, .*, not `2\.4\.2026`\./,
    ],
  ])('%j is refused and writes nothing', async (options, message) => {
    const cwd = book();
    const before = readdirSync(join(cwd, 'entries/2026'));
    const ran = await run(['new', ...options], { cwd });
    expect([ran.code, ran.out]).toEqual([2, '']);
    expect(ran.err).toMatch(message);
    expect(readdirSync(join(cwd, 'entries/2026'))).toEqual(before);
  });

  it('writes through no link', async () => {
    const cwd = book();
    const outside = tempFolder();
    mkdirSync(join(outside, 'x'));
    symlinkSync(outside, join(cwd, 'entries/2025'));
    const ran = await run(['new', '--title', 'T', '--system', 'engine', '--date', '2025-01-01'], { cwd });
    expect(ran.code).toBe(2);
    expect(ran.err).toContain('is a link');
    expect(readdirSync(outside)).toEqual(['x']);
  });

  it('works in a book with errors elsewhere, and says that there are some', async () => {
    const cwd = book(BROKEN);
    const ran = await run(['new', '--title', 'T', '--system', 'engine'], { cwd });
    expect(ran.code).toBe(0);
    expect(ran.err).toBe('The book has errors; `ribband check` tells them.\n');
  });

  it('shows what is wrong where book.yaml cannot be read', async () => {
    const ran = await run(['new', '--title', 'T', '--system', 'engine'], {
      cwd: book({ 'book.yaml': 'book: [' }),
    });
    expect([ran.code, ran.out]).toEqual([1, '']);
    expect(ran.err).toContain('error yaml-syntax');
  });
});

describe('ribband new, told everything by options', () => {
  it('writes an entry that passes, in the order of the format', async () => {
    const cwd = book();
    const ran = await run(
      [
        ...['new', '--title', 'A day aboard', '--reading', 'house-dc.rest-voltage=12.69 V, with=clamp'],
        ...['--reading', 'battery box, inside length=27 1/2 in', '--meter', 'engine.hours=1250.1 h'],
        ...['--test', 'house-dc.capacity-test: capacity=331 ± 6 Ah, by=owner, note=warm, still'],
        ...['--hours', 'owner=3.5 h, on=engine', '--part', 'filter=arrived, what=oil filter, cost=18.00 EUR'],
        ...[
          '--close',
          'change-oil',
          '--open',
          'Fit the filter, by=2026-05-01, size=1 h',
          '--text',
          'All well.',
        ],
      ],
      { cwd },
    );
    expect(ran).toEqual({ code: 0, out: `entries/2026/${TODAY}-a-day-aboard.md\n`, err: '' });
    expect(written(cwd, ran.out)).toBe(`---
date: ${TODAY}
title: A day aboard
systems: [house-dc, engine]
hours:
  - { by: owner, spent: 3.5 h, on: engine }
meters:
  - { meter: engine.hours, reads: 1250.1 h }
measurements:
  - { point: house-dc.rest-voltage, value: 12.69 V, with: clamp }
  - { what: "battery box, inside length", value: 27 1/2 in }
tests:
  - { test: house-dc.capacity-test, readings: { capacity: 331 ± 6 Ah }, by: owner, note: "warm, still" }
parts:
  - { part: filter, move: arrived, what: oil filter, cost: 18.00 EUR }
opens:
  - { item: fit-the-filter, what: Fit the filter, size: 1 h, by: 2026-05-01 }
closes:
  - change-oil
---

All well.
`);
    expect(await run(['check'], { cwd })).toMatchObject({ code: 0 });
  });

  it('takes its words from a file or from what comes in', async () => {
    const cwd = book();
    writeFileSync(join(cwd, 'words.txt'), 'From a file.\r\n');
    const base = ['new', '--title', 'T', '--system', 'engine', '--text-file'];
    expect(written(cwd, (await run([...base, 'words.txt'], { cwd })).out)).toMatch(/---\n\nFrom a file\.\n$/);
    const piped = await run([...base, '-'], { cwd, input: 'Piped in.\n---\nnot the end\n' });
    expect(written(cwd, piped.out)).toMatch(/---\n\nPiped in\.\n---\nnot the end\n$/);
    expect((await run([...base, 'no.txt'], { cwd })).err).toContain('`no.txt` cannot be read');
    expect(await run(['check'], { cwd })).toMatchObject({ code: 0 });
  });

  it.each([
    [['--reading', 'house-dc.rest-voltage=12.7 A'], /voltage is due/],
    [['--reading', 'house-dc.rest-volt=12.7 V'], /There is no point called `house-dc\.rest-volt`/],
    [['--reading', 'house-dc.rest-voltage=127 V, with=clamp'], /outside what `clamp` can show/],
    [['--meter', 'engine.hours=1234.6 h'], /shows 1234\.6 h, but showed 1243\.6 h/],
    [['--part', 'pump=fitted', '--part', 'pump=removed', '--part', 'pump=removed'], /cannot be removed/],
    [['--test', 'house-dc.capacity-test: volume=3 L'], /does not require a reading called `volume`/],
    [['--done', 'engine.oil'], /There is no upkeep/],
    [['--hours', 'nobody=3 h'], /There is no person/],
  ])('%j is told in the words of the checker, and nothing is written', async (options, message) => {
    const cwd = book();
    const before = readdirSync(join(cwd, 'entries/2026'));
    const ran = await run(['new', '--title', 'T', '--system', 'engine', ...options], { cwd });
    expect([ran.code, ran.out]).toEqual([1, '']);
    expect(ran.err).toMatch(message);
    expect(ran.err).toContain('in the entry; nothing was written.\n');
    expect(readdirSync(join(cwd, 'entries/2026'))).toEqual(before);
    expect(readdirSync(cwd)).not.toContain('photos');
  });

  it.each([
    [['--reading', '12.7 V'], /`--reading` is written `--reading "house-dc\.capacity=318 ± 6 Ah"`/],
    [['--part', 'pump=stolen'], /a part is ordered, arrived, /],
    [['--photo', 'label.jpg'], /`--photo` is written/],
    [['--photo', 'label.jpg=A label'], /there is no such file/],
    [['--text', 'a', '--text-file', '-'], /do not go together/],
  ])('%j is wrong use', async (options, message) => {
    const ran = await run(['new', '--title', 'T', '--system', 'engine', ...options], { cwd: book() });
    expect([ran.code, ran.out]).toEqual([2, '']);
    expect(ran.err).toMatch(message);
  });

  it.each([
    [['--part', 'pump=fitted, wieght=3 kg'], /`--part` knows no `wieght`/],
    [['--part', 'pump=fitted, suplier=Quay'], /Behind the value goes `what`, .*written into the file/],
    [['--part', 'pump=fitted, masse=3 kg'], /Did you mean `mass`\?/],
    [['--hours', 'owner=3 h, with=me'], /`--hours` knows no `with`/],
    [['--open', 'Fit it, til=2026-05-01'], /`--open` knows no `til`/],
    [['--done', 'Polish the brass'], /`--done`: nothing is called `Polish the brass`/],
    [['--test', 'capacity-tset: capacity=3 Ah'], /nothing is called `capacity-tset`\. Did you mean/],
  ])('%j would be lost or lead nowhere, so it is refused', async (options, message) => {
    const cwd = book();
    const ran = await run(['new', '--title', 'T', '--system', 'engine', ...options], { cwd });
    expect([ran.code, ran.out]).toEqual([2, '']);
    expect(ran.err).toMatch(message);
  });

  it('writes down what a part and a job rest on, and warns of what is spent on a claim', async () => {
    const cwd = book();
    const ran = await run(
      [
        ...['new', '--title', 'Cable ordered', '--open', 'Lay it, rests-on=house-dc.bank-capacity'],
        '--part',
        'cable=ordered, system=house-dc, mass=3 kg, rests-on=house-dc.bank-capacity house-dc.capacity',
      ],
      { cwd },
    );
    const text = written(cwd, ran.out);
    expect(text).toContain('systems: [house-dc]\n');
    expect(text).toContain('mass: 3 kg, rests-on: [house-dc.bank-capacity, house-dc.capacity] }');
    expect(text).toContain('what: Lay it, rests-on: [house-dc.bank-capacity] }');
    expect(ran.err).toContain('spent-on-unchecked');
    expect((await run(['check'], { cwd })).err).not.toContain('error');
  });

  it('knows the system by a part that is in the book, and upkeep and tests by their words', async () => {
    const upkeep = 'upkeep:\n  oil: { every: 12 months, what: Change the oil }\n';
    const engine = readFileSync(join(book(), 'systems/engine.md'), 'utf8');
    const cwd = book({ 'systems/engine.md': engine.replace(/\n---\n/, `\n${upkeep}---\n`) });
    const order = ['new', '--title', 'Order', '--system', 'engine', '--part', 'belt=ordered, what=a belt'];
    expect(await run(order, { cwd })).toMatchObject({ code: 0 });
    const came = await run(['new', '--title', 'It came', '--part', 'belt=arrived'], { cwd });
    expect(written(cwd, came.out)).toContain('systems: [engine]\n');
    const test = 'capacity-test: capacity=331 ± 6 Ah';
    const both = await run(['new', '--title', 'Both', '--done', 'change the oil', '--test', test], { cwd });
    expect(written(cwd, both.out)).toMatch(/test: house-dc\.capacity-test,[\s\S]*done:\n {2}- engine\.oil\n/);
  });

  it('says a doubt about a reading, and writes all the same', async () => {
    const cwd = book();
    const instrument = ['--reading', 'house-dc.capacity=318 Ah, with=clamp'];
    const ran = await run(['new', '--title', 'T', ...instrument], { cwd });
    expect(ran.code).toBe(0);
    expect(ran.err).toContain('`clamp` is not said to measure charge');
  });

  it('takes pictures into the book without what a camera hides in them, and over none that is there', async () => {
    const cwd = book();
    const file = join(tempFolder(), 'IMG 4711.JPG');
    writeFileSync(file, await photograph());
    expect((await sharp(file).metadata()).exif).toBeDefined();
    const options = ['--title', 'T', '--system', 'engine', '--photo', `${file}=The label, wet`];
    for (let n = 0; n < 2; n += 1) expect((await run(['new', ...options], { cwd })).code).toBe(0);
    const names = readdirSync(join(cwd, 'photos/2026'));
    expect(names).toEqual([`${TODAY}-the-label-wet-2.jpg`, `${TODAY}-the-label-wet.jpg`]);
    const { exif, icc, xmp, iptc, orientation, width, height } = await sharp(
      join(cwd, 'photos/2026', names[0] as string),
    ).metadata();
    expect([exif, icc, xmp, iptc, orientation]).toEqual([
      undefined,
      undefined,
      undefined,
      undefined,
      undefined,
    ]);
    expect([width, height], 'turned upright').toEqual([20, 30]);
    expect(await run(['check'], { cwd })).toMatchObject({ code: 0 });
  });

  it('refuses what only calls itself a picture, and then writes nothing at all', async () => {
    const cwd = book();
    const file = join(tempFolder(), 'x.jpg');
    writeFileSync(file, '<svg xmlns="http://www.w3.org/2000/svg"/>');
    const ran = await run(['new', '--title', 'T', '--system', 'engine', '--photo', `${file}=X`], { cwd });
    expect(ran.code).toBe(2);
    expect(ran.err).toContain('that is no JPEG, PNG or WebP picture');
    expect(readdirSync(join(cwd, 'entries/2026'))).toHaveLength(2);
  });
});

/** A picture as a camera makes it: lying on its side, with its place in it. */
function photograph(): Promise<Buffer> {
  const background = { r: 90, g: 60, b: 30 };
  return sharp({ create: { width: 30, height: 20, channels: 3, background } })
    .jpeg()
    .withExif({
      IFD0: { Make: 'x', Copyright: 'y' },
      IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 0/1' },
    })
    .withMetadata({ orientation: 6 })
    .toBuffer();
}

describe('the schemas that a book carries', () => {
  it('are named in a new entry, and brought up to date by it', async () => {
    const cwd = tempFolder();
    await run(['init'], { cwd });
    const copy = join(cwd, '.schemas/entry.schema.json');
    const right = readFileSync(copy, 'utf8');
    writeFileSync(copy, '{"an": "old one"}');
    const ran = await run(['new', '--title', 'T'], { cwd });
    expect(ran.err).toBe('The schemas in .schemas were of an earlier version and are now of this one.\n');
    expect(readFileSync(copy, 'utf8')).toBe(right);
    expect(written(cwd, ran.out)).toMatch(
      /^---\n# yaml-language-server: \$schema=\.\.\/\.\.\/\.schemas\/entry\.schema\.json\n/,
    );
  });

  it('are not forced upon a book that has none', async () => {
    const cwd = book();
    await run(['new', '--title', 'T', '--system', 'engine'], { cwd });
    expect(readdirSync(cwd)).not.toContain('.schemas');
  });
});

const NOT_CLOSED = `---
date: 2026-04-18
title: Capacity
systems: [house-dc]
measurements:
  - house-dc.capacity: 318 ± 6 Ah
---
`;
