import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { gzipSync } from 'node:zlib';
import type { Browser, CDPSession, Page } from 'playwright-core';
import { checkFolder } from '../../src/cli/pipeline.js';
import { stretchesOf } from '../../src/reckon/records.js';
import { siteAssets } from '../../src/render/assets.js';
import { readingPages } from '../../src/render/pages/readings.js';
import { siteContext } from '../../src/render/site-context.js';
import { launchChromium } from '../site/chromium.js';
import { TODAY } from './built.js';
import { median } from './child.js';
import { makeBook, writeBook } from './generate.js';

/**
 * Measures the search of the readings page in a real Chromium, from disk, over a made-up book of about 100,000
 * readings: from a key to the results on the screen, and the longest that a task holds up the next key.
 */

/** What somebody types, with slips, limits and words that answer to much. */
const TYPED = [
  'insulation below 100 MΩ',
  'gauge pressure between 2 and 3 bar in engine',
  'seacok since 2010',
  'voltage port above 12.7 V',
  'en',
  'moisture',
];

/** Entries that hold about 100,000 readings. */
const ENTRIES = 9_400;

const ms = (number: number) => `${number.toFixed(0)} ms`;
const kB = (bytes: number) => `${(bytes / 1000).toFixed(0)} kB`;

/** Runs the whole of it and prints the figures. */
export async function benchFind(entries = ENTRIES): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'ribband-find-'));
  const browser = await launchChromium();
  try {
    console.log(`Search of the readings page\n${await makeSite(folder, entries)}`);
    for (const line of await measurePage(
      browser,
      pathToFileURL(join(folder, 'site/readings/index.html')).href,
    ))
      console.log(line);
  } finally {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The readings page alone, with its data: the other pages of so many entries take their time. */
async function makeSite(folder: string, entries: number): Promise<string> {
  const book = join(folder, 'book');
  mkdirSync(book);
  writeBook(makeBook(entries), book);
  const { reckoning } = await checkFolder(book, TODAY);
  if (reckoning === null) throw new Error('The made-up book has errors.');
  const site = siteContext({ reckoning, photos: new Map(), renderBody: () => '', rendererId: '' });
  let [plain, zipped, parts] = [0, 0, 0];
  for (const { path, render } of readingPages(site)) {
    if (!/^(?:readings\/index\.html|data\/.*)$/.test(path)) continue;
    const text = render();
    put(join(folder, 'site', path), text);
    if (!path.startsWith('data/')) continue;
    parts += 1;
    plain += Buffer.byteLength(text);
    zipped += gzipSync(text).length;
  }
  for (const { path, bytes } of siteAssets()) put(join(folder, 'site', path), bytes);
  const records = stretchesOf(reckoning).reduce((sum, { count }) => sum + count, 0);
  const script = siteAssets().find(({ path }) => path === 'assets/readings.js')?.bytes ?? new Uint8Array();
  return [
    `  ${records} records, of which ${reckoning.readings.length} readings, in ${parts} files`,
    `  data ${kB(plain)}, ${kB(zipped)} gzipped; script ${kB(script.length)}, ${kB(gzipSync(script).length)} gzipped`,
  ].join('\n');
}

function put(path: string, contents: string | Uint8Array): void {
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, contents);
}

interface Watched {
  /** Longest tasks while loading, and while typing. */
  long: number[];
}

async function measurePage(browser: Browser, address: string): Promise<string[]> {
  const page = await browser.newPage();
  // What runs TypeScript keeps the names of functions by this, and the page has none.
  await page.addInitScript('window.__name = (named) => named');
  await page.addInitScript(() => {
    const watched = { long: [] as number[] };
    (window as unknown as { watched: Watched }).watched = watched;
    new PerformanceObserver((list) => {
      for (const { duration } of list.getEntries()) watched.long.push(duration);
    }).observe({ type: 'longtask', buffered: true });
  });
  await page.goto(address);
  const client = await page.context().newCDPSession(page);
  const first = await firstKey(page);
  const loaded = await untilLoaded(page);
  const loading = await longTasks(page);
  const lines = [
    `  first key on a page just opened: results after ${ms(first)}; all records there after ${ms(loaded)}`,
    `  while loading: ${told(loading)}`,
  ];
  for (const text of TYPED) lines.push(await typing(page, client, text));
  return lines;
}

/** From the first key, before anything but the names is there, to the first results. */
async function firstKey(page: Page): Promise<number> {
  await page.waitForSelector('#filter:not([hidden])');
  return page.evaluate(
    () =>
      new Promise<number>((resolve) => {
        const input = document.querySelector<HTMLInputElement>('#filter-text') as HTMLInputElement;
        const began = performance.now();
        const look = () => {
          if (document.querySelector('#found tbody tr') === null) requestAnimationFrame(look);
          else resolve(performance.now() - began);
        };
        input.focus();
        input.value = 'm';
        input.dispatchEvent(new InputEvent('input', { bubbles: true }));
        requestAnimationFrame(look);
      }),
  );
}

async function untilLoaded(page: Page): Promise<number> {
  const began = performance.now();
  await page.waitForFunction(() => {
    const words = document.querySelector('#filter-count')?.textContent ?? '';
    return words !== '' && !words.includes('so far');
  });
  return performance.now() - began;
}

async function longTasks(page: Page): Promise<number[]> {
  await page.waitForTimeout(300);
  return page.evaluate(() => (window as unknown as { watched: Watched }).watched.long.splice(0));
}

const told = (tasks: readonly number[]) =>
  tasks.length === 0
    ? 'no task over 50 ms'
    : `${tasks.length} tasks over 50 ms, the longest ${ms(Math.max(...tasks))}`;

/** Types a text key by key; from each key to the frame in which its results are painted. */
async function typing(page: Page, client: CDPSession, text: string): Promise<string> {
  await page.fill('#filter-text', '');
  await page.waitForTimeout(200);
  await longTasks(page);
  await page.evaluate(() => {
    const times: number[] = [];
    (window as unknown as { times: number[] }).times = times;
    let struck = Number.NaN;
    const input = document.querySelector('#filter-text') as HTMLInputElement;
    input.addEventListener('input', ({ timeStamp }) => {
      struck = timeStamp;
    });
    // Results of a key are put on the page at once, some time after it; the frame after that shows them.
    new MutationObserver(() => {
      if (Number.isNaN(struck)) return;
      const key = struck;
      struck = Number.NaN;
      requestAnimationFrame(() => setTimeout(() => times.push(performance.now() - key), 0));
    }).observe(document.querySelector('#found') as Element, {
      subtree: true,
      childList: true,
      characterData: true,
    });
  });
  await page.focus('#filter-text');
  for (const letter of text) {
    await client.send('Input.insertText', { text: letter });
    await page.waitForTimeout(80);
  }
  const tasks = await longTasks(page);
  const times = await page.evaluate(() => (window as unknown as { times: number[] }).times);
  const count = await page.textContent('#filter-count').catch(() => '');
  return `  "${text}": ${times.length} of ${text.length} keys shown, key to results median ${ms(median(times))}, worst ${ms(Math.max(...times))}; ${told(tasks)} (${count})`;
}
