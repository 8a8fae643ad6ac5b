import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { axeFindings } from './axe.js';
import { launchChromium } from './chromium.js';
import { counted } from './counted.js';
import { buildInto, DEMO } from './demo.js';

/** The search of the readings page, from disk, in a real browser, as somebody with a question uses it. */

let browser: Browser;
let out: string;

beforeAll(async () => {
  out = mkdtempSync(join(tmpdir(), 'find-site-'));
  await buildInto(out, DEMO);
  browser = await launchChromium();
});

afterAll(async () => {
  await browser?.close();
  if (out !== undefined) rmSync(out, { recursive: true, force: true });
});

/** Opens the page, and fails with whatever the page complains of. */
async function visit(hash: string, act: (page: Page) => Promise<void>, options: BrowserContextOptions = {}) {
  const context = await browser.newContext(options);
  const complaints: string[] = [];
  try {
    const page = await context.newPage();
    page.on('console', (message) => message.type() === 'error' && complaints.push(message.text()));
    page.on('pageerror', (error) => complaints.push(error.message));
    page.on('requestfailed', (request) => complaints.push(request.url()));
    await page.goto(pathToFileURL(join(out, 'readings/index.html')).href + hash);
    await act(page);
    expect(complaints).toEqual([]);
  } finally {
    await context.close();
  }
}

const rowsOf = (page: Page) => page.locator('#found tbody tr').allInnerTexts();

/** Waits until a search that was asked for by a click or a key has all its rows on the page. */
async function settled(page: Page): Promise<void> {
  await page.waitForFunction(() => document.querySelector('#found')?.ariaBusy === 'false');
}

/** The value column of each row. */
const valuesOf = (page: Page) => page.locator('#found tbody tr td:nth-child(4)').allInnerTexts();

describe('searching', () => {
  test('words and numbers in plain words', async () => {
    await visit('', async (page) => {
      await page.fill('#filter-text', 'moisture above 20 % in hull since 2025');
      await counted(page, /^\d+ readings?$/);
      const rows = await rowsOf(page);
      expect(rows.length).toBeGreaterThan(3);
      for (const row of rows) expect(row).toMatch(/202[56][\s\S]*Hull[\s\S]*[Mm]oisture/);
      for (const value of await valuesOf(page)) expect(Number.parseFloat(value)).toBeGreaterThan(20);
      expect(await page.locator('#latest').count()).toBe(0);
    });
  });

  test('a slip of the pen is forgiven and told', async () => {
    await visit('', async (page) => {
      await page.fill('#filter-text', 'capactiy');
      await counted(page, /readings/);
      expect(await page.locator('.find-read').textContent()).toContain('taken for capacity');
      expect((await rowsOf(page)).join(' ')).toContain('Capacity');
    });
  });

  test('an unknown unit says which there are; another kind says what there is', async () => {
    await visit('', async (page) => {
      await page.fill('#filter-text', 'below 5 vlt');
      await page.waitForSelector('#filter-problems p');
      expect(await page.textContent('#filter-problems')).toContain('Units that fit');
      expect(await page.getAttribute('#filter-text', 'aria-invalid')).toBe('true');
      await page.fill('#filter-text', 'thickness below 5 V');
      await counted(page, /Nothing found/);
      expect(await page.textContent('.find-read')).toMatch(
        /is a voltage, and what is found without it is length/,
      );
      expect(await page.locator('#filter-problems p').count()).toBe(0);
    });
  });

  test('limits of the form combine with the words, and clearing gives the latest back', async () => {
    await visit('', async (page) => {
      const before = await page.locator('#not-searched tbody tr').count();
      expect(before).toBeGreaterThan(50);
      await page.fill('#filter-text', 'capacity');
      await counted(page, /tests/);
      await page.click('#filter-limits summary');
      await page.selectOption('#find-sort', 'test');
      await page.selectOption('#find-outcome', 'fail');
      await counted(page, /^(\d+ tests?|Nothing found)$/);
      await page.selectOption('#find-outcome', '');
      await counted(page, /^\d+ tests?$/);
      for (const row of await rowsOf(page)) expect(row).toMatch(/[Cc]apacity/);
      await page.getByRole('button', { name: 'Clear the search' }).click();
      await page.waitForSelector('#latest');
      expect(await page.locator('#not-searched tbody tr').count()).toBe(before);
      expect(await page.evaluate(() => document.activeElement?.id)).toBe('filter-text');
      expect(await page.inputValue('#find-sort')).toBe('');
    });
  });

  test('a result leads to its place in the entry', async () => {
    await visit('#?words=capacity&point=house-dc.capacity&by=-date', async (page) => {
      await counted(page, /readings/);
      const value = (await valuesOf(page))[0] ?? '';
      await page.locator('#found tbody tr a').first().click();
      const place = await page.evaluate(() => {
        const target = document.querySelector(':target');
        return { text: target?.textContent ?? '', tag: target?.tagName };
      });
      expect(place.tag).toMatch(/TR|DIV/);
      expect(place.text).toContain(value.split(' ')[0]);
    });
  });
});

describe('units, order and pages', () => {
  test('one switch shows all values in other units', async () => {
    await visit('#?words=thickness&quantity=length', async (page) => {
      await counted(page, /readings/);
      expect((await valuesOf(page)).join(' ')).toMatch(/ mm/);
      await page.getByLabel('US customary').check();
      await page.waitForFunction(() =>
        / in\b/.test(document.querySelector('#found tbody')?.textContent ?? ''),
      );
      await settled(page);
      for (const value of await valuesOf(page)) expect(value).not.toMatch(/ mm/);
      expect(page.url()).toContain('units=us');
      await page.getByLabel('as written').check();
      await page.waitForFunction(() => / mm/.test(document.querySelector('#found tbody')?.textContent ?? ''));
    });
  });

  test('every column sorts, both ways, and says so', async () => {
    await visit('#?quantity=voltage', async (page) => {
      await counted(page, /readings/);
      const si = async () =>
        (await valuesOf(page)).map(
          (value) => Number.parseFloat(value.replace('−', '-')) * (/ mV/.test(value) ? 1e-3 : 1),
        );
      const sortBy = async (name: string) => {
        // The button of the column that is sorted by says so after its name.
        await page.getByRole('button', { name: new RegExp(`^${name}`) }).click();
        await settled(page);
      };
      await sortBy('Value');
      const up = await si();
      expect(up.length).toBeGreaterThan(20);
      expect(up).toEqual([...up].sort((a, b) => a - b));
      expect(await page.locator('#found th[aria-sort]').allInnerTexts()).toEqual(['Value']);
      await sortBy('Value');
      const down = await si();
      expect(down).toEqual([...down].sort((a, b) => b - a));
      expect(await page.getAttribute('#found th[aria-sort]', 'aria-sort')).toBe('descending');
      for (const name of ['Date', 'System', 'What', 'How it stands', 'Around it']) {
        await sortBy(name);
        expect(await page.locator('#found th[aria-sort]').allInnerTexts()).toEqual([name]);
      }
      await sortBy('System');
      const systems = await page.locator('#found tbody tr td:nth-child(2)').allInnerTexts();
      expect(systems).toEqual([...systems].sort((a, b) => a.localeCompare(b, 'en')));
    });
  });

  test('fifty a page, rows no lower than a finger needs, and the way through them', async () => {
    await visit('#?sort=reading', async (page) => {
      await counted(page, /readings/);
      expect(await page.locator('#found tbody tr').count()).toBe(50);
      const low = await page.$$eval('#found tbody tr', (rows) =>
        Math.min(...rows.map((row) => row.clientHeight)),
      );
      expect(low).toBeGreaterThanOrEqual(24);
      const first = (await rowsOf(page))[0];
      await page.getByRole('link', { name: 'next →' }).click();
      await page.waitForFunction(() =>
        /Page 2 of/.test(document.querySelector('.find-pager')?.textContent ?? ''),
      );
      expect((await rowsOf(page))[0]).not.toBe(first);
      expect(await page.evaluate(() => document.activeElement?.id)).toBe('found-heading');
      await page.goBack();
      await page.waitForFunction(() =>
        /Page 1 of/.test(document.querySelector('.find-pager')?.textContent ?? ''),
      );
      expect((await rowsOf(page))[0]).toBe(first);
    });
  });
});

describe('the address', () => {
  test('holds all of a search: another browser shows the same', async () => {
    let address = '';
    let shown: readonly string[] = [];
    await visit('', async (page) => {
      await page.fill('#filter-text', 'moisture over 20 %');
      await counted(page, /readings/);
      await page.getByRole('button', { name: 'Value' }).click();
      await page.getByLabel('US customary').check();
      await page.waitForFunction(() => location.hash.includes('units=us'));
      await counted(page, /readings/);
      address = new URL(page.url()).hash;
      shown = await rowsOf(page);
    });
    await visit(address, async (page) => {
      await counted(page, /readings/);
      expect(await page.inputValue('#filter-text')).toBe('moisture over 20 %');
      expect(await rowsOf(page)).toEqual(shown);
      expect(await page.getByLabel('US customary').isChecked()).toBe(true);
    });
  });

  test('the back button goes back a search, not a letter', async () => {
    await visit('', async (page) => {
      await page.focus('#filter-text');
      await page.keyboard.type('capacity');
      await counted(page, /readings/);
      await page.click('#filter-limits summary');
      await page.waitForTimeout(2100);
      await page.selectOption('#find-sort', 'test');
      await counted(page, /^\d+ tests?$/);
      await page.goBack();
      await counted(page, /readings/);
      expect(await page.inputValue('#filter-text')).toBe('capacity');
      expect(await page.inputValue('#find-sort')).toBe('');
      await page.goBack();
      await page.waitForSelector('#latest');
      expect(await page.inputValue('#filter-text')).toBe('');
      await page.goForward();
      await counted(page, /readings/);
    });
  });

  test('a name that there is not is shown and asked back about', async () => {
    await visit('#?system=stering', async (page) => {
      await page.waitForSelector('#filter-problems p');
      expect(await page.textContent('#filter-problems')).toContain('Did you mean steering?');
      expect(await page.inputValue('#find-system')).toBe('stering');
    });
  });
});

describe('drawing', () => {
  test('a point over time, with words and the numbers behind it', async () => {
    await visit('#?point=house-dc.capacity', async (page) => {
      await counted(page, /readings/);
      const choice = page.getByLabel('Draw');
      await choice.selectOption({ index: 1 });
      await page.waitForSelector('.find-plot svg');
      await settled(page);
      const count = Number.parseInt((await page.textContent('#filter-count')) ?? '', 10);
      expect(await page.locator('.find-plot svg .mark').count()).toBe(count);
      expect(await page.getAttribute('.find-plot svg', 'aria-label')).toMatch(/\d+ readings: .* on .* 2024/);
      expect(await page.locator('.find-plot tbody tr').count()).toBe(count);
      expect(page.url()).toContain('plot=house-dc.capacity');
      expect(await page.locator('.find-plot [style]').count()).toBe(0);
    });
  });

  test('two points against each other, and by what rule they are paired', async () => {
    await visit('#?system=house-dc&plot=house-dc.capacity', async (page) => {
      await counted(page, /readings/);
      const against = page.getByLabel('against');
      const other = await against.locator('option').nth(2).getAttribute('value');
      await against.selectOption(other);
      await page.waitForFunction(() =>
        /against/.test(document.querySelector('.find-plot h3')?.textContent ?? ''),
      );
      expect(await page.textContent('.find-plot')).toMatch(/nearest in time, no more than 7 days away/);
      expect(page.url()).toContain('plot-against=');
    });
  });
});

describe('for everybody', () => {
  test('with the keyboard alone: search, limit, sort, page and open', async () => {
    await visit('', async (page) => {
      const focused = () =>
        page.evaluate(() => document.activeElement?.id || document.activeElement?.textContent);
      const tabTo = async (wanted: RegExp) => {
        for (let step = 0; step < 60; step++) {
          await page.keyboard.press('Tab');
          if (wanted.test((await focused()) ?? '')) return;
        }
        throw new Error(`The keyboard does not reach ${wanted.source}`);
      };
      await tabTo(/^filter-text$/);
      await page.keyboard.type('moisture');
      await counted(page, /readings/);
      await tabTo(/^Limits$/);
      await page.keyboard.press('Enter');
      await tabTo(/^find-below$/);
      await page.keyboard.type('20 %');
      await settled(page);
      await tabTo(/^Value$/);
      await page.keyboard.press('Enter');
      await page.waitForSelector('#found th[aria-sort=ascending]');
      await settled(page);
      expect(await focused()).toBe('Value');
      const outline = await page.evaluate(
        () => getComputedStyle(document.activeElement as Element).outlineStyle,
      );
      expect(outline).toBe('solid');
      await page.keyboard.press('Tab');
      await page.keyboard.press('Tab');
      await page.keyboard.press('Tab');
      await page.keyboard.press('Enter');
      await page.waitForURL(/entries\/.*\.html#/);
    });
  });

  test('a screen reader is told counts, once, after the typing', async () => {
    await visit('#?words=capacity', async (page) => {
      // All records are there and have been told of, so that what is said from here on comes of the typing alone.
      await counted(page, /readings/);
      await page.waitForFunction(() => document.getElementById('filter-said')?.textContent !== '');
      await page.evaluate(() => {
        const said: string[] = [];
        (window as unknown as { said: string[] }).said = said;
        const region = document.getElementById('filter-said') as HTMLElement;
        new MutationObserver(() => said.push(region.textContent ?? '')).observe(region, { childList: true });
      });
      expect(await page.getAttribute('#filter-said', 'role')).toBe('status');
      // Typed from within the page: a key that comes late from outside would be a pause.
      const typed = (before: string, letters: string) =>
        page.evaluate(
          async ([start, rest]) => {
            const input = document.querySelector('#filter-text') as HTMLInputElement;
            input.value = start as string;
            for (const letter of rest as string) {
              input.value += letter;
              input.dispatchEvent(new InputEvent('input', { bubbles: true }));
              await new Promise((resolve) => setTimeout(resolve, 30));
            }
          },
          [before, letters],
        );
      await typed('', 'moisture');
      await page.waitForFunction(() => (window as unknown as { said: string[] }).said.length > 0);
      await typed('moisture', ' zzzzzz');
      await page.waitForFunction(() =>
        /nowhere/.test(document.getElementById('filter-said')?.textContent ?? ''),
      );
      const said = await page.evaluate(() => (window as unknown as { said: string[] }).said);
      expect(said.length).toBe(2);
      expect(said[0]).toMatch(/^\d+ readings/);
      expect(said[1]).toMatch(/^\d+ readings.*zzzzzz is nowhere in this book, and left out/);
    });
  });

  test('without script there is no search, and tables of everything by system', async () => {
    await visit(
      '#?words=moisture',
      async (page) => {
        expect(await page.isVisible('#filter')).toBe(false);
        expect(await page.locator('#not-searched tbody tr').count()).toBeGreaterThan(50);
        expect(await page.locator('#not-searched .columns a').count()).toBeGreaterThan(10);
      },
      { javaScriptEnabled: false },
    );
  });

  const SEARCHES = [
    '#?words=capacity&plot=house-dc.capacity&by=-value',
    '#?words=moisture&below=5+vlt&system=nowhere',
    '#?words=zzzz',
    '#?system=house-dc&plot=house-dc.capacity&plot-against=house-dc.rest-voltage',
  ];

  test.each(SEARCHES)('on no window from a phone to a desk does %s scroll sideways', async (hash) => {
    await visit(hash, async (page) => {
      await counted(page, /./);
      for (const width of [320, 390, 1280]) {
        await page.setViewportSize({ width, height: 800 });
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      }
    });
  });

  test.each(['light', 'dark'] as const)('axe finds nothing in what was found, %s', async (colorScheme) => {
    const viewport = { width: colorScheme === 'dark' ? 390 : 1280, height: 900 };
    for (const hash of SEARCHES) {
      await visit(
        hash,
        async (page) => {
          await counted(page, /./);
          await page.evaluate(() => {
            for (const details of document.querySelectorAll('details')) details.open = true;
          });
          expect(await axeFindings(page), hash).toEqual([]);
        },
        { colorScheme, bypassCSP: true, viewport },
      );
    }
  });
});
