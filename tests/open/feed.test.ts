import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, test } from 'vitest';
import { diaryFeed, type FeedPlace, feedEntries } from '../../src/open/feed.js';
import { firstWords } from '../../src/open/first-words.js';
import { entry, reckoned, system } from '../reckon/book.js';
import { demo } from './demo.js';
import { HOSTILE } from './hostile-texts.js';

/**
 * Feeds against the RELAX NG schema of RFC 4287, appendix B, by Jing, which comes with the Nu Html Checker; and
 * the rules in the words of the RFC that the schema does not hold. Jing needs Java; without one the test says so.
 */

const hasJava = spawnSync('java', ['-version']).status === 0;
if (!hasJava) console.warn('tests/open/feed.test.ts leaves out the schema: there is no Java to run Jing.');

const SCHEMA = join(import.meta.dirname, '../published/data/atom.rnc');
const RELATIVE: FeedPlace = { self: null, site: '../index.html', entry: (id) => `../entries/${id}.html` };
const ABSOLUTE: FeedPlace = {
  self: 'https://example.org/marram/open/diary.atom',
  site: 'https://example.org/marram/index.html',
  entry: (id) => `https://example.org/marram/entries/${id}.html`,
};

/** What Jing has to say of some feeds; nothing where they are all in order. */
function jing(feeds: readonly string[]): string {
  const folder = mkdtempSync(join(tmpdir(), 'ribband-feed-'));
  try {
    const files = feeds.map((feed, at) => {
      const file = join(folder, `${at}.atom`);
      writeFileSync(file, feed);
      return file;
    });
    const jar = String(createRequire(import.meta.url)('vnu-jar'));
    const driver = 'nu.validator.vendor.thaiopensource.relaxng.util.Driver';
    const ran = spawnSync('java', ['-cp', jar, driver, '-i', '-c', SCHEMA, ...files], { encoding: 'utf8' });
    return ran.status === 0 ? '' : ran.stdout + ran.stderr;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** A book whose only entry has a title and words of its own. */
async function withTitle(title: string) {
  const file = entry('2029-01-10', '');
  const [path = '', text = ''] = Object.entries(file)[0] ?? [];
  const body = text.replace('title: work', `title: ${JSON.stringify(title)}`);
  return reckoned('2029-02-01', system('s', ''), { [path]: `${body}${title}\n` });
}

test.runIf(hasJava)('the schema of RFC 4287 finds no fault', async () => {
  const reckoning = await demo();
  const hostile = await Promise.all(HOSTILE.map((text) => withTitle(text).catch(() => null)));
  const feeds = hostile.flatMap((made) => (made === null ? [] : [diaryFeed(made, RELATIVE)]));
  expect(feeds.length).toBeGreaterThan(15);
  expect(jing([diaryFeed(reckoning, RELATIVE), diaryFeed(reckoning, ABSOLUTE), ...feeds])).toBe('');
  expect(jing([diaryFeed(reckoning, RELATIVE).replace('<updated>', '<updates>')])).not.toBe('');
});

describe('the feed of the demo book', () => {
  it('keeps the rules that no schema holds', async () => {
    const reckoning = await demo();
    const feed = diaryFeed(reckoning, ABSOLUTE);
    const ids = [...feed.matchAll(/<id>([^<]*)<\/id>/g)].map(([, id]) => id ?? '');
    const entries = feed.split('<entry>').slice(1);
    expect(entries.length).toBe(feedEntries(reckoning).length);
    expect(entries.length).toBe(50);
    // 4.2.6: an id is an absolute IRI and never stands for something else.
    expect(new Set(ids).size).toBe(entries.length + 1);
    for (const id of ids)
      expect(id).toMatch(/^urn:uuid:[0-9a-f]{8}-[0-9a-f]{4}-5[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
    // 4.1.1: an author for every entry that has none; 4.1.2: what has no content has a way to it, and only one.
    expect(feed.slice(0, feed.indexOf('<entry>'))).toContain('<author>');
    for (const one of entries) expect(one.match(/<link rel="alternate"/g)?.length).toBe(1);
    expect(feed).toContain(`<link rel="self" type="application/atom+xml" href="${ABSOLUTE.self}"/>`);
    expect(diaryFeed(reckoning, RELATIVE)).not.toContain('rel="self"');
  });

  it('has the same ids wherever the site lies, and later', async () => {
    const idsOf = (feed: string) => new Set([...feed.matchAll(/<id>([^<]*)<\/id>/g)].map(([, id]) => id));
    const here = idsOf(diaryFeed(await demo(), RELATIVE));
    expect(idsOf(diaryFeed(await demo(), ABSOLUTE))).toEqual(here);
    const earlier = idsOf(diaryFeed(await demo('2026-10-01'), RELATIVE));
    expect([...earlier].filter((id) => here.has(id)).length).toBeGreaterThan(20);
  });

  it('names nobody', async () => {
    const reckoning = await demo();
    const head = diaryFeed(reckoning, RELATIVE).split('<entry>')[0] ?? '';
    for (const { name } of reckoning.book.people.values()) expect(head).not.toContain(name);
  });
});

describe('the first words of a text', () => {
  it.each([
    ['# Head\n\nFirst *lines* of\nthe **text**.\n\nSecond.', 'First lines of the text.'],
    ['- a\n- b\n\n| a | b |\n| - | - |\n\nAfter [a list](x.md).', 'After a list.'],
    ['It gave :reading[318 ± 6 Ah]{point="a.b"}, `so` far.', 'It gave 318 ± 6 Ah, so far.'],
    ['![a photo](x.jpg) of it', 'a photo of it'],
    ['A snake_case_name and 2 * 3 * 4', 'A snake_case_name and 2 * 3 * 4'],
    ['12.\\*', '12.*'],
  ])('%j', (markdown, words) => {
    expect(firstWords(markdown)).toBe(words);
  });

  it('are none where there is no paragraph', () => {
    expect(firstWords('')).toBeNull();
    expect(firstWords('# Only a head\n\n---\n')).toBeNull();
  });
});
