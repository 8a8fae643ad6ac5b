import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { brokenLink, chainOf } from '../../src/seal/chain.js';
import { differencesOf, isSame, type Listed } from '../../src/seal/compare.js';
import { delaysOf } from '../../src/seal/delays.js';
import { sha256 } from '../../src/seal/text.js';

const entry = (date: string, name: string, words = name) => ({
  date,
  path: `entries/${name}.md`,
  sha256: sha256(words),
});

const BEFORE: Listed = {
  files: ['book.yaml', 'photos/a.jpg', 'systems/x.md'].map((path) => ({ path, sha256: sha256(path) })),
  entries: [entry('2026-01-01', 'one'), entry('2026-02-01', 'two'), entry('2026-03-01', 'three')],
};

describe('two states', () => {
  it('that are the same differ in nothing', () => {
    expect(isSame(differencesOf(BEFORE, BEFORE))).toBe(true);
  });

  it('are told apart file by file', () => {
    const [one, two, three] = BEFORE.entries;
    if (one === undefined || two === undefined || three === undefined) throw new Error('no entries');
    const found = differencesOf(BEFORE, {
      files: [
        { path: 'book.yaml', sha256: sha256('other words') },
        { path: 'photos/b.jpg', sha256: sha256('photos/a.jpg') },
      ],
      entries: [
        one,
        entry('2026-02-10', 'slipped-in'),
        three,
        { ...two, date: '2026-03-05', sha256: sha256('put later') },
        entry('2026-04-01', 'written-since'),
      ],
    });
    expect(found).toEqual({
      changed: ['book.yaml', 'entries/two.md'],
      removed: ['systems/x.md'],
      added: ['entries/slipped-in.md', 'entries/written-since.md'],
      renamed: [{ from: 'photos/a.jpg', to: 'photos/b.jpg' }],
      redated: [{ path: 'entries/two.md', from: '2026-02-01', to: '2026-03-05' }],
      between: [{ path: 'entries/slipped-in.md', date: '2026-02-10' }],
    });
    expect(isSame(found)).toBe(false);
  });

  it('differ exactly where their files do: every path is told once, and none that is the same', () => {
    const state = fc
      .dictionary(fc.constantFrom('a', 'b', 'c', 'd', 'e', 'f'), fc.constantFrom('1', '2', '3'))
      .map((map) => ({ ...map }));
    fc.assert(
      fc.property(state, state, (old, now) => {
        const listed = (map: Record<string, string>): Listed => ({
          files: Object.entries(map).map(([path, words]) => ({ path, sha256: words })),
          entries: [],
        });
        const { changed, removed, added, renamed } = differencesOf(listed(old), listed(now));
        const told = [...changed, ...removed, ...added, ...renamed.flatMap(({ from, to }) => [from, to])];
        const differ = [...new Set([...Object.keys(old), ...Object.keys(now)])].filter(
          (path) => old[path] !== now[path],
        );
        expect(told.sort()).toEqual(differ.sort());
        for (const { from, to } of renamed) expect(old[from]).toBe(now[to]);
      }),
    );
  });
});

describe('the chain', () => {
  it('is broken at the first row that is not where it was, whatever is done to it', () => {
    const chain = chainOf(BEFORE.entries);
    expect(brokenLink(chain)).toBe(null);
    expect(brokenLink([...chain].reverse())).toBe(0);
    expect(brokenLink(chain.filter((_, at) => at !== 1))).toBe(1);
    expect(brokenLink(chain.map((row, at) => (at === 2 ? { ...row, sha256: sha256('x') } : row)))).toBe(2);
    expect(brokenLink(chain.map((row, at) => (at === 1 ? { ...row, path: 'entries/x.md' } : row)))).toBe(1);
    expect(brokenLink([...chain, ...chain.slice(2)])).toBe(3);
  });

  it('hangs on the order of dates alone, not on that in which files were found', () => {
    expect(chainOf([...BEFORE.entries].reverse())).toEqual(chainOf(BEFORE.entries));
  });

  it('can lose its last rows unseen: only the sum and the hash of the seal show that', () => {
    expect(brokenLink(chainOf(BEFORE.entries).slice(0, 2))).toBe(null);
  });
});

describe('the time from an entry to its first commit', () => {
  const days = new Map([
    ['entries/one.md', '2026-01-01'],
    ['entries/two.md', '2026-03-01'],
  ]);

  it('is told as median, worst and a list of those that took longer', () => {
    expect(delaysOf(BEFORE.entries, { days, isCutShort: false }, 14)).toEqual({
      known: 2,
      unknown: ['entries/three.md'],
      medianDays: 28,
      worstDays: 28,
      late: [{ path: 'entries/two.md', days: 28 }],
      early: [],
      isCutShort: false,
    });
    expect(delaysOf(BEFORE.entries, { days, isCutShort: false }, 28).late).toEqual([]);
  });

  it('is negative for what tells of a day after it was written', () => {
    const early = delaysOf([entry('2026-01-03', 'one')], { days, isCutShort: true }, 14);
    expect(early).toMatchObject({ early: [{ path: 'entries/one.md', days: -2 }], isCutShort: true });
  });

  it('is not known where nothing is committed', () => {
    const none = delaysOf(BEFORE.entries, { days: new Map(), isCutShort: false }, 14);
    expect([none.medianDays, none.worstDays, none.unknown.length]).toEqual([null, null, 3]);
  });
});
