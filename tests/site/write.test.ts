import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { person } from '../cli/person.js';
import { SPENT } from '../cli/spent.js';
import { BOOK, book, run, TODAY } from '../cli/support.js';
import { tempFolder } from '../folders.js';
import { launchChromium } from './chromium.js';

/** The writing page on a phone, under a thumb: from disk, and through a server into the book. */

const MORE = {
  'systems/house-dc.md': (BOOK['systems/house-dc.md'] as string)
    .replace('rest-voltage: { ', 'rest-voltage: { compare-at: { ambient: 20 °C within 5 K }, ')
    .replace(
      '---\nIsolator',
      'upkeep:\n  terminals: { every: 6 months, what: Clean the terminals }\n---\nIsolator',
    ),
  'entries/2026/2026-04-18-capacity-test.md':
    '---\ndate: 2026-04-18\ntitle: Capacity\nsystems: [house-dc]\nmeasurements:\n  - house-dc.capacity: 318 ± 6 Ah\n---\n',
};

/** What is filled in below, as somebody would say it to `ribband new`. */
const AS_OPTIONS = [
  ...['--title', 'Batteries: all of them', '--system', 'house-dc'],
  ...['--reading', 'house-dc.rest-voltage=12.69 V, with=clamp, ambient=19 °C'],
  ...['--test', 'house-dc.capacity-test: capacity=331 ± 6 Ah', '--hours', 'owner=3.5 h'],
  ...['--part', 'isolator=arrived, what=isolator, cost=48.50 EUR', '--open', 'Fit the isolator'],
  ...['--close', 'test-bank', '--done', 'house-dc.terminals', '--text', 'All day in the box.'],
];

const PHONE: BrowserContextOptions = {
  viewport: { width: 390, height: 844 },
  deviceScaleFactor: 2,
  hasTouch: true,
  isMobile: true,
};

let browser: Browser;
beforeAll(async () => {
  browser = await launchChromium();
});
afterAll(async () => {
  await browser?.close();
});

/** Opens an address on a phone, on the day of these tests; fails with whatever the page complains of. */
async function visit(
  address: string,
  act: (page: Page) => Promise<void>,
  options: BrowserContextOptions = PHONE,
): Promise<void> {
  const context = await browser.newContext(options);
  const complaints: string[] = [];
  try {
    const page = await context.newPage();
    await page.clock.setFixedTime(new Date(`${TODAY}T12:00:00`));
    page.on('pageerror', (error) => complaints.push(error.message));
    await page.goto(address);
    await act(page);
    expect(complaints).toEqual([]);
  } finally {
    await context.close();
  }
}

/** Builds the site of a book; gives the address of its writing page on the disk. */
async function built(root: string): Promise<string> {
  const out = join(tempFolder(), 'site');
  const ran = await run(['build', root, '--out', out], { cwd: root });
  expect(ran.code, ran.err).toBe(0);
  return pathToFileURL(join(out, 'write.html')).href;
}

let plain: Promise<string> | undefined;

/** The writing page of a book that no test changes. */
function plainSite(): Promise<string> {
  plain ??= built(book(MORE));
  return plain;
}

interface Serving {
  readonly address: string;
  readonly port: number;
  readonly word: string;
  readonly stop: () => Promise<unknown>;
}

const running: Serving[] = [];
afterEach(async () => {
  await Promise.all(running.splice(0).map(({ stop }) => stop()));
});

async function serve(root: string): Promise<Serving> {
  let interrupt: () => void = () => undefined;
  const interrupted = new Promise<void>((resolve) => {
    interrupt = resolve;
  });
  let found: (address: string) => void = () => undefined;
  const address = new Promise<string>((resolve) => {
    found = resolve;
  });
  const ended = run(['serve', root, '--port', '0'], {
    cwd: root,
    interrupted: () => interrupted,
    onErr: (text) => {
      const shown = /http:\S+#word=\S+/.exec(text)?.[0];
      if (shown !== undefined) found(shown);
    },
  });
  const shown = await Promise.race([address, ended.then((ran) => Promise.reject(new Error(ran.err)))]);
  const serving: Serving = {
    address: shown,
    port: Number(new URL(shown).port),
    word: shown.slice(shown.indexOf('#word=') + 6),
    stop: () => {
      interrupt();
      return ended;
    },
  };
  running.push(serving);
  return serving;
}

/** Fills the form in, in the order in which it stands. */
async function fillIn(page: Page): Promise<void> {
  await page.fill('#title', 'Batteries: all of them');
  await page.tap('.chips >> text=House batteries');
  await page.tap('button.offer:has-text("Bank at rest")');
  const reading = page.locator('fieldset', { hasText: 'Bank at rest' });
  await reading.getByLabel('Value').fill('12,69');
  await reading.getByLabel('ambient').fill('19 °C');
  await reading.getByLabel('Read with').selectOption('clamp');
  await page.tap('#tests ~ * button.offer, section:has(#tests) button.offer');
  await page.tap('text=Read. Go on with what was measured');
  await page.locator('fieldset', { hasText: 'Cautions and steps' }).getByLabel('Capacity').fill('331 ± 6');
  await page.tap('label:has-text("Test the bank")');
  await page.tap('label:has-text("Clean the terminals")');
  await page.tap('text=Add a part');
  await page.getByLabel('What it is', { exact: true }).fill('isolator');
  await page.getByLabel('What happened to it').selectOption('arrived');
  await page.getByLabel('Paid').fill('48,50');
  await page.tap('text=Add a job');
  await page.getByLabel('The work, in a sentence').fill('Fit the isolator');
  await page.getByLabel('the owner').fill('3,5');
  await page.getByLabel('What you did and saw').fill('All day in the box.');
}

/** Fills in what the prompts are told in the tests of `new`: a part, a decision and a job, with what they rest on. */
async function fillInSpent(page: Page): Promise<void> {
  const card = (title: string) => page.locator('fieldset.card', { hasText: `Take out ${title}` });
  await page.fill('#title', 'Ordered a second bank');
  await page.tap('.chips >> text=House batteries');
  await page.tap('text=Add a part');
  await page.getByLabel('What it is', { exact: true }).fill('second bank');
  await page.getByLabel('Paid').fill('1480');
  await page.tap('summary:has-text("What it was chosen by")');
  await card('second bank').locator('label:has-text("Bank at rest: 12.71 V, read on 2026-03-01")').tap();
  await card('second bank').locator('label:has-text("400 Ah, contradicted by a measurement")').tap();
  await page.tap('text=Add a decision');
  await page.getByLabel('What had to be decided').fill('One bank or two?');
  await page.getByLabel('What was chosen').fill('two');
  await page.getByLabel('Why', { exact: true }).fill('One does not last the night.');
  await card('One bank or two?').locator('summary').tap();
  await card('One bank or two?').locator('label:has-text("Bank model: TL-400, only told")').tap();
  await page.tap('text=Add a job');
  await page.getByLabel('The work, in a sentence').fill('Fit the second bank');
  await page.getByLabel('Hours it will take').fill('6');
  await card('Fit the second bank').locator('summary').tap();
  await card('Fit the second bank').locator('label:has-text("Bank model: TL-400, only told")').tap();
  await page.getByLabel('What you did and saw').fill('So be it.');
}

/** What `ribband new` writes from the same answers. */
async function writtenByNew(options: readonly string[]): Promise<string> {
  const root = book(MORE);
  const ran = await run(['new', ...options], { cwd: root });
  expect(ran.code, ran.err).toBe(0);
  return readFileSync(join(root, ran.out.trim()), 'utf8');
}

async function downloaded(page: Page): Promise<{ readonly name: string; readonly text: string }> {
  const [file] = await Promise.all([page.waitForEvent('download'), page.tap('text=/^(Save as|As) a file$/')]);
  return { name: file.suggestedFilename(), text: readFileSync(await file.path(), 'utf8') };
}

/** A picture as a camera makes it: lying on its side, with its place in it. */
function photograph(): Promise<Buffer> {
  return sharp({ create: { width: 300, height: 200, channels: 3, background: { r: 90, g: 60, b: 30 } } })
    .jpeg()
    .withExif({ IFD0: { Make: 'x' }, IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 0/1' } })
    .withMetadata({ orientation: 6 })
    .toBuffer();
}

describe('from disk', () => {
  test('ends as a file, byte for byte what `new` writes from the same answers', async () => {
    await visit(await plainSite(), async (page) => {
      await fillIn(page);
      const { name, text } = await downloaded(page);
      expect(name).toBe(`${TODAY}-batteries-all-of-them.md`);
      expect(text).toBe(await writtenByNew(AS_OPTIONS));
      await page.waitForSelector('text=belongs into entries/2026 of the book');
    });
  });

  test('what it rests on is ticked with its standing in sight, told where unchecked, and written as the prompts write it', async () => {
    await visit(await plainSite(), async (page) => {
      await fillInSpent(page);
      const said = (await page.locator('.grounds .said').allTextContents()).join('\n');
      expect(said).toContain(
        'second bank is ordered, but rests on house-dc.bank-capacity, which is contradicted. Decide anew whether it is still the right part.',
      );
      expect(said).toContain('This decision rests on house-dc.bank-model, which is unverified.');
      expect(said).toContain('This job rests on house-dc.bank-model, which is unverified.');
      await page.reload();
      const { text } = await downloaded(page);
      const root = book(MORE);
      const ran = await run(['new'], { cwd: root, ask: person(SPENT).ask });
      expect(text).toBe(readFileSync(join(root, ran.out.trim()), 'utf8'));
    });
  });

  test('of a decision half told it says what lacks', async () => {
    await visit(await plainSite(), async (page) => {
      await page.fill('#title', 'T');
      await page.tap('.chips >> text=House batteries');
      await page.tap('text=Add a decision');
      await page.getByLabel('What was chosen').fill('two');
      await page.tap('text=Save as a file');
      await page.waitForSelector('text=Say what the question was, what was chosen and why.');
    });
  });

  test('an entry that says no more than what it is about has what can be filled in, as that of `new`', async () => {
    await visit(await plainSite(), async (page) => {
      await page.fill('#title', 'Only begun');
      await page.tap('.chips >> text=House batteries');
      const { text } = await downloaded(page);
      expect(text).toContain('# measurements:');
      expect(text).toBe(await writtenByNew(['--title', 'Only begun', '--system', 'house-dc']));
    });
  });

  test('asks about a slip of the pen, refuses another kind, in the words of the checker', async () => {
    await visit(await plainSite(), async (page) => {
      await page.tap('.chips >> text=House batteries');
      await page.tap('button.offer:has-text("Bank at rest")');
      const card = page.locator('fieldset', { hasText: 'Bank at rest' });
      expect(await card.textContent()).toContain('Last 12.71 V on 1 Mar 2026.');
      await card.getByLabel('Value').fill('127');
      const said = card.locator('.said').first();
      expect(await said.textContent()).toContain('Last time 12.71 V; 127 V?');
      await card.getByLabel('Value').fill('12.7 A');
      expect(await said.textContent()).toContain('a voltage is due');
      expect(await card.getByLabel('Value').getAttribute('aria-invalid')).toBe('true');
      await card.getByLabel('Value').fill('12.7');
      expect(await said.textContent()).toBe('');
    });
  });

  test('a point that is tapped is ready to be typed in', async () => {
    await visit(await plainSite(), async (page) => {
      await page.tap('.chips >> text=House batteries');
      await page.tap('button.offer:has-text("Bank at rest")');
      await page.waitForFunction(() => document.activeElement?.id.startsWith('reading-'));
      await page.keyboard.type('12,7');
      expect(
        await page.locator('fieldset', { hasText: 'Bank at rest' }).getByLabel('Value').inputValue(),
      ).toBe('12,7');
    });
  });

  test('says what lacks, and goes there', async () => {
    await visit(await plainSite(), async (page) => {
      await page.tap('text=Save as a file');
      await page.waitForSelector('text=An entry needs a title');
      await page.waitForFunction(() => document.activeElement?.id === 'title');
      await page.waitForSelector('text=2 things to mend.');
    });
  });

  test('shows the cautions before it asks what a test gave', async () => {
    await visit(await plainSite(), async (page) => {
      await page.tap('.chips >> text=House batteries');
      await page.tap('section:has(#tests) button.offer');
      const card = page.locator('.card', { has: page.locator('.cautions-first') });
      expect(await card.textContent()).toMatch(/Local codes and licensed people come first\..*hydrogen/);
      expect(await card.locator('input').count()).toBe(0);
    });
  });

  test('keeps what was typed, pictures too, over a reload, and without any network', async () => {
    await visit(await plainSite(), async (page) => {
      await page.context().setOffline(true);
      await fillIn(page);
      const buffer = await photograph();
      await page.setInputFiles('input[type=file] >> nth=1', {
        name: 'IMG 1.JPG',
        mimeType: 'image/jpeg',
        buffer,
      });
      await page.getByLabel('What it shows').fill('The box, open');
      await page.reload();
      expect(await page.inputValue('#title')).toBe('Batteries: all of them');
      await page.waitForFunction(() => document.querySelector('canvas')?.width === 107);
      const { text } = await downloaded(page);
      expect(text).toContain(`photos/2026/${TODAY}-the-box-open.jpg, alt: "The box, open"`);
      const [file] = await Promise.all([
        page.waitForEvent('download'),
        page.tap(`button:has-text("${TODAY}-the-box-open.jpg")`),
      ]);
      const { exif, width, height } = await sharp(await file.path()).metadata();
      expect([exif, width, height], 'turned upright and bare').toEqual([undefined, 200, 300]);
    });
  });

  test('what was taken out can be put back, where it was and as it was', async () => {
    await visit(await plainSite(), async (page) => {
      await page.tap('.chips >> text=House batteries');
      await page.tap('button.offer:has-text("Bank at rest")');
      const first = page.locator('fieldset', { hasText: 'Bank at rest' });
      await first.getByLabel('Value').fill('12.7');
      await page.tap('button.offer:has-text("Capacity")');
      await first.getByRole('button', { name: 'Take out' }).tap();
      expect(await page.locator('fieldset.card legend').allTextContents()).toEqual(['Capacity']);
      await page.waitForFunction(() => document.activeElement?.id === 'put-back');
      await page.fill('#title', 'Typed meanwhile');
      await page.tap('text=Put back');
      expect(await page.locator('fieldset.card legend').allTextContents()).toEqual([
        'Bank at rest',
        'Capacity',
      ]);
      expect(await first.getByLabel('Value').inputValue()).toBe('12.7');
      expect(await page.inputValue('#title')).toBe('Typed meanwhile');
      expect(await page.locator('#put-back').count()).toBe(0);
    });
  });

  test('clears only when it is told twice', async () => {
    await visit(await plainSite(), async (page) => {
      await page.fill('#title', 'T');
      await page.tap('text=Clear');
      expect(await page.inputValue('#title')).toBe('T');
      await page.tap('text=Really clear all?');
      expect(await page.inputValue('#title')).toBe('');
      await page.reload();
      expect(await page.inputValue('#title')).toBe('');
    });
  });

  test('without script says how an entry is written by hand', async () => {
    const context = await browser.newContext({ ...PHONE, javaScriptEnabled: false });
    try {
      const page = await context.newPage();
      await page.goto(await plainSite());
      expect((await page.locator('main').allInnerTexts()).join()).toContain('can be written by hand');
    } finally {
      await context.close();
    }
  });
});

describe('through the server', () => {
  test('is written into the book, byte for byte what `new` writes, and over nothing', async () => {
    const root = book(MORE);
    const { address } = await serve(root);
    await visit(address, async (page) => {
      expect(page.url(), 'the word does not stay in the address').not.toContain('#');
      await fillIn(page);
      await page.tap('text=Save into the book');
      await page.waitForSelector('.save-bar >> text=Written:');
      expect(await page.inputValue('#title'), 'ready for the next').toBe('');
      await page.fill('#title', 'Batteries: all of them');
      await page.tap('.chips >> text=House batteries');
      await page.tap('text=Save into the book');
      await page.waitForSelector('text=batteries-all-of-them-2.md');
    });
    const stem = `entries/2026/${TODAY}-batteries-all-of-them`;
    expect(readFileSync(join(root, `${stem}.md`), 'utf8')).toBe(await writtenByNew(AS_OPTIONS));
    expect(existsSync(join(root, `${stem}-2.md`))).toBe(true);
    expect((await run(['check'], { cwd: root })).code).toBe(0);
  });

  test('what the whole book shows to be wrong is said beside its field, and nothing is written', async () => {
    const root = book(MORE);
    const { address } = await serve(root);
    await visit(address, async (page) => {
      await page.fill('#title', 'Parts');
      await page.tap('.chips >> text=Engine');
      await page.tap('text=Add a job');
      await page.getByLabel('The work, in a sentence').fill('Bleed the fuel');
      // Meanwhile somebody else opens an item of that name.
      writeFileSync(
        join(root, `entries/2026/${TODAY}-a.md`),
        `---\ndate: ${TODAY}\ntitle: A\nsystems: [engine]\nopens:\n  - { item: bleed-the-fuel, what: Bleed it }\n---\n`,
      );
      await page.tap('text=Save into the book');
      await page.waitForSelector('.write .said .error');
      expect(await page.locator('.write').textContent()).toContain(
        'There is already an item called bleed-the-fuel',
      );
    });
    expect(readdirSync(join(root, 'entries/2026'))).toHaveLength(3);
  });

  test('pictures are in the book without what the camera hid in them', async () => {
    const root = book(MORE);
    const { address } = await serve(root);
    await visit(address, async (page) => {
      await page.fill('#title', 'Picture');
      await page.tap('.chips >> text=Engine');
      const buffer = await photograph();
      await page.setInputFiles('input[type=file] >> nth=0', {
        name: '../x.jpg',
        mimeType: 'image/jpeg',
        buffer,
      });
      await page.getByLabel('What it shows').fill('../../The pump');
      await page.tap('text=Save into the book');
      await page.waitForSelector('.save-bar >> text=Written:');
    });
    expect(readdirSync(join(root, 'photos/2026'))).toEqual([`${TODAY}-the-pump.jpg`]);
    const { exif, width, height } = await sharp(join(root, `photos/2026/${TODAY}-the-pump.jpg`)).metadata();
    expect([exif, width, height]).toEqual([undefined, 200, 300]);
  });

  test('without the word nothing is written, and it can be typed', async () => {
    const root = book(MORE);
    const { address, word } = await serve(root);
    await visit(address.replace(/#.*/, ''), async (page) => {
      await page.fill('#title', 'T');
      await page.tap('.chips >> text=Engine');
      await page.tap('text=Save into the book');
      await page.waitForSelector('text=The word is not the one');
      expect(readdirSync(join(root, 'entries/2026'))).toHaveLength(2);
      await page.fill('#word', word);
      await page.tap('text=Save into the book');
      await page.waitForSelector('.save-bar >> text=Written:');
    });
  });

  test('two taps on save, or an answer that got lost, give one entry', async () => {
    const root = book(MORE);
    const { address } = await serve(root);
    await visit(address, async (page) => {
      await page.fill('#title', 'T');
      await page.tap('.chips >> text=Engine');
      let isLost = true;
      await page.route('**/__ribband/entry', async (route) => {
        const answer = await route.fetch();
        if (isLost) await route.abort();
        else await route.fulfill({ response: answer });
        isLost = false;
      });
      await page.tap('text=Save into the book');
      await page.waitForSelector('text=The server cannot be reached. All is kept here');
      await page.evaluate(() => {
        const key = document.querySelector<HTMLElement>('.save-bar-keys .main');
        key?.click();
        key?.click();
      });
      await page.waitForSelector('text=Written:');
    });
    expect(readdirSync(join(root, 'entries/2026')).filter((name) => name.startsWith(TODAY))).toEqual([
      `${TODAY}-t.md`,
    ]);
  });

  test('a tab knows what was typed in another, and that it was saved there', async () => {
    const { address } = await serve(book(MORE));
    await visit(address, async (page) => {
      const other = await page.context().newPage();
      await other.goto(address);
      await other.waitForSelector('#title');
      await page.fill('#title', 'From the first tab');
      await other.waitForFunction(
        () => document.querySelector<HTMLInputElement>('#title')?.value === 'From the first tab',
      );
      await other.tap('.chips >> text=Engine');
      await page.waitForSelector('.chips input:checked');
      await page.reload();
      expect(await page.inputValue('#title')).toBe('From the first tab');
      await page.tap('text=Save into the book');
      await page.waitForSelector('text=Written:');
      await other.waitForFunction(() => document.querySelector<HTMLInputElement>('#title')?.value === '');
    });
  });

  test('after a new start of the server the new word is asked for, and nothing is lost', async () => {
    const root = book(MORE);
    const { address } = await serve(root);
    await visit(address.replace(/#.*/, '#word=aaaa-bbbb-cccc'), async (page) => {
      await page.fill('#title', 'T');
      await page.tap('.chips >> text=Engine');
      await page.tap('text=Save into the book');
      await page.waitForSelector('text=The word is not the one that the terminal shows now');
      await page.waitForFunction(() => document.activeElement?.id === 'word');
      await page.fill('#word', address.slice(address.indexOf('#word=') + 6));
      await page.tap('text=Save into the book');
      await page.waitForSelector('text=Written:');
    });
  });

  test('a server that is gone loses nothing', async () => {
    const serving = await serve(book(MORE));
    await visit(serving.address, async (page) => {
      await page.fill('#title', 'T');
      await page.tap('.chips >> text=Engine');
      await serving.stop();
      await page.tap('text=Save into the book');
      await page.waitForSelector('text=The server cannot be reached. All is kept here');
      expect(await page.inputValue('#title')).toBe('T');
    });
  });
});

interface Sending {
  readonly headers?: Readonly<Record<string, string>>;
  readonly draft?: unknown;
  readonly pictures?: readonly Uint8Array[];
  readonly body?: Buffer;
}

/** Sends what a page of the site would send, but for what is changed. */
async function send({ port, word }: Serving, { headers = {}, draft, pictures = [], body }: Sending) {
  const form = new FormData();
  form.append('draft', typeof draft === 'string' ? draft : JSON.stringify(draft));
  for (const picture of pictures) form.append('picture', new Blob([new Uint8Array(picture)]), 'x.jpg');
  const encoded = new Response(form);
  const bytes = body ?? Buffer.from(await encoded.arrayBuffer());
  const all = {
    host: `localhost:${port}`,
    origin: `http://localhost:${port}`,
    'x-ribband-word': word,
    'content-type': encoded.headers.get('content-type') ?? '',
    'content-length': String(bytes.byteLength),
    ...headers,
  };
  const sent = Object.fromEntries(Object.entries(all).filter(([, value]) => value !== ''));
  return new Promise<{ status: number; body: string }>((resolve, reject) => {
    const options = {
      host: '127.0.0.1',
      port,
      path: '/__ribband/entry',
      method: 'POST',
      agent: false,
      headers: sent,
    };
    const sending = request(options, (response) => {
      let text = '';
      response.on('data', (piece: Buffer) => {
        text += piece.toString();
      });
      response.on('end', () => resolve({ status: response.statusCode ?? 0, body: text }));
    });
    sending.on('error', reject);
    sending.end(bytes);
  });
}

const DRAFT = { date: TODAY, title: 'T', systems: ['engine'], prose: 'x' };

describe('who may write', () => {
  test.each<readonly [string, Sending, number]>([
    ['a wrong word', { headers: { 'x-ribband-word': 'aaaa-bbbb-cccc' } }, 401],
    ['no word', { headers: { 'x-ribband-word': '' } }, 401],
    ['another origin', { headers: { origin: 'http://example.org' } }, 403],
    ['another port of this machine', { headers: { origin: 'http://localhost:1' } }, 403],
    ['no origin', { headers: { origin: '' } }, 403],
    ['an origin without a name', { headers: { origin: 'null' } }, 403],
    ['another host', { headers: { host: 'example.org' } }, 403],
    ['a page from elsewhere', { headers: { 'sec-fetch-site': 'cross-site' } }, 403],
    ['a plain form', { headers: { 'content-type': 'application/x-www-form-urlencoded' } }, 415],
    ['what is no form', { body: Buffer.from('nonsense') }, 400],
    ['what is no draft', { draft: '[1, 2' }, 400],
    ['a draft without its pictures', { draft: { ...DRAFT, photos: [{ file: 'a', alt: 'b' }] } }, 400],
    ['an entry of more than 1 MB', { draft: { ...DRAFT, prose: 'x'.repeat(1_000_001) } }, 413],
    ['more than 25 MB', { draft: DRAFT, pictures: [new Uint8Array(25_000_001)] }, 413],
    [
      'a picture that is none',
      { draft: { ...DRAFT, photos: [{ file: 'a', alt: 'b' }] }, pictures: [Buffer.from('<svg/>')] },
      422,
    ],
    ['a day that is none', { draft: { ...DRAFT, date: '../../2026-04-20' } }, 422],
    ['a day to come', { draft: { ...DRAFT, date: '2026-04-21' } }, 422],
    ['a system that there is not', { draft: { ...DRAFT, systems: ['rudder'] } }, 422],
    ['no title', { draft: { ...DRAFT, title: '' } }, 422],
  ])('not %s', async (_, sending, status) => {
    const root = book(MORE);
    const before = readdirSync(root, { recursive: true }).filter(
      (name) => !String(name).startsWith('.ribband'),
    );
    const serving = await serve(root);
    expect((await send(serving, { draft: DRAFT, ...sending })).status).toBe(status);
    const after = readdirSync(root, { recursive: true }).filter(
      (name) => !String(name).startsWith('.ribband'),
    );
    expect(after).toEqual(before);
  });

  test('a page of this server with the word', async () => {
    const root = book(MORE);
    const sent = await send(await serve(root), { draft: DRAFT });
    expect(sent).toMatchObject({ status: 200 });
    expect(JSON.parse(sent.body)).toEqual({
      is: 'written',
      path: `entries/2026/${TODAY}-t.md`,
      page: `entries/${TODAY}-t.html`,
    });
  });

  test('many at once, each into a file of its own', async () => {
    const root = book(MORE);
    const serving = await serve(root);
    const all = await Promise.all(Array.from({ length: 5 }, () => send(serving, { draft: DRAFT })));
    const paths = all.map(({ body }) => (JSON.parse(body) as { path: string }).path);
    expect(new Set(paths).size).toBe(5);
    for (const path of paths) expect(existsSync(join(root, path))).toBe(true);
  });
});

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

interface Axe {
  run(root: Document, options: object): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }>;
}

describe('accessibility', () => {
  test.each(['light', 'dark'] as const)(
    'axe finds nothing in a form that is filled in, %s',
    async (colorScheme) => {
      const options = { ...PHONE, colorScheme, bypassCSP: true };
      await visit(
        await plainSite(),
        async (page) => {
          await fillInSpent(page);
          await page.tap('text=Add a part');
          await page.tap('text=Something else that was measured');
          await page.locator('fieldset', { hasText: 'Something else' }).getByLabel('Value').fill('twelve');
          await page.tap('text=Save as a file');
          await page.waitForFunction(() => document.activeElement?.getAttribute('aria-invalid') === 'true');
          // At the foot of the page the bar lies over nothing.
          await page.evaluate(() => scrollTo(0, document.body.scrollHeight));
          await page.evaluate(AXE);
          const found = await page.evaluate(async () => {
            const { axe } = window as unknown as { axe: Axe };
            const rules = { 'target-size': { enabled: true } };
            const { violations } = await axe.run(document, { resultTypes: ['violations'], rules });
            return violations.flatMap(({ id, nodes }) =>
              nodes.map(({ html }) => `${id}: ${html.slice(0, 200)}`),
            );
          });
          expect(found).toEqual([]);
        },
        options,
      );
    },
  );

  test('all that is touched in the form is large enough for a thumb, and nothing is wider than the phone', async () => {
    await visit(await plainSite(), async (page) => {
      await fillIn(page);
      const small = await page.evaluate(() =>
        [
          ...document.querySelectorAll(
            '.write :is(input, select, textarea, button, summary, .tick, .pick .add)',
          ),
        ]
          .filter((one) => !one.matches('.tick input, .quiet, .link'))
          .map((one) => ({ html: one.outerHTML.slice(0, 80), height: one.getBoundingClientRect().height }))
          .filter(({ height }) => height > 0 && height < 44),
      );
      expect(small).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
    });
  });
});
