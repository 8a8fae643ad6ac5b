import {
  appendFileSync,
  cpSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { run } from '../cli/support.js';
import { axeFindings } from './axe.js';
import { launchChromium } from './chromium.js';
import { buildInto, DEMO, TODAY } from './demo.js';

/** The pages of what is computed, and the page of a supposition, in a real browser. */

let browser: Browser;
let folder: string;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'reckoning-'));
  cpSync(DEMO, join(folder, 'log'), { recursive: true, filter: (path) => !path.endsWith('.ribband') });
  await buildInto(join(folder, 'site'), DEMO);
  browser = await launchChromium();
});

afterAll(async () => {
  await browser?.close();
  rmSync(folder, { recursive: true, force: true });
});

async function open<T>(path: string, width: number, act: (page: Page) => Promise<T>): Promise<T> {
  const context = await browser.newContext({ viewport: { width, height: 900 }, bypassCSP: true });
  try {
    const page = await context.newPage();
    await page.goto(pathToFileURL(join(folder, path)).href);
    return await act(page);
  } finally {
    await context.close();
  }
}

function suppose(out: string, ...pairs: readonly string[]) {
  return run(['suppose', 'log', ...pairs, '--out', out], {
    cwd: folder,
    env: { RIBBAND_TODAY: TODAY },
  });
}

describe('the page of a supposition', () => {
  test('is made beside the answer, axe finds nothing in it, and the book is as it was', async () => {
    const before = readdirSync(join(folder, 'log'), { recursive: true }).length;
    const ran = await suppose('supposed', 'house-dc.capacity=200 Ah');
    expect([ran.code, ran.err]).toEqual([0, 'The page is in supposed.\n']);
    expect(ran.out).toContain('house-dc.capacity: 200 Ah instead of');
    for (const width of [320, 1280]) {
      const found = await open('supposed/index.html', width, async (page) => {
        expect(await page.textContent('h1')).toBe('Suppose');
        const wide = await page.evaluate(() => document.documentElement.scrollWidth);
        expect(wide).toBeLessThanOrEqual(width);
        return axeFindings(page);
      });
      expect(found).toEqual([]);
    }
    const files = readdirSync(join(folder, 'log'), { recursive: true, encoding: 'utf8' });
    expect(files.filter((path) => !path.includes('.ribband')).length).toBe(before);
  });

  test('takes its own place again, but that of nothing else', async () => {
    expect((await suppose('supposed', 'house-dc.capacity=210 Ah')).code).toBe(0);
    expect(readFileSync(join(folder, 'supposed/index.html'), 'utf8')).toContain('210 Ah');
    cpSync(join(folder, 'supposed'), join(folder, 'built'), { recursive: true });
    cpSync(join(folder, 'site/log'), join(folder, 'built/log'), { recursive: true });
    // A built site has it in the list of what was made with it.
    appendFileSync(join(folder, 'built/.ribband-site'), 'log\n');
    const site = await suppose('built', 'house-dc.capacity=200 Ah');
    expect([site.code, site.err]).toEqual([2, expect.stringContaining('holds the site of a book')]);
    expect(existsSync(join(folder, 'built/log'))).toBe(true);
    writeFileSync(join(folder, 'mine.txt'), 'mine');
    const foreign = await suppose('.', 'house-dc.capacity=200 Ah');
    expect(foreign.code).toBe(2);
    expect(readFileSync(join(folder, 'mine.txt'), 'utf8')).toBe('mine');
    expect((await suppose('log/photos', 'house-dc.capacity=200 Ah')).code).toBe(2);
  });
});

describe('drawings', () => {
  /** Texts that lie over each other, as `page: one / other`, by the boxes in which they are drawn. */
  const overlaps = (path: string, figure: string) =>
    open(path, 1280, (page) =>
      page.evaluate((selector) => {
        const texts = [...document.querySelectorAll(`${selector} svg text`)];
        const boxes = texts.map((text) => [text.textContent ?? '', text.getBoundingClientRect()] as const);
        return boxes.flatMap(([one, a], index) =>
          boxes
            .slice(index + 1)
            .filter(
              ([, b]) =>
                a.left < b.right - 2 && b.left < a.right - 2 && a.top < b.bottom - 4 && b.top < a.bottom - 4,
            )
            .map(([other]) => `${one} / ${other}`),
        );
      }, figure),
    );

  test('of the network: no name lies on another, and none is cut off', async () => {
    expect(await overlaps('site/plan.html', '.network')).toEqual([]);
    const cut = await open('site/plan.html', 1280, (page) =>
      page.evaluate(() =>
        [...document.querySelectorAll('.network svg[role]')].flatMap((svg) => {
          const frame = svg.getBoundingClientRect();
          return [...svg.querySelectorAll('text')]
            .filter((text) => {
              const { left, right } = text.getBoundingClientRect();
              return left < frame.left - 1 || right > frame.right + 1;
            })
            .map((text) => text.textContent);
        }),
      ),
    );
    expect(cut).toEqual([]);
  });

  test('of the day: bands keep their patterns apart, and names lie on no other', async () => {
    expect(await overlaps('site/power.html', '.day')).toEqual([]);
    const patterns = await open('site/power.html', 1280, (page) =>
      page.evaluate(() => {
        const ids = [...document.querySelectorAll('pattern')].map(({ id }) => id);
        const used = [...document.querySelectorAll('[fill^="url("]')].map(
          (shape) => shape.getAttribute('fill')?.slice(5, -1) ?? '',
        );
        return { ids, lost: used.filter((id) => document.getElementById(id) === null) };
      }),
    );
    expect(new Set(patterns.ids).size).toBe(patterns.ids.length);
    expect(patterns.lost).toEqual([]);
  });

  test('of the weights: a metre is as long from the side as from above and along', async () => {
    const spans = await open('site/weights.html', 1280, (page) =>
      page.evaluate(() => {
        const marks = [...document.querySelectorAll('.hull [role] .came, .hull [role] .went')].map((mark) =>
          ['cx', 'cy', 'r'].map((name) => Number(mark.getAttribute(name))),
        );
        return marks;
      }),
    );
    // Both views draw every mark, at the same place along the boat and of the same size.
    const [side, above] = [spans.slice(0, spans.length / 2), spans.slice(spans.length / 2)];
    expect(above.map(([x, , r]) => [x, r])).toEqual(side.map(([x, , r]) => [x, r]));
  });
});

test('on paper the drawings stand whole on their page', async () => {
  for (const path of ['plan.html', 'power.html', 'weights.html']) {
    await open(`site/${path}`, 720, async (page) => {
      await page.emulateMedia({ media: 'print' });
      const wide = await page.evaluate(() =>
        [...document.querySelectorAll('.chart svg[role]')].map(
          (svg) => svg.getBoundingClientRect().right - document.documentElement.clientWidth,
        ),
      );
      for (const over of wide) expect(over, path).toBeLessThanOrEqual(0);
    });
  }
});
