import { cpSync, existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { extractText, getDocumentProxy } from 'unpdf';
import { beforeAll, describe, expect, it } from 'vitest';
import { type PdfDocument, placesOf } from '../../src/print/places.js';
import { reckon } from '../../src/reckon/reckon.js';
import { type PackView, packView } from '../../src/render/pack/view.js';
import { siteContext } from '../../src/render/site-context.js';
import { dayWords } from '../../src/render/words.js';
import { BROKEN, book, put, run } from '../cli/support.js';
import { tempFolder } from '../folders.js';
import { chromiumPath } from '../site/chromium.js';
import { DEMO, loadBook } from '../site/demo.js';

/** The pack as a PDF, printed by a real Chromium and read by another program. */

const DAY = '2026-11-28';
const env = () => ({ CHROMIUM_PATH: chromiumPath(), RIBBAND_TODAY: DAY });

/** Text without blanks: how they are read back is the reader's matter. */
function dense(text: string): string {
  return text.replace(/\s+/g, '');
}

interface ReadPdf {
  readonly bytes: Buffer;
  readonly pages: readonly string[];
  readonly size: readonly [number, number];
  readonly outline: readonly { readonly title: string; readonly items: readonly { title: string }[] }[];
}

async function read(path: string): Promise<ReadPdf> {
  const bytes = readFileSync(path);
  const { text } = await extractText(new Uint8Array(bytes));
  const document = (await getDocumentProxy(new Uint8Array(bytes))) as PdfDocument;
  const [, , width, height] = (await document.getPage(1)).view as readonly [number, number, number, number];
  return {
    bytes,
    pages: text.map(dense),
    size: [Math.round(width), Math.round(height)],
    outline: (await document.getOutline()) as ReadPdf['outline'],
  };
}

describe('the pack of the demo book', () => {
  let pdf: ReadPdf;
  let view: PackView;
  let places: ReadonlyMap<string, number>;

  beforeAll(async () => {
    const cwd = tempFolder();
    cpSync(DEMO, join(cwd, 'log'), { recursive: true, filter: (path) => !path.endsWith('.ribband') });
    const ran = await run(['pack', 'log', '--pdf', 'out.pdf'], { cwd, env: env() });
    expect([ran.code, ran.err]).toEqual([0, expect.not.stringContaining('ribband:')]);
    expect(ran.out).toMatch(/^out\.pdf: \d+\.\d MB, for A4 paper\.\n$/);
    pdf = await read(join(cwd, 'out.pdf'));
    places = await placesOf(pdf.bytes);
    const reckoning = reckon(await loadBook(DEMO), DAY);
    const site = { reckoning, photos: new Map(), renderBody: () => '', rendererId: 'test' };
    view = packView(siteContext(site), { seal: null, words: false });
  }, 300_000);

  it('is a tagged PDF with a title, a language, an outline and the day of the record', () => {
    const text = pdf.bytes.toString('latin1');
    expect(text).toContain('/Title (Marram: record of condition and work, 28 Nov 2026)');
    expect(text).toContain('/Marked true');
    expect(text).toContain('/Lang (en-GB)');
    expect(text.match(/\/CreationDate \(D:(\d+)/)?.[1]).toBe('20261128000000');
    expect(pdf.size).toEqual([595, 842]);
    expect(pdf.pages.length).toBeGreaterThan(40);
    const titles = JSON.stringify(pdf.outline);
    for (const { title } of view.sections) expect(titles).toContain(title);
  });

  it('says in its contents the page on which each part and each system begins', () => {
    const contents = pdf.pages[1] ?? '';
    const parts = view.sections.flatMap((section) => [section, ...section.parts]);
    expect(parts.length).toBeGreaterThan(30);
    for (const { place, number, title } of parts) {
      const page = places.get(place) ?? 0;
      expect(pdf.pages[page - 1], title).toContain(dense(`${number}${title}`));
      expect(contents, title).toContain(dense(`${number}${title}${page}`));
    }
  });

  it('refers in its first page to the pages where things stand', () => {
    const named = view.summary
      .flatMap(({ says }) => says.flat())
      .filter((piece) => typeof piece !== 'string');
    expect(named.length).toBeGreaterThan(7);
    for (const { page } of named) expect(pdf.pages[0]).toContain(`page${places.get(page)}`);
    expect(pdf.pages.join('')).not.toMatch(/page00/);
  });

  it('numbers its pages and carries the title of each system in its head', () => {
    const all = pdf.pages.length;
    for (const [index, page] of pdf.pages.entries()) expect(page).toContain(`${index + 1}of${all}`);
    const engine = places.get('system-engine') ?? 0;
    const next = places.get('system-exhaust') ?? 0;
    expect(next - engine).toBeGreaterThan(2);
    for (let page = engine + 1; page < next; page += 1)
      expect(pdf.pages[page - 1]?.replace(/^Marram,28Nov2026/, '').slice(0, 6)).toBe('Engine');
  });

  it('cuts no row of a table in two, and repeats the heads of those that go on', () => {
    const rows = view.entries.map(({ number, date, title, systems }) =>
      dense(`${number}${dayWords(date)}${title}${systems}`),
    );
    const cut = rows.filter((row) => !pdf.pages.some((page) => page.includes(row)));
    expect(cut).toEqual([]);
    const first = places.get('entries') ?? 0;
    const last = places.get('seal') ?? 0;
    expect(last).toBeGreaterThan(first);
    for (let page = first; page < last; page += 1)
      expect(pdf.pages[page - 1]).toContain('No.DayEntrySystems');
  });
});

describe('ribband pack', () => {
  it('prints the same book twice to the same bytes, on Letter where that is asked for', async () => {
    const cwd = book();
    const made = async (file: string, ...more: string[]) => {
      const ran = await run(['pack', '--pdf', file, ...more], { cwd, env: env() });
      expect([ran.code, ran.err]).toEqual([0, '']);
      return read(join(cwd, file));
    };
    const [one, two] = [
      await made('one.pdf', '--paper', 'letter'),
      await made('two.pdf', '--paper', 'letter'),
    ];
    expect(one.size).toEqual([612, 792]);
    expect(one.bytes.equals(two.bytes)).toBe(true);
    const old = await made('one.pdf', '--as-of', '2020-01-01');
    expect(old.size).toEqual([595, 842]);
    expect(old.bytes.toString('latin1')).toContain('/CreationDate (D:20200101000000');
  }, 180_000);

  it('takes the place of no file that is not a PDF', async () => {
    const cwd = book();
    put(cwd, { 'notes.pdf': 'my notes' });
    const ran = await run(['pack', '--pdf', 'notes.pdf'], { cwd, env: env() });
    expect([ran.code, ran.out]).toEqual([2, '']);
    expect(ran.err).toBe(
      'ribband: `notes.pdf` is there already and is no PDF; nothing was written. Give another name with `--pdf`.\n',
    );
    expect(readFileSync(join(cwd, 'notes.pdf'), 'utf8')).toBe('my notes');
  });

  it('says in one line that there is no browser', async () => {
    const cwd = book();
    const ran = await run(['pack', '--pdf', 'out.pdf'], { cwd, env: { CHROMIUM_PATH: '/nowhere/chromium' } });
    expect([ran.code, ran.out]).toEqual([2, '']);
    expect(ran.err).toBe('ribband: `CHROMIUM_PATH` names /nowhere/chromium, where there is nothing.\n');
    expect(existsSync(join(cwd, 'out.pdf'))).toBe(false);
  });

  it('says in one line that what was named is no browser', async () => {
    const cwd = book();
    const ran = await run(['pack', '--pdf', 'out.pdf'], { cwd, env: { CHROMIUM_PATH: process.execPath } });
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/^ribband: .* has printed nothing.*\. Nothing was written\.\n$/);
    expect(existsSync(join(cwd, 'out.pdf'))).toBe(false);
  });

  it('prints nothing of a book with an error', async () => {
    const cwd = book();
    put(cwd, BROKEN);
    const ran = await run(['pack', '--pdf', 'out.pdf'], { cwd, env: env() });
    expect([ran.code, ran.out]).toEqual([1, '']);
    expect(existsSync(join(cwd, 'out.pdf'))).toBe(false);
  });
});
