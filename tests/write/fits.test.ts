import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { reckon } from '../../src/reckon/reckon.js';
import { type FitMemory, trendOf } from '../../src/reckon/trend.js';
import { openCache } from '../../src/write/cache.js';
import { fitMemory } from '../../src/write/fits.js';
import { DEMO, loadBook } from '../site/demo.js';

test('a trend of which the fit was kept is the very trend', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'fits-'));
  const { timelines } = reckon(await loadBook(DEMO), '2026-11-25');
  const first = fitMemory(openCache(folder, '1'));
  const plain = [...timelines.values()].map((timeline) => trendOf(timeline, '2026-11-25'));
  expect([...timelines.values()].map((timeline) => trendOf(timeline, '2026-11-25', first))).toEqual(plain);
  first.store();

  const second = fitMemory(openCache(folder, '1'));
  let made = 0;
  const counted: FitMemory = {
    recall: second.recall,
    keep: () => {
      made += 1;
    },
  };
  expect([...timelines.values()].map((timeline) => trendOf(timeline, '2026-11-25', counted))).toEqual(plain);
  expect(made).toBe(0);
  // On another day a trend reaches further, and one with another reading is another.
  for (const timeline of timelines.values()) trendOf(timeline, '2026-11-26', counted);
  expect(made).toBe(plain.filter(({ status }) => status !== 'too-few').length);
  rmSync(folder, { recursive: true, force: true });
});

test('a number that JSON does not know keeps a fit from being kept', () => {
  const memory = fitMemory(openCache(mkdtempSync(join(tmpdir(), 'fits-')), '1'));
  const fit = { status: 'no-trend', direction: null, rate: null, test: null, crossings: [] } as const;
  const row = { date: '2026-01-01', trend: 1, fit: 1, low: 0, high: 2, lineLow: 0.5, lineHigh: 1.5 };
  memory.keep('a.b', 'x', { ...fit, band: [row] });
  expect(memory.recall('a.b', 'x')).toBeDefined();
  for (const odd of [Number.NaN, Number.POSITIVE_INFINITY, -0]) {
    memory.keep('a.c', 'x', { ...fit, band: [{ ...row, low: odd }] });
    expect(memory.recall('a.c', 'x')).toBeUndefined();
  }
});
