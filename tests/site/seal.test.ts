import { execFileSync } from 'node:child_process';
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import type { Server } from 'node:http';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { book, put, run } from '../cli/support.js';
import { tempFolder } from '../folders.js';
import { flipped, makeKey } from '../seal/support.js';
import { axeFindings } from './axe.js';
import { launchChromium } from './chromium.js';
import { serveInSubfolder } from './static-server.js';

/** A sealed site: held against its seal by ribband, by stock tools and by itself in a browser. */

let browser: Browser;
let server: Server;
let base: string;
let site: string;
let cwd: string;
let key: string;

const build = (...args: readonly string[]) => run(['build', '--out', site, ...args], { cwd });
const check = () => run(['seal', '--check', site], { cwd });
const sums = () => {
  try {
    return execFileSync('sha256sum', ['-c', '--quiet', 'SHA256SUMS'], {
      cwd: site,
      encoding: 'utf8',
      stdio: 'pipe',
    });
  } catch (error) {
    return (error as { stdout: string }).stdout;
  }
};

/** Does something with one file of the site changed, and puts it back. */
async function withChanged(
  path: string,
  change: (file: string) => void,
  look: () => Promise<void>,
): Promise<void> {
  const file = join(site, path);
  const whole = readFileSync(file);
  change(file);
  try {
    await look();
  } finally {
    writeFileSync(file, whole);
  }
}

const flip = (file: string) => writeFileSync(file, flipped(readFileSync(file), 4321));

beforeAll(async () => {
  cwd = book();
  site = join(tempFolder(), 'site');
  key = makeKey(['ed25519']);
  await run(['seal'], { cwd });
  expect(await build('--seal', '--key', key)).toMatchObject({ code: 0 });
  browser = await launchChromium();
  ({ server, base } = await serveInSubfolder(site));
}, 120_000);

afterAll(async () => {
  await browser.close();
  server.close();
});

describe('a sealed site', () => {
  it('is as it was sealed, for ribband and for stock tools', async () => {
    expect(await run(['seal', '--check', site, '--signer', `${key}.pub`], { cwd })).toMatchObject({
      code: 0,
    });
    expect(sums()).toBe('');
    const seal = readFileSync(join(site, 'seal.json'), 'utf8');
    const args = ['-Y', 'check-novalidate', '-n', 'ribband', '-s', join(site, 'seal.json.sig')];
    expect(execFileSync('ssh-keygen', args, { input: seal, encoding: 'utf8' })).toMatch(/^Good "ribband"/);
    expect(seal).toContain('"book": {"file":"seals/2026-04-20.json"');
    expect(seal).not.toContain('"path":"seal.json');
  });

  it.each(['index.html', 'assets/site.css', 'data/find.js', 'SHA256SUMS', 'seal.html'])(
    'shows that %s was changed',
    async (path) => {
      await withChanged(path, flip, async () => {
        const ran = await check();
        expect([ran.code, ran.out]).toEqual([1, expect.stringContaining(`  changed  ${path}\n`)]);
        expect(sums()).not.toBe(path === 'SHA256SUMS' ? 'nothing' : '');
      });
    },
  );

  it('shows a file that was added, and one that was taken away', async () => {
    writeFileSync(join(site, 'entries/added.html'), 'x');
    await withChanged('about.html', rmSync, async () => {
      const { code, out } = await check();
      expect(code).toBe(1);
      expect(out).toContain('  removed  about.html\n  added    entries/added.html\n');
    });
    rmSync(join(site, 'entries/added.html'));
  });

  it('shows a seal and a signature that were changed', async () => {
    await withChanged('seal.json', flip, async () => {
      expect((await check()).out).toMatch('is no whole seal');
    });
    await withChanged(
      'seal.json.sig',
      (file) => writeFileSync(file, flipped(readFileSync(file), 999)),
      async () => {
        expect((await check()).out).toMatch('The signature does not hold');
      },
    );
    expect(await check()).toMatchObject({ code: 0 });
  });

  it('is made again only where something has changed, and is the same as one made afresh', async () => {
    // The tests above have put files back, which the build takes for touched.
    await build('--seal', '--key', key);
    const before = readFileSync(join(site, 'seal.json'), 'utf8');
    expect((await build('--seal', '--key', key)).out).toMatch('nothing has changed');
    const fresh = join(tempFolder(), 'site');
    await run(['build', '--out', fresh, '--seal', '--key', key], { cwd });
    expect(readFileSync(join(fresh, 'seal.json'), 'utf8')).toBe(before);
    expect(readFileSync(join(fresh, 'seal.json.sig'))).toEqual(readFileSync(join(site, 'seal.json.sig')));
  });

  it('made for somebody else names nothing that it hides, and not the seal of the book either', async () => {
    const hidden = '---\ndate: 2026-04-19\ntitle: Canary\nsystems: [engine]\nprivate: [entry]\n---\n';
    const own = book({ 'entries/2026/2026-04-19-canary.md': hidden });
    await run(['seal'], { cwd: own });
    const copy = join(tempFolder(), 'site');
    const made = await run(['build', '--for', 'buyer', '--out', copy, '--seal'], { cwd: own });
    expect(made.code, made.err).toBe(0);
    const seal = readFileSync(join(copy, 'seal.json'), 'utf8');
    expect(seal).toContain('"book": null');
    expect(seal + readFileSync(join(copy, 'SHA256SUMS'), 'utf8')).not.toMatch(/canary|entries\/2026-04-19/);
    expect(seal).toContain('"path":"entries/2026-04-18-capacity-test.html"');
    expect(await run(['seal', '--check', copy], { cwd: own })).toMatchObject({ code: 0 });
  });

  it('is told from one without a seal', async () => {
    const plain = join(tempFolder(), 'site');
    await run(['build', '--out', plain], { cwd });
    const ran = await run(['seal', '--check', plain], { cwd });
    expect(ran.err).toMatch(
      /^ribband: The site in `.*` has no seal\. `ribband build --seal` makes a site with one\.\n$/,
    );
    expect(readFileSync(join(plain, 'index.html'), 'utf8')).not.toContain('seal.html');
    expect(await run(['build', '--out', plain, '--key', key], { cwd })).toMatchObject({ code: 2 });
    // A site that was sealed and is built without a seal has none left over.
    await run(['build', '--out', plain, '--seal'], { cwd });
    await run(['build', '--out', plain], { cwd });
    expect(await run(['seal', '--check', plain], { cwd })).toMatchObject({ code: 2 });
  });
});

describe('the page by which it checks itself', () => {
  async function opened(address: string): Promise<{ page: Page; asked: string[]; faults: string[] }> {
    const page = await browser.newPage();
    const asked: string[] = [];
    const faults: string[] = [];
    page.on('request', (request) => asked.push(request.url()));
    page.on('console', (message) => {
      if (message.type() === 'error') faults.push(message.text());
    });
    await page.goto(address);
    return { page, asked, faults };
  }

  async function checked(): Promise<string> {
    const { page } = await opened(`${base}seal.html`);
    await page.getByRole('button').click();
    await page.locator('.found').waitFor();
    const text = await page.locator('#seal').textContent();
    await page.close();
    return text ?? '';
  }

  it('fetches every file from where it came, nothing else, and says that nothing differs', async () => {
    const { page, asked, faults } = await opened(`${base}seal.html`);
    await page.getByRole('button', { name: /^Check all \d+ files$/ }).click();
    await page.locator('.found.same').waitFor();
    const text = await page.locator('#seal').textContent();
    expect(text).toMatch(/Nothing differs: all \d+ files are/);
    const sealed = JSON.parse(readFileSync(join(site, 'seal.json'), 'utf8')) as { files: { path: string }[] };
    const paths = new Set(asked.filter((url) => url.startsWith(base)).map((url) => url.slice(base.length)));
    expect(sealed.files.filter(({ path }) => !paths.has(path))).toEqual([]);
    expect(asked.filter((url) => !url.startsWith(base))).toEqual([]);
    expect(faults).toEqual([]);
    const printed = ((await page.locator('.seal-hash').textContent()) ?? '').replaceAll(/\s/g, '');
    expect(execFileSync('sha256sum', ['seal.json'], { cwd: site, encoding: 'utf8' })).toMatch(printed);
    await page.close();
  });

  it('names what was changed and what is missing', async () => {
    await withChanged('index.html', flip, async () => {
      await withChanged('about.html', rmSync, async () => {
        const text = await checked();
        expect(text).toMatch(/2 of \d+ files are not as sealed:/);
        expect(text).toContain('about.html: missing');
        expect(text).toContain('index.html: changed');
      });
    });
  });

  it('says of a seal that was altered, or is not there, that it is', async () => {
    const found = async () => {
      const { page } = await opened(`${base}seal.html`);
      const text = await page.locator('.found.differs').textContent();
      await page.close();
      return text ?? '';
    };
    await withChanged('seal.json', flip, async () => expect(await found()).toMatch('is not whole'));
    await withChanged('seal.json', rmSync, async () => expect(await found()).toMatch('is not there'));
  });

  it('says from disk that it cannot, and how it can be done', async () => {
    const { page, faults } = await opened(pathToFileURL(join(site, 'seal.html')).href);
    expect(await page.locator('#seal').textContent()).toMatch('a browser lets no page read other files');
    expect(await page.locator('main').textContent()).toContain('ribband seal --check .');
    expect(faults).toEqual([]);
    await page.close();
  });
});

describe('what is read of a seal', () => {
  it.each([
    ['light', 1280],
    ['dark', 390],
  ] as const)('axe finds nothing in it, %s, %i px wide', async (colorScheme, width) => {
    const letter = join(tempFolder(), 'letter');
    put(cwd, {
      'entries/2026/2026-03-02-late.md': '---\ndate: 2026-03-02\ntitle: Late\nsystems: [engine]\n---\n',
    });
    const told = await run(['changes', '--from-seal', '2026-04-20', '--out', letter], { cwd });
    expect([told.code, told.out]).toEqual([0, expect.stringContaining('1 of them dated before')]);
    const context = await browser.newContext({
      colorScheme,
      viewport: { width, height: 900 },
      bypassCSP: true,
    });
    const page = await context.newPage();
    for (const address of [`${base}seal.html`, pathToFileURL(join(letter, 'index.html')).href]) {
      await page.goto(address);
      expect(await axeFindings(page), address).toEqual([]);
    }
    await context.close();
  });
});
