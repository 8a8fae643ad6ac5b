import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import type { Server } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, BrowserContext, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { axeFindings } from './axe.js';
import { launchChromium } from './chromium.js';
import { counted } from './counted.js';
import { buildInto, DEMO } from './demo.js';
import { serveInSubfolder } from './static-server.js';

/** The site of the demo book in a real browser: one browser, one build, pages opened as they are needed. */

let browser: Browser;
let server: Server;
let base: string;
let out: string;
let paths: readonly string[];

/** Windows from a small phone's to a desk's. */
const WIDTHS = [320, 390, 768, 1280, 1920];

/** What was seen of the main pages, each opened once. */
const opened = new Map<string, Opened>();
const problems: string[] = [];

interface Opened {
  readonly headings: readonly number[];
  /** How wide the page is, by the width of its window. */
  readonly widths: ReadonlyMap<number, number>;
}

beforeAll(async () => {
  out = mkdtempSync(join(tmpdir(), 'site-'));
  paths = await buildInto(out, DEMO);
  ({ server, base } = await serveInSubfolder(out));
  browser = await launchChromium();
  await openAll();
});

afterAll(async () => {
  await browser?.close();
  server?.close();
  if (out !== undefined) rmSync(out, { recursive: true, force: true });
});

/** One page of each sort: the first of its folder that has most on it. */
function mainPages(): readonly string[] {
  const entry = paths.filter((path) => path.startsWith('entries/')).sort((a, b) => sizeOf(b) - sizeOf(a));
  return [
    'index.html',
    'log/index.html',
    entry[0] as string,
    entry.at(-1) as string,
    'systems/index.html',
    'systems/house-dc.html',
    'specs/index.html',
    'specs/house-dc.bank-capacity.html',
    'readings/index.html',
    'readings/hull.html',
    'tests.html',
    'parts.html',
    'decisions.html',
    'work.html',
    'plan.html',
    'upkeep.html',
    'power.html',
    'weights.html',
    'hours.html',
    'findings.html',
    'changes/2026.html',
    'downloads.html',
    'pack/index.html',
    'about.html',
    'reference/index.html',
    'reference/file-entry.html',
    'reference/quantities.html',
    'reference/unknown-key.html',
  ];
}

function sizeOf(path: string): number {
  return readFileSync(join(out, path)).length;
}

/** Opens a page, hands it over, and closes its context whatever happens. */
async function visit<T>(
  path: string,
  options: BrowserContextOptions,
  act: (page: Page, context: BrowserContext) => Promise<T>,
): Promise<T> {
  const context = await browser.newContext(options);
  try {
    const page = await context.newPage();
    await page.goto(base + path);
    return await act(page, context);
  } finally {
    await context.close();
  }
}

/** Opens each of the main pages once, as wide as a desk, and then makes its window narrower and wider. */
async function openAll(): Promise<void> {
  await visit('index.html', {}, async (page) => {
    page.on('request', (request) => {
      if (!request.url().startsWith(base)) problems.push(`outside: ${request.url()}`);
    });
    page.on('response', (response) => {
      if (response.status() >= 400) problems.push(`${response.status()}: ${response.url()}`);
    });
    page.on('console', (message) => message.type() === 'error' && problems.push(message.text()));
    for (const path of mainPages()) {
      await page.goto(base + path);
      const headings = await page.$$eval('h1,h2,h3,h4,h5,h6', (all) =>
        all.map((one) => Number(one.tagName[1])),
      );
      const widths = new Map<number, number>();
      for (const width of WIDTHS) {
        await page.setViewportSize({ width, height: 800 });
        widths.set(width, await page.evaluate(() => document.documentElement.scrollWidth));
      }
      opened.set(path, { headings, widths });
    }
  });
}

/** What axe finds on the main pages, as `page: rule: element`. */
async function findings(colorScheme: 'light' | 'dark'): Promise<string[]> {
  // Dark on a phone, light on a desk: both schemes and both layouts are looked at, not each with each.
  const viewport = { width: colorScheme === 'dark' ? 390 : 1280, height: 900 };
  return visit('index.html', { colorScheme, bypassCSP: true, viewport }, async (page) => {
    const found: string[] = [];
    // The pack is black on white in either scheme, and by far the longest page.
    const looked = mainPages().filter((path) => colorScheme === 'light' || path !== 'pack/index.html');
    for (const path of looked) {
      await page.goto(base + path);
      found.push(...(await axeFindings(page)).map((finding) => `${path}: ${finding.slice(0, 250)}`));
    }
    return found;
  });
}

describe('accessibility', () => {
  test.each(['light', 'dark'] as const)('axe finds nothing, %s', { timeout: 240_000 }, async (scheme) => {
    expect(await findings(scheme)).toEqual([]);
  });

  test('the keyboard reaches the contents at once, sees where it is, and scrolls wide tables', async () => {
    await visit('readings/index.html', { viewport: { width: 390, height: 800 } }, async (page) => {
      await page.keyboard.press('Tab');
      expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Skip to the contents');
      await page.keyboard.press('Enter');
      expect(await page.evaluate(() => document.activeElement?.id)).toBe('contents');
      await page.keyboard.press('Tab');
      expect(await page.evaluate(() => document.activeElement?.id)).toBe('filter-text');
      const outline = await page.evaluate(
        () => getComputedStyle(document.activeElement as Element).outlineStyle,
      );
      expect(outline).toBe('solid');
      await page.evaluate(() => document.querySelector<HTMLElement>('.scroll')?.focus());
      await page.keyboard.press('ArrowRight');
      await page.waitForFunction(() => (document.querySelector('.scroll')?.scrollLeft ?? 0) > 0);
    });
  });

  test('every page has one main heading, and leaves no level out', () => {
    for (const [path, { headings }] of opened) {
      expect(headings.filter((level) => level === 1).length, path).toBe(1);
      for (const [index, level] of headings.entries()) {
        expect(level - (headings[index - 1] ?? 0), `${path}, heading ${index}`).toBeLessThanOrEqual(1);
      }
    }
  });
});

describe('layout', () => {
  test.each(WIDTHS)('at %i pixels no page scrolls sideways', (width) => {
    for (const [path, { widths }] of opened) expect(widths.get(width), path).toBeLessThanOrEqual(width);
  });

  test('on paper the way about is left out and what is folded away is shown', async () => {
    await visit('systems/house-dc.html', { viewport: { width: 720, height: 1000 } }, async (page) => {
      await page.emulateMedia({ media: 'print' });
      expect(await page.isVisible('header nav')).toBe(false);
      expect(await page.isVisible('details table')).toBe(true);
      expect(await page.isVisible('.as-of')).toBe(true);
      expect((await page.pdf({ format: 'A4' })).length).toBeGreaterThan(20_000);
    });
  });

  test('the day it is as of is on every page', () => {
    for (const path of paths) {
      const html = readFileSync(join(out, path), 'utf8');
      // The pack is made for paper and says it in a sentence of its own.
      const says = path.startsWith('pack/')
        ? /As the record stood on \d/
        : /As of <time datetime="\d{4}-\d\d-\d\d">/;
      expect(says.test(html), path).toBe(true);
    }
  });
});

describe('without script', () => {
  test('readings are there, and lead to all of them', async () => {
    await visit('readings/index.html', { javaScriptEnabled: false }, async (page) => {
      expect(await page.isVisible('#filter')).toBe(false);
      expect(await page.locator('tbody tr').count()).toBeGreaterThan(50);
      await page.getByRole('link', { name: 'Hull', exact: true }).first().click();
      expect(page.url()).toMatch(/readings\/hull\.html$/);
      expect(await page.locator('h1').textContent()).toBe('Hull');
    });
  });

  test('no page but the readings and the one to write on has a script', () => {
    const allowed: Readonly<Record<string, number>> = { 'readings/index.html': 1, 'write.html': 2 };
    for (const path of paths) {
      const scripts = readFileSync(join(out, path), 'utf8').match(/<script/g)?.length ?? 0;
      expect(scripts, path).toBe(allowed[path] ?? 0);
    }
  });
});

describe('from disk', () => {
  test('links, styles, fonts and the filter work by double click', async () => {
    const context = await browser.newContext();
    const page = await context.newPage();
    const failures: string[] = [];
    page.on('console', (message) => message.type() === 'error' && failures.push(message.text()));
    page.on('requestfailed', (request) => failures.push(request.url()));
    await page.goto(pathToFileURL(join(out, 'index.html')).href);
    await page.evaluate(() => document.fonts.ready);
    expect(await page.evaluate(() => document.fonts.check('16px "Source Sans 3"'))).toBe(true);
    await page.getByRole('link', { name: 'Readings', exact: true }).click();
    await page.fill('#filter-text', 'capacity 2025 house');
    await counted(page, /\d+ reading/);
    const rows = await page.locator('tbody tr').allTextContents();
    expect(rows.length).toBeGreaterThan(0);
    for (const row of rows) expect(row.toLowerCase()).toMatch(/2025.*house.*capacity/);
    await page.locator('tbody tr a').first().click();
    expect(page.url()).toMatch(/^file:.*\/entries\/2025-.*\.html#(?:reading|test)-\d+$/);
    expect(failures).toEqual([]);
    await context.close();
  });

  test('the filter finds what no row holds to be nothing, and gives the latest back', async () => {
    await visit('readings/index.html', {}, async (page) => {
      const before = await page.locator('tbody tr').count();
      await page.fill('#filter-text', 'zzzz');
      await counted(page, /^Nothing found$/);
      expect(await page.locator('tbody tr').count()).toBe(0);
      await page.fill('#filter-text', '');
      expect(await page.locator('tbody tr').count()).toBe(before);
    });
  });
});

describe('policy', () => {
  test('every page has one, without anything inline', () => {
    for (const path of paths) {
      const html = readFileSync(join(out, path), 'utf8');
      const policy = /http-equiv="Content-Security-Policy" content="([^"]+)"/.exec(html)?.[1];
      expect(policy, path).toContain("default-src 'none'");
      expect(policy, path).not.toMatch(/unsafe|\*|https?:|data:/);
      expect(html, path).not.toMatch(/<style|\sstyle=|\son[a-z]+=/);
    }
  });

  test('no request leaves the origin, none fails, and nothing breaks the policy', () => {
    expect(opened.size).toBeGreaterThan(25);
    expect(problems).toEqual([]);
  });

  test('every link inside the site leads to a page and a place that are there', () => {
    const ids = new Map(
      paths.map((path) => {
        const html = readFileSync(join(out, path), 'utf8');
        return [path, { html, ids: new Set([...html.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id)) }];
      }),
    );
    const broken: string[] = [];
    for (const [path, { html }] of ids) {
      for (const [, href = ''] of html.matchAll(/ href="([^"]+)"/g)) {
        if (/^(?:https?:|mailto:)/.test(href) || href.startsWith('/boats/marram/')) continue;
        const url = new URL(href.replaceAll('&amp;', '&'), `file:///${path}`);
        const target = decodeURIComponent(url.pathname.slice(1));
        const isFile = /^(?:assets|photos|open|series)\//.test(target) || existsSync(join(out, target));
        if (isFile && !target.endsWith('.html')) continue;
        const place = decodeURIComponent(url.hash.slice(1));
        const there = ids.get(target);
        if (there === undefined || (place !== '' && !there.ids.has(place))) broken.push(`${path}: ${href}`);
      }
    }
    expect(broken.slice(0, 20)).toEqual([]);
  });
});

describe('weight', () => {
  test('a page of an entry has less than 40 kB without its photos', () => {
    for (const path of paths.filter((one) => one.startsWith('entries/'))) {
      expect(sizeOf(path), path).toBeLessThan(40_000);
    }
  });
});
