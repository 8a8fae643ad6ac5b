import { beforeAll, describe, expect, it } from 'vitest';
import { atOnce, encode, NO_QUERY, namesOf, openTable, planOf, readHead, run } from '../../src/find/index.js';
import type { Reckoning } from '../../src/reckon/model.js';
import { reckon } from '../../src/reckon/reckon.js';
import { type BookRecord, recordsOf, stretchesOf } from '../../src/reckon/records.js';
import { reckoned } from '../reckon/book.js';
import { DEMO, loadBook, pagesOf } from '../site/demo.js';

/** The records of the demo book: all of them, each where it says it is. */

/** How many records the stretches of a book say that they have. */
const recordCount = (of: Reckoning) => stretchesOf(of).reduce((sum, { count }) => sum + count, 0);

let reckoning: Reckoning;
let records: readonly BookRecord[];
let html: ReadonlyMap<string, string>;

beforeAll(async () => {
  const book = await loadBook(DEMO);
  reckoning = reckon(book, '2026-12-31');
  records = recordsOf(reckoning);
  const pages = pagesOf(book).filter(({ path }) => path.startsWith('entries/'));
  html = new Map(pages.map(({ path, render }) => [path, render()]));
});

describe('records', () => {
  it('are as many as are counted', () => {
    expect(records.length).toBe(recordCount(reckoning));
    expect(records.length).toBeGreaterThan(1000);
  });

  it('are all readings, statements, parts, items, decisions and tests of the book', () => {
    const { entries } = reckoning.book;
    const count = (sort: BookRecord['sort']) => records.filter((record) => record.sort === sort).length;
    const sum = (of: (entry: (typeof entries)[number]) => readonly unknown[]) =>
      entries.reduce((total, entry) => total + of(entry).length, 0);
    expect(count('part')).toBe(sum(({ parts }) => parts));
    expect(count('item')).toBe(sum(({ opens }) => opens));
    expect(count('decision')).toBe(sum(({ decisions }) => decisions));
    expect(count('test')).toBe(sum(({ tests }) => tests));
    expect(count('statement')).toBe(sum(({ statements }) => statements) + reckoning.specs.size);
    const readings = records.filter(({ sort }) => sort === 'reading');
    const known = new Set(readings.map(({ place }) => JSON.stringify(place)));
    for (const { place } of reckoning.readings) expect(known.has(JSON.stringify(place))).toBe(true);
  });

  it('stand newest first, and what the systems state last', () => {
    const isStated = ({ sort, entry }: BookRecord) => sort === 'statement' && entry === null;
    const first = records.findIndex(isStated);
    const dates = records.slice(0, first).map(({ date }) => date ?? '');
    expect(dates).toEqual([...dates].sort().reverse());
    expect(records.slice(first).every(isStated)).toBe(true);
  });

  it('have their place in the page of their entry', () => {
    const lost = records.filter(
      ({ entry, anchor }) =>
        anchor !== null && html.get(`entries/${entry}.html`)?.includes(` id="${anchor}"`) !== true,
    );
    expect(lost.map(({ entry, anchor }) => `${entry}#${anchor}`)).toEqual([]);
  });

  it('stand at the place that they name', () => {
    const wrong = records.filter(({ sort, entry, anchor, title }) => {
      if (entry === null || anchor === null || (sort !== 'item' && sort !== 'decision')) return false;
      const page = html.get(`entries/${entry}.html`) ?? '';
      const at = page.slice(page.indexOf(` id="${anchor}"`)).slice(0, 2000);
      const words = at.replaceAll(/&#?\w+;/g, "'").replaceAll('&', '');
      return !words.includes(title.replaceAll(/["'&<>]/g, "'").slice(0, 30));
    });
    expect(wrong.map(({ entry, title }) => `${entry}: ${title}`)).toEqual([]);
  });

  it('carry the outcome of a test to the readings that were taken in it', () => {
    const taken = records.filter(
      ({ sort, anchor }) => sort === 'reading' && anchor?.startsWith('test-') === true,
    );
    expect(taken.length).toBeGreaterThan(20);
    expect(taken.filter(({ outcome }) => outcome === null).length).toBeLessThan(taken.length / 4);
  });

  it('can all be found by what they are called', () => {
    const { head: sent, parts } = encode([{ name: 'all', records }], namesOf(reckoning));
    const head = readHead(sent);
    const table = openTable(head);
    for (const part of parts) atOnce(table.add(part));
    expect(table.rows).toBe(records.length);
    for (const [row, { title, system }] of records.entries()) {
      if (
        row % 7 !== 0 ||
        /\d|[<>=]|\b(?:in|since|until|over|under|between|from|to|on|at|up|more|less)\b/i.test(title)
      )
        continue;
      const found = atOnce(run(table, planOf({ ...NO_QUERY, words: title, system }, head)));
      expect(found.rows.includes(row), title).toBe(true);
    }
  });
});

it('of a logger are the lowest and the highest of each day', async () => {
  const files = {
    'systems/s.md':
      '---\nsystem: s\ntitle: S\npoints:\n  damp: { quantity: relative-humidity, unit: "%RH", series: series/damp.csv }\n---\n',
    'series/damp.csv':
      'time,value\n2026-01-01T00:00,60\n2026-01-01T12:00,72.5\n2026-01-02T00:00,61\n2026-01-02T09:30,61\n',
  };
  const read = await reckoned('2026-02-01', files);
  const found = recordsOf(read);
  expect(found.length).toBe(recordCount(read));
  expect(found.map(({ date, quantity, note }) => [date, quantity?.value, note])).toEqual([
    ['2026-01-02', 61, 'the same in all of 2 on that day'],
    ['2026-01-01', 72.5, 'the highest of 2 on that day'],
    ['2026-01-01', 60, 'the lowest of 2 on that day'],
  ]);
  const { head: sent, parts } = encode([{ name: 'all', records: found }], namesOf(read));
  const head = readHead(sent);
  const table = openTable(head);
  for (const part of parts) atOnce(table.add(part));
  expect([...atOnce(run(table, planOf({ ...NO_QUERY, words: 'damp above 70 %RH' }, head))).rows]).toEqual([
    1,
  ]);
});
