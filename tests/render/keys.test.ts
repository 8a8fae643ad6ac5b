import { beforeAll, describe, expect, test } from 'vitest';
import type { CheckedBook, Entry, System } from '../../src/check/model.js';
import type { Page } from '../../src/render/page.js';
import type { PhotoIndex } from '../../src/render/photo-index.js';
import { DEMO, loadBook, type PageOptions, pagesOf } from '../site/demo.js';

/**
 * A page is kept from one build to the next by its key. So whatever is changed in a book, a page whose bytes
 * come out different must come out with another key; and where nothing is changed every key stays.
 */

let book: CheckedBook;
let before: Map<string, { key: string; html: string }>;

beforeAll(async () => {
  book = await loadBook(DEMO);
  before = rendered(book);
});

function rendered(of: CheckedBook, options?: PageOptions): Map<string, { key: string; html: string }> {
  return new Map(pagesOf(of, options).map(({ path, key, render }) => [path, { key, html: render() }]));
}

/** A change to one entry changes its file and so its hash. */
function withEntry(index: number, change: (entry: Entry) => Partial<Entry>): CheckedBook {
  const entries = book.entries.map((entry, at) =>
    at === index ? { ...entry, ...change(entry), hash: `${entry.hash}-changed` } : entry,
  );
  return { ...book, entries };
}

function entryWith(list: 'parts' | 'opens' | 'decisions' | 'readings' | 'statements'): number {
  return book.entries.findIndex((entry) => entry[list].length > 0);
}

function withSystem(id: string, change: (system: System) => Partial<System>): CheckedBook {
  const system = book.systems.get(id) as System;
  return { ...book, systems: new Map(book.systems).set(id, { ...system, ...change(system) }) };
}

/** All values of a map changed alike. */
function each<T>(map: ReadonlyMap<string, T>, change: (value: T) => T): Map<string, T> {
  return new Map([...map].map(([key, value]) => [key, change(value)]));
}

/** A third party says otherwise in the last entry: the page of the early one shows how its spec stands now. */
function contradictedLate(): CheckedBook {
  // One with nothing else on it that could change its key for it.
  const early = book.entries.find(
    ({ statements, decisions, opens, closes }) =>
      statements.length > 0 && decisions.length + opens.length + closes.length === 0,
  );
  const stated = early?.statements[0];
  if (stated === undefined) throw new Error('the demo has no entry that only states');
  return withEntry(book.entries.length - 1, ({ id, date, statements }) => {
    const otherwise = { type: 'text', text: 'something else' } as const;
    return {
      statements: [...statements, { ...stated, entry: id, date, says: otherwise, basis: 'witnessed' }],
    };
  });
}

const photos: PhotoIndex = new Map([
  ['photos/2024/sellers-list.jpg', { sizes: [{ path: 'photos/x-800.jpg', width: 800, height: 600 }] }],
]);

const CHANGES: Readonly<Record<string, () => readonly [CheckedBook, PageOptions?]>> = {
  'the subject is renamed': () => [{ ...book, subject: { ...book.subject, name: 'Dunlin' } }],
  'a particular of the subject': () => [
    {
      ...book,
      subject: { ...book.subject, particulars: [{ label: 'beam', value: { type: 'text', text: 'x' } }] },
    },
  ],
  'people are renamed': () => [
    { ...book, people: each(book.people, (person) => ({ ...person, name: 'x' })) },
  ],
  'instruments are renamed': () => [
    { ...book, instruments: each(book.instruments, (instrument) => ({ ...instrument, name: 'x' })) },
  ],
  'values are shown in US units': () => [{ ...book, display: { system: 'us' } }],
  'a system is renamed': () => [withSystem('hull', () => ({ title: 'Hull and keel' }))],
  'a system gets another group': () => [withSystem('hull', () => ({ group: 'x' }))],
  'the prose of a system': () => [withSystem('hull', () => ({ body: 'Other prose.' }))],
  'points are renamed': () => [
    withSystem('house-dc', ({ points }) => ({ points: each(points, (point) => ({ ...point, title: 'x' })) })),
  ],
  'limits are taken off': () => [
    withSystem('hull', ({ points }) => ({
      points: each(points, (point) => ({ ...point, atMost: null, atLeast: null })),
    })),
  ],
  'specs need a witness': () => [
    withSystem('engine', ({ specs }) => ({
      specs: each(specs, (spec) => ({ ...spec, needs: 'witnessed' })),
    })),
  ],
  'specs are renamed': () => [
    withSystem('engine', ({ specs }) => ({ specs: each(specs, (spec) => ({ ...spec, title: 'x' })) })),
  ],
  'tests are renamed': () => [
    withSystem('engine', ({ tests }) => ({
      tests: each(tests, (procedure) => ({ ...procedure, title: 'x' })),
    })),
  ],
  'upkeep is worded anew': () => [
    withSystem('engine', ({ upkeep }) => ({ upkeep: each(upkeep, (work) => ({ ...work, what: 'x' })) })),
  ],
  'derived values are renamed': () => [
    withSystem('house-dc', ({ derived }) => ({
      derived: each(derived, (value) => ({ ...value, title: 'x' })),
    })),
  ],
  'meters are renamed': () => [
    withSystem('engine', ({ meters }) => ({ meters: each(meters, (meter) => ({ ...meter, title: 'x' })) })),
  ],
  'an entry is renamed': () => [withEntry(3, () => ({ title: 'x' }))],
  'the prose of an entry': () => [withEntry(3, () => ({ body: 'Other prose.' }))],
  'readings of an entry': () => [
    withEntry(entryWith('readings'), ({ readings }) => ({
      readings: readings.map((one) => ({ ...one, note: 'x' })),
    })),
  ],
  'readings of an entry in another order': () => [
    withEntry(entryWith('readings'), ({ readings }) => ({ readings: [...readings].reverse() })),
  ],
  'statements of an entry': () => [
    withEntry(entryWith('statements'), ({ statements }) => ({
      statements: statements.map((one) => ({ ...one, basis: 'told' })),
    })),
  ],
  'parts of an entry are worded anew': () => [
    withEntry(entryWith('parts'), ({ parts }) => ({ parts: parts.map((part) => ({ ...part, what: 'x' })) })),
  ],
  'items of an entry are worded anew': () => [
    withEntry(entryWith('opens'), ({ opens }) => ({
      opens: opens.map((item) => ({ ...item, what: 'x', by: null })),
    })),
  ],
  'a decision is asked anew': () => [
    withEntry(entryWith('decisions'), ({ decisions }) => ({
      decisions: decisions.map((one) => ({ ...one, question: 'x?' })),
    })),
  ],
  'the last entries are not there yet': () => [{ ...book, entries: book.entries.slice(0, -5) }],
  'the last entry contradicts what an early one states': () => [contradictedLate()],
  'an entry in the middle is taken out': () => [
    { ...book, entries: book.entries.filter((_, at) => at !== 40) },
  ],
  'an earlier day': () => [book, { asOf: book.entries[40]?.date as string }],
  'a later day': () => [book, { asOf: '2027-12-31' }],
  'a photo is published': () => [book, { photos }],
};

describe('keys of pages', () => {
  test('stay where nothing has changed', () => {
    for (const [path, { key, html }] of rendered(book)) {
      expect(key, path).toBe(before.get(path)?.key);
      expect(html, path).toBe(before.get(path)?.html);
    }
  });

  test('are all different', () => {
    expect(new Set([...before.values()].map(({ key }) => key)).size).toBe(before.size);
  });

  test.each(Object.keys(CHANGES))('%s: what looks different has another key', (name) => {
    const [changed, options] = (CHANGES[name] as (typeof CHANGES)[string])();
    const pages = pagesOf(changed, options);
    const differs = ({ path, render }: Page) => before.get(path)?.html !== render();
    const [kept, others] = [[] as Page[], [] as Page[]];
    for (const page of pages) {
      const old = before.get(page.path);
      if (old !== undefined) (old.key === page.key ? kept : others).push(page);
    }
    expect(kept.filter(differs).map(({ path }) => path)).toEqual([]);
    // A change that nothing shows would make this test worth nothing.
    expect(others.some(differs)).toBe(true);
  });
});
