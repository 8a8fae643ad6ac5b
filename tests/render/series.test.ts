import { beforeAll, describe, expect, it } from 'vitest';
import { BOX } from '../../site/templates/charts.js';
import { reckon } from '../../src/reckon/reckon.js';
import type { SeriesState } from '../../src/reckon/series.js';
import type { Page } from '../../src/render/page.js';
import { DEMO, loadBook, pagesOf } from '../site/demo.js';

/** Pages with what a logger has read, made from the demo book. */

let pages: ReadonlyMap<string, Page>;
let state: SeriesState;

beforeAll(async () => {
  const book = await loadBook(DEMO);
  pages = new Map(pagesOf(book).map((page) => [page.path, page]));
  const found = reckon(book, '2026-11-15').series.get('house-dc.bank-voltage');
  if (found === undefined) throw new Error('the demo book has lost its logger');
  state = found;
});

function html(path: string): string {
  const page = pages.get(path);
  if (page === undefined) throw new Error(`there is no ${path}`);
  return page.render();
}

/** The dots of the line, as they are drawn. */
function dots(page: string): readonly (readonly [number, number])[] {
  const path = /class="logged" d="([^"]+)"/.exec(page)?.[1] ?? '';
  return [...path.matchAll(/[ML]([\d.]+) ([\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)]);
}

describe('a series on a page', () => {
  it('is drawn with few dots, in order, inside the frame, and with its peaks', () => {
    const line = dots(html('systems/house-dc.html'));
    expect(line.length).toBeGreaterThan(100);
    expect(line.length).toBeLessThanOrEqual(600);
    expect(line.every(([x], at) => at === 0 || x >= (line[at - 1]?.[0] ?? 0))).toBe(true);
    const ys = line.map(([, y]) => y);
    const [top, bottom] = [Math.min(...ys), Math.max(...ys)];
    expect(top).toBeGreaterThanOrEqual(BOX.top);
    expect(bottom).toBeLessThanOrEqual(BOX.bottom);
    // The highest and the lowest value are 12 % of their distance off the frame.
    const [high, low] = [state.highest?.value ?? 0, state.lowest?.value ?? 0];
    const height = (BOX.bottom - BOX.top) / ((high - low) * 1.24);
    expect(top).toBeCloseTo(BOX.top + 0.12 * (high - low) * height, 0);
    expect(bottom).toBeCloseTo(BOX.bottom - 0.12 * (high - low) * height, 0);
  });

  it('is told in words, with its extremes and when they were', () => {
    const page = html('systems/house-dc.html');
    expect(page).toContain('Lowest 10.70 V on 14 Feb 2026, 11:20');
    expect(page).toMatch(
      /aria-label="Bank, by the logger, 10656 logged readings from 1 Nov 2025 to 29 Mar 2026: [^"]+"/,
    );
    expect(page).toContain('href="../series/house-dc.bank-voltage.html"');
  });

  it('has its days in tables of a hundred, newest first', () => {
    const days = (page: string) =>
      [...page.matchAll(/<time datetime="([\d-]+)"/g)].map(([, date]) => date ?? '');
    const first = html('series/house-dc.bank-voltage.html');
    const second = html('series/house-dc.bank-voltage-2.html');
    const rows = [first, second].map((page) =>
      days(page.slice(page.indexOf('<tbody'))).filter((date) => date !== ''),
    );
    expect(rows[0]).toHaveLength(100);
    expect(rows.flat()).toEqual(state.days.map(({ date }) => date).reverse());
    expect(first).toContain('href="../series/house-dc.bank-voltage-2.html"');
    expect(second).toContain('aria-current="page"');
    expect(pages.has('series/house-dc.bank-voltage-3.html')).toBe(false);
  });

  it('stands for its page: another file, another key; the same file, the same key', async () => {
    const book = await loadBook(DEMO);
    const series = new Map(book.series);
    const one = series.get('house-dc.bank-voltage');
    if (one === undefined) throw new Error('lost');
    series.set('house-dc.bank-voltage', {
      ...one,
      hash: 'another',
      values: one.values.map((value) => value + 0.1),
    });
    const changed = new Map(pagesOf({ ...book, series }).map((page) => [page.path, page.key]));
    const differ = [...pages.values()]
      .filter(({ path, key }) => changed.get(path) !== key)
      .map(({ path }) => path);
    // What a search reads, what is downloaded and the pack are made anew with anything in the book.
    expect(differ.filter((path) => !/^(?:data|open|pack)\//.test(path)).sort()).toEqual([
      'series/house-dc.bank-voltage-2.html',
      'series/house-dc.bank-voltage.html',
      'systems/house-dc.html',
    ]);
  });
});
