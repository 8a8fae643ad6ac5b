import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { checkBook, NO_MEMORY } from '../../src/check/check.js';
import { readFolder } from '../../src/read/folder.js';
import { NO_CACHE, parseMemory } from '../../src/write/cache.js';

/** A book that is looked at again after every change is found to be what it is when looked at for the first time. */

const entry = (date: string, more: string) =>
  `---\ndate: ${date}\ntitle: Round ${date}\nsystems: [pump]\n${more}---\nText.\n`;
const system = (points: string, more = '') =>
  `---\nsystem: pump\ntitle: Pump\npoints:\n  ${points}\n${more}---\n`;
const book = (accuracy: string, person: string) =>
  `book: skiff\nsubject: { name: Skiff }\npeople:\n  ${person}: { name: somebody }\ninstruments:\n  clamp: { name: clamp meter, measures: { current: { accuracy: ${accuracy} } } }\n`;

/** Some states of each file; null is no file. */
const FILES: Readonly<Record<string, readonly (string | null)[]>> = {
  'book.yaml': [book('2 %', 'owner'), book('5 %', 'owner'), book('2 %', 'helper'), 'book: [', null],
  'systems/pump.md': [
    system('flow: { quantity: current, unit: A, at-most: 5 A }'),
    system('flow: { quantity: current, unit: A, at-most: 3 A }'),
    system('flow: { quantity: voltage, unit: V }'),
    system('rate: { quantity: current, unit: A }'),
    system(
      'flow: { quantity: current, unit: A }',
      'specs:\n  rated: { title: Rated, says: 4 A, basis: seller, point: flow }\n',
    ),
    '---\nsystem: pump\n',
    null,
  ],
  'entries/2026-01-10-a.md': [
    entry('2026-01-10', 'measurements:\n  - { point: pump.flow, value: 4 A, with: clamp, by: owner }\n'),
    entry('2026-01-10', 'measurements:\n  - { point: pump.flow, value: 4 A, with: clamp }\n'),
    entry('2026-01-10', 'opens:\n  - { item: seal, what: New seal }\n'),
    null,
  ],
  'entries/2026-02-10-b.md': [
    entry('2026-02-10', 'closes: [seal]\nparts:\n  - { part: seal-kit, move: ordered, what: Seal kit }\n'),
    entry('2026-02-10', 'measurements:\n  - { point: pump.flow, value: 4.4 A, with: clamp, by: helper }\n'),
    entry('2026-02-10', 'parts:\n  - { part: seal-kit, move: fitted }\n'),
    null,
  ],
  'entries/2026-03-10-c.md': [
    entry('2026-03-10', 'parts:\n  - { part: seal-kit, move: fitted }\ncloses: [seal]\n'),
    entry('2026-03-10', 'statements:\n  - { spec: pump.rated, says: 4.2 A, basis: maker }\n'),
    null,
  ],
};

const PATHS = Object.keys(FILES);

test('whatever changes, and in whatever order', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.tuple(fc.constantFrom(...PATHS), fc.nat(6)), { minLength: 1, maxLength: 12 }),
      async (changes) => {
        const root = mkdtempSync(join(tmpdir(), 'memory-'));
        const put = (path: string, text: string | null | undefined) => {
          rmSync(join(root, path), { force: true });
          mkdirSync(dirname(join(root, path)), { recursive: true });
          if (typeof text === 'string') writeFileSync(join(root, path), text);
        };
        for (const path of PATHS) put(path, FILES[path]?.[0]);
        const memory = parseMemory(NO_CACHE);
        await checkBook(readFolder(root), '2026-06-01', memory);
        for (const [path, at] of changes) {
          const states = FILES[path] ?? [];
          put(path, states[at % states.length]);
          const folder = readFolder(root);
          const again = await checkBook(folder, '2026-06-01', memory);
          expect(again).toEqual(await checkBook(folder, '2026-06-01', NO_MEMORY));
        }
        rmSync(root, { recursive: true, force: true });
      },
    ),
    { numRuns: 60 },
  );
});

test('an entry that nothing has happened to is the very same', async () => {
  const root = mkdtempSync(join(tmpdir(), 'memory-'));
  for (const [path, [text]] of Object.entries(FILES)) {
    mkdirSync(dirname(join(root, path)), { recursive: true });
    writeFileSync(join(root, path), text ?? '');
  }
  const memory = parseMemory(NO_CACHE);
  const before = (await checkBook(readFolder(root), '2026-06-01', memory)).book?.entries;
  writeFileSync(join(root, 'entries/2026-01-10-a.md'), `${FILES['entries/2026-01-10-a.md']?.[0]}More.\n`);
  const after = (await checkBook(readFolder(root), '2026-06-01', memory)).book?.entries;
  expect(after?.map((entry, at) => entry === before?.[at])).toEqual([false, true, true]);
  rmSync(root, { recursive: true, force: true });
});
