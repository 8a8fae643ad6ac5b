import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, it } from 'vitest';
import { isDay } from '../../src/check/build/values.js';
import { nearest, sameButForm } from '../../src/check/nearest.js';
import type { ParsedFile } from '../../src/check/parse.js';
import { spanOf } from '../../src/check/placing.js';
import { checkEntryDate, namedFiles, nameFor, slug } from '../../src/check/rules/dates.js';
import { findLoop } from '../../src/check/rules/loop.js';
import { checkPhotoPath, photoFromProse } from '../../src/check/rules/photos.js';

describe('findLoop', () => {
  const graph = fc.array(fc.tuple(fc.nat({ max: 7 }), fc.nat({ max: 7 })), { maxLength: 16 }).map((pairs) => {
    const edges = new Map<string, string[]>();
    for (let node = 0; node < 8; node += 1) edges.set(`n${node}`, []);
    for (const [from, to] of pairs) edges.get(`n${from}`)?.push(`n${to}`);
    return edges;
  });

  /** Every name from which another can be reached in one step or more: the slow way, by closure. */
  function closure(edges: ReadonlyMap<string, readonly string[]>): ReadonlyMap<string, ReadonlySet<string>> {
    const reach = new Map([...edges].map(([from, to]) => [from, new Set(to)]));
    for (const over of edges.keys())
      for (const [, to] of reach)
        if (to.has(over)) for (const further of reach.get(over) ?? []) to.add(further);
    return reach;
  }

  const loopsOf = (edges: ReadonlyMap<string, readonly string[]>) =>
    findLoop([...edges.keys()], (name) => edges.get(name) ?? []);

  it('finds circles that are there, each step of them, and each circle once', () => {
    fc.assert(
      fc.property(graph, (edges) => {
        const loops = loopsOf(edges);
        for (const loop of loops) {
          expect(loop.length).toBeGreaterThan(1);
          expect(loop.at(-1)).toBe(loop[0]);
          expect(new Set(loop.slice(1)).size).toBe(loop.length - 1);
          for (const [at, name] of loop.slice(0, -1).entries())
            expect(edges.get(name)).toContain(loop[at + 1]);
        }
      }),
      { numRuns: 500 },
    );
  });

  it('finds at least one in every knot of names that lead to each other, and none elsewhere', () => {
    fc.assert(
      fc.property(graph, (edges) => {
        const reach = closure(edges);
        const found = new Set(loopsOf(edges).flat());
        for (const name of edges.keys()) {
          const knot = [...edges.keys()].filter(
            (other) => reach.get(name)?.has(other) && reach.get(other)?.has(name),
          );
          if (reach.get(name)?.has(name)) expect(knot.some((other) => found.has(other))).toBe(true);
          else expect(found.has(name)).toBe(false);
        }
      }),
      { numRuns: 500 },
    );
  });

  it('is no more trouble with a chain, or a ring, of twenty thousand', () => {
    const names = Array.from({ length: 20_000 }, (_, n) => `n${n}`);
    const chain = (name: string) => (name === 'n19999' ? [] : [`n${Number(name.slice(1)) + 1}`]);
    expect(findLoop(names, chain)).toEqual([]);
    const ring = findLoop(names, (name) => [`n${(Number(name.slice(1)) + 1) % 20_000}`]);
    expect(ring).toHaveLength(1);
    expect(ring[0]).toHaveLength(20_001);
  });

  it('follows names that were not asked about', () => {
    expect(findLoop(['a'], (name) => ({ a: ['b'], b: ['c'], c: ['b'] })[name] ?? [])).toEqual([
      ['b', 'c', 'b'],
    ]);
  });
});

describe('nearest', () => {
  const name = fc.stringMatching(/^[a-z][a-z0-9]{0,7}(?:-[a-z0-9]{1,6}){0,2}$/);

  /** Edit distance by its definition (Levenshtein). */
  function distance(a: string, b: string): number {
    let row = Array.from({ length: b.length + 1 }, (_, at) => at);
    for (let i = 1; i <= a.length; i += 1) {
      const next = [i];
      for (let j = 1; j <= b.length; j += 1)
        next.push(
          Math.min(
            (row[j] ?? 0) + 1,
            (next[j - 1] ?? 0) + 1,
            (row[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1),
          ),
        );
      row = next;
    }
    return row[b.length] ?? 0;
  }
  const letters = (text: string) => [...text].sort().join('');

  it('is the name itself where it is known, in whatever case and with whatever dash', () => {
    fc.assert(
      fc.property(name, fc.array(name), (one, others) => {
        const written = one.toUpperCase().replaceAll('-', '_');
        expect(nearest(written, [one, ...others])).toBe(one);
        expect(sameButForm(written, one)).toBe(true);
      }),
    );
  });

  it('is one of those with least to mend, and none where that is more than a third', () => {
    fc.assert(
      fc.property(name, fc.uniqueArray(name, { minLength: 1, maxLength: 8 }), (written, known) => {
        const away = (other: string) =>
          letters(other) === letters(written)
            ? Math.min(1, distance(written, other))
            : distance(written, other);
        const least = Math.min(...known.map(away));
        const near = nearest(written, known);
        if (near !== null) {
          expect(away(near)).toBe(least);
          expect(least).toBeLessThanOrEqual(
            Math.max(1, Math.floor(Math.max(written.length, near.length) / 3)),
          );
        } else {
          const best = known.filter((other) => away(other) === least);
          expect(
            best.some((other) => least > Math.max(1, Math.floor(Math.max(written.length, other.length) / 3))),
          ).toBe(true);
        }
      }),
      { numRuns: 500 },
    );
  });

  it.each([
    ['capcity', ['capacity', 'rest-voltage'], 'capacity'],
    ['hosue-dc', ['house-dc', 'engine'], 'house-dc'],
    ['bnak', ['bank', 'band'], 'bank'],
    ['rig', ['rag', 'mast'], 'rag'],
    ['weather', ['hours', 'date', 'title'], null],
    ['x', [], null],
    ['x'.repeat(5_000), ['x', 'y'.repeat(5_000)], null],
  ])('of %s among %j is %j', (written, known, due) => {
    expect(nearest(written, known)).toBe(due);
  });
});

describe('spanOf', () => {
  const text = fc
    .array(fc.constantFrom('a', 'ä', '𝄞', '\n', '\r\n', '\t', ' ', 'é', '±'), { maxLength: 30 })
    .map((letters) => letters.join(''));

  it('counts lines and columns from 1, as splitting the text would', () => {
    fc.assert(
      fc.property(text, fc.nat({ max: 40 }), fc.nat({ max: 40 }), (whole, offset, length) => {
        const span = spanOf(whole, offset, length);
        const before = whole.slice(0, offset).split('\n');
        const until = whole.slice(0, offset + length).split('\n');
        expect(span).toEqual({
          offset: Math.min(offset, whole.length),
          length: whole.slice(offset, offset + length).length,
          line: before.length,
          column: (before.at(-1)?.length ?? 0) + 1,
          endLine: until.length,
          endColumn: (until.at(-1)?.length ?? 0) + 1,
        });
      }),
      { numRuns: 1_000 },
    );
  });

  it('stays inside the text whatever it is asked for', () => {
    expect(spanOf('ab', -3, 1)).toMatchObject({ offset: 0, line: 1, column: 1 });
    expect(spanOf('ab', 9, 9)).toMatchObject({ offset: 2, length: 0, line: 1, column: 3 });
    expect(spanOf('', 0, 0)).toMatchObject({ line: 1, column: 1, endLine: 1, endColumn: 1 });
  });
});

describe('days', () => {
  function asTemporal(date: string): boolean {
    try {
      Temporal.PlainDate.from(date, { overflow: 'reject' });
      return true;
    } catch {
      return false;
    }
  }
  const written = (year: number, month: number, day: number) =>
    `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`;

  it('are those of the calendar, by Temporal', () => {
    for (const year of [1, 4, 100, 400, 1582, 1899, 1900, 1999, 2000, 2024, 2025, 2026, 2096, 2100, 9999])
      for (let month = 0; month <= 13; month += 1)
        for (let day = 0; day <= 32; day += 1) {
          const date = written(year, month, day);
          expect(isDay(date), date).toBe(asTemporal(date));
        }
  });

  it('are those of the calendar in any year', () => {
    const year = fc.integer({ min: 1, max: 9_999 });
    fc.assert(
      fc.property(year, fc.nat({ max: 99 }), fc.nat({ max: 99 }), (...parts) => {
        expect(isDay(written(...parts))).toBe(asTemporal(written(...parts)));
      }),
    );
  });
});

describe('the names of entries', () => {
  function problemsOf(path: string, date: string, title: string): readonly string[] {
    const file = { source: { path, role: 'entry', text: '', hash: '' }, data: null, body: '' } as ParsedFile;
    return checkEntryDate(file, date, title, '2099-12-31', namedFiles([])).problems.map(({ code }) => code);
  }
  const date = fc
    .date({ min: new Date('1950-01-01'), max: new Date('2090-01-01'), noInvalidDate: true })
    .map((day) => day.toISOString().slice(0, 10));

  it('that are proposed are names that are taken, whatever the title', () => {
    fc.assert(
      fc.property(date, fc.string({ unit: 'grapheme', maxLength: 90 }), (day, title) => {
        expect(problemsOf(nameFor(day, title), day, title)).toEqual([]);
        expect(slug(title)).toMatch(/^[a-z0-9]+(?:-[a-z0-9]+)*$/);
        expect(slug(title).length).toBeLessThanOrEqual(60);
        expect(slug(slug(title))).toBe(slug(title));
      }),
      { numRuns: 500 },
    );
  });

  it.each([
    ['Capacity test on the house bank', 'capacity-test-on-the-house-bank'],
    ['Ça va? Größe & MAẞ', 'ca-va-grosse-mass'],
    ['  -- 3/8" bolts!  ', '3-8-bolts'],
    ['船', 'entry'],
    ['', 'entry'],
  ])('%j becomes %s', (title, due) => {
    expect(slug(title)).toBe(due);
  });

  it.each([
    ['entries/2026/2026-03-01-look.md', []],
    ['entries/2026-03-01-look.md', []],
    ['entries/2026/2026-03-01-船-größe.md', []],
    ['entries/2026/2026-03-01.md', ['file-name']],
    ['entries/2026/2026-03-01-.md', ['file-name']],
    ['entries/2026/2026-03-01-a--b.md', ['file-name']],
    ['entries/2026/2026-03-01-a b.md', ['file-name']],
    ['entries/2026/03/2026-03-01-look.md', ['file-name']],
    ['entries/2025/2026-03-01-look.md', ['file-name']],
    ['entries/2026/2026-03-02-look.md', ['date-not-in-name']],
    ['entries/2026/look-2026-03-01.md', ['file-name']],
  ])('%s: %j', (path, due) => {
    expect(problemsOf(path, '2026-03-01', 'Look')).toEqual(due);
  });
});

describe('paths of pictures', () => {
  it('never lead out of the folder of pictures where they are taken', () => {
    const step = fc.constantFrom(
      'photos',
      '..',
      '.',
      '',
      'a',
      'b.jpg',
      'a.png',
      '~',
      'C:',
      '%2e%2e',
      '\\',
      '\0',
      'ä.webp',
    );
    fc.assert(
      fc.property(fc.array(step, { maxLength: 5 }), fc.constantFrom('/', '\\', '//'), (steps, slash) => {
        const path = steps.join(slash);
        const there = new Map([path, photoFromProse(path)].map((one) => [one, true] as const));
        for (const file of [path, photoFromProse(path)]) {
          if (checkPhotoPath(file, there) !== null) continue;
          const resolved = new URL(file.split('/').map(encodeURIComponent).join('/'), 'file:///book/')
            .pathname;
          expect(resolved.startsWith('/book/photos/'), file).toBe(true);
          expect(file).not.toMatch(/\\|\0|:/);
        }
      }),
      { numRuns: 2_000 },
    );
  });
});
