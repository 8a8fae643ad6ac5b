import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Parser } from 'htmlparser2';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { launchChromium } from './chromium.js';
import { counted } from './counted.js';
import { buildInto } from './demo.js';
import { writeHostileBook } from './hostile-book.js';

/** A book full of attacks, opened page by page with the pages' policy switched off: nothing of it may run. */

let browser: Browser;
let folder: string;
let out: string;
let paths: readonly string[];
let attacks: number;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'hostile-book-'));
  out = mkdtempSync(join(tmpdir(), 'hostile-site-'));
  attacks = await writeHostileBook(folder);
  paths = await buildInto(out, folder);
  browser = await launchChromium();
});

afterAll(async () => {
  await browser?.close();
  for (const made of [folder, out]) if (made !== undefined) rmSync(made, { recursive: true, force: true });
});

/** Elements and attributes that no page of ours has, and addresses that run something. */
async function intruders(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const found: string[] = [];
    if ((window as { hit?: unknown }).hit !== undefined) found.push('something ran');
    const never = 'iframe,object,embed,form,style,base,math,meta[http-equiv=refresh],script:not([src]),#trap';
    for (const element of document.querySelectorAll(never)) found.push(element.outerHTML.slice(0, 120));
    for (const element of document.querySelectorAll('*')) {
      for (const { name, value } of element.attributes) {
        const runs =
          /^on/.test(name) ||
          (/^(?:href|src|action|data|srcdoc)$/.test(name) &&
            /^\s*(?:javascript|vbscript|data):/i.test(value));
        if (runs) found.push(`${element.tagName} ${name}=${value}`);
      }
    }
    return found;
  });
}

/** Every page but three of four of the many that are alike; those are read as text by the test below. */
function opened(all: readonly string[]): string[] {
  const own = all.filter((path) => !path.startsWith('reference/'));
  return own.filter((path, at) => !path.startsWith('specs/') || at % 4 === 0);
}

const NEVER = /^(?:iframe|object|embed|form|style|base|math|portal|foreignobject|animate|set)$/;

/** The same, of the text of a page that is not opened. */
function intrudersIn(html: string): string[] {
  const found: string[] = [];
  const parser = new Parser({
    onopentag: (name, attributes) => {
      if (NEVER.test(name) || (name === 'script' && attributes['src'] === undefined)) found.push(name);
      for (const [attribute, value] of Object.entries(attributes)) {
        const leads = /^(?:href|src|action|data|srcdoc)$/.test(attribute);
        if (attribute.startsWith('on') || (leads && /^\s*(?:javascript|vbscript|data):/i.test(value)))
          found.push(`${name} ${attribute}=${value}`);
      }
    },
  });
  parser.end(html);
  return found;
}

describe('a book full of attacks', () => {
  test('leaves nothing in the text of any page', () => {
    const found = paths.flatMap((path) =>
      intrudersIn(readFileSync(join(out, path), 'utf8')).map((intruder) => `${path}: ${intruder}`),
    );
    expect(paths.length).toBeGreaterThan(attacks);
    expect(found).toEqual([]);
    expect(intrudersIn('<p onclick=x><iframe>')).toEqual(['p onclick=x', 'iframe']);
  });

  test('runs nothing, asks for nothing and leaves nothing in the markup, on any page', {
    timeout: 300_000,
  }, async () => {
    const context = await browser.newContext({ bypassCSP: true });
    const found: string[] = [];
    context.on('request', (request) => {
      if (!request.url().startsWith('file:') && !request.url().startsWith('data:'))
        found.push(`request of ${request.url()}`);
    });
    context.on('dialog', (dialog) => {
      found.push(`dialog ${dialog.message()}`);
      void dialog.dismiss();
    });
    const own = opened(paths);
    const left = [...own];
    const tab = async () => {
      const page = await context.newPage();
      for (let path = left.pop(); path !== undefined; path = left.pop()) {
        await page.goto(pathToFileURL(join(out, path)).href);
        for (const intruder of await intruders(page)) found.push(`${path}: ${intruder}`);
      }
    };
    await Promise.all([tab(), tab(), tab()]);
    expect(attacks).toBeGreaterThanOrEqual(300);
    // Every entry, every system and every page of its own kind among them.
    expect(own.filter((path) => path.startsWith('entries/')).length).toBeGreaterThan(attacks / 4);
    expect(found).toEqual([]);
    await context.close();
  });

  test('runs nothing in the rows that the filter puts in', async () => {
    const context = await browser.newContext({ bypassCSP: true });
    const page = await context.newPage();
    await page.goto(pathToFileURL(join(out, 'readings/index.html')).href);
    await page.fill('#filter-text', 'window.hit');
    await counted(page, /^[1-9]/);
    expect(await page.locator('tbody tr').count()).toBeGreaterThan(20);
    expect(await intruders(page)).toEqual([]);
    await context.close();
  });

  test('shows the attacks as the words they are', async () => {
    const context = await browser.newContext();
    const page = await context.newPage();
    await page.goto(pathToFileURL(join(out, 'systems/s0.html')).href);
    expect(await page.locator('h1').textContent()).toBe('<script>window.hit=1</script>');
    expect(await page.title()).toContain('<script>window.hit=1</script>');
    await context.close();
  });
});
