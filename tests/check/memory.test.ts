import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { NO_MEMORY } from '../../src/check/check.js';
import { lastingMemory } from '../../src/cli/lasting-memory.js';
import { checkAndReckon } from '../../src/cli/reckon-book.js';
import { readFolder } from '../../src/read/folder.js';
import type { Reckoning } from '../../src/reckon/model.js';
import { NO_CACHE } from '../../src/write/cache.js';

/** A book that is looked at again after every change is found to be what it is when looked at for the first time. */

const entry = (date: string, more: string) =>
  `---\ndate: ${date}\ntitle: Round ${date}\nsystems: [pump]\n${more}---\nText.\n`;
const system = (points: string, more = '') =>
  `---\nsystem: pump\ntitle: Pump\npoints:\n  ${points}\n${more}---\n`;
const reading = (value: string, more = '') =>
  `measurements:\n  - { point: pump.flow, value: ${value}${more} }\n`;
const book = (accuracy: string, person: string) =>
  `book: skiff\nsubject: { name: Skiff }\npeople:\n  ${person}: { name: somebody }\ninstruments:\n  clamp: { name: clamp meter, measures: { current: { accuracy: ${accuracy} } } }\n`;

const TESTED = `specs:
  rated: { title: Rated, value: 4 A, within: 10 %, basis: told, point: flow }
tests:
  run: { title: Run, requires: { flow: '>= 3.5 A' } }
`;

/** Some states of each file; null is no file. */
const FILES: Readonly<Record<string, readonly (string | null)[]>> = {
  'book.yaml': [book('2 %', 'owner'), book('5 %', 'owner'), book('2 %', 'helper'), 'book: [', null],
  'systems/pump.md': [
    system('flow: { quantity: current, unit: A, at-most: 5 A }', TESTED),
    system('flow: { quantity: current, unit: A, at-most: 3 A }', TESTED),
    system('flow: { quantity: current, unit: A, at-most: 5 A }', TESTED.replace('3.5 A', '4.5 A')),
    system('flow: { quantity: voltage, unit: V }'),
    system('rate: { quantity: current, unit: A }'),
    system(
      'flow: { quantity: current, unit: A }',
      'specs:\n  rated: { title: Rated, value: 4 A, within: 10 %, basis: told, point: flow }\n',
    ),
    '---\nsystem: pump\n',
    null,
  ],
  'entries/2026-01-10-a.md': [
    entry('2026-01-10', reading('4 A', ', with: clamp, by: owner')),
    entry('2026-01-10', reading('4 A', ', with: clamp')),
    entry('2026-01-10', reading('6 A')),
    entry('2026-01-10', 'opens:\n  - { item: seal, what: New seal }\n'),
    null,
  ],
  'entries/2026-02-10-b.md': [
    entry('2026-02-10', `${reading('4.2 A')}parts:\n  - { part: seal-kit, move: ordered, what: Seal kit }\n`),
    entry('2026-02-10', 'closes: [seal]\n'),
    entry('2026-02-10', reading('4.4 A', ', with: clamp, by: helper')),
    entry('2026-02-10', 'parts:\n  - { part: seal-kit, move: fitted }\n'),
    entry('2026-02-10', 'tests:\n  - { test: pump.run, readings: { flow: 4 A } }\n'),
    entry('2026-02-10', 'tests:\n  - { test: pump.run, readings: { flow: 5 A } }\n'),
    null,
  ],
  'entries/2026-03-10-c.md': [
    entry('2026-03-10', 'tests:\n  - { test: pump.run, readings: { flow: 4 A } }\n'),
    entry('2026-03-10', 'parts:\n  - { part: seal-kit, move: fitted }\n'),
    entry('2026-03-10', 'statements:\n  - { spec: pump.rated, value: 4.2 A, basis: printed }\n'),
    null,
  ],
};

const PATHS = Object.keys(FILES);

/** A reckoning without the functions in it, which are never the same. */
function plain(reckoning: Reckoning | null): unknown {
  if (reckoning === null) return null;
  const { affected: _affected, values: _values, ...rest } = reckoning;
  return rest;
}

test('whatever changes, and in whatever order', async () => {
  let reckoned = 0;
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.tuple(fc.constantFrom(...PATHS), fc.nat(7)), { minLength: 1, maxLength: 12 }),
      async (changes) => {
        const root = mkdtempSync(join(tmpdir(), 'memory-'));
        const put = (path: string, text: string | null | undefined) => {
          rmSync(join(root, path), { force: true });
          mkdirSync(dirname(join(root, path)), { recursive: true });
          if (typeof text === 'string') writeFileSync(join(root, path), text);
        };
        for (const path of PATHS) put(path, FILES[path]?.[0]);
        const memory = lastingMemory(NO_CACHE);
        await checkAndReckon(readFolder(root), '2026-06-01', memory);
        for (const [path, at] of changes) {
          const states = FILES[path] ?? [];
          put(path, states[at % states.length]);
          const folder = readFolder(root);
          const day = at < 5 ? '2026-06-01' : '2026-02-20';
          const again = await checkAndReckon(folder, day, memory);
          const anew = await checkAndReckon(folder, day, NO_MEMORY);
          reckoned += anew.reckoning === null ? 0 : 1;
          expect({ ...again, reckoning: plain(again.reckoning) }).toEqual({
            ...anew,
            reckoning: plain(anew.reckoning),
          });
        }
        rmSync(root, { recursive: true, force: true });
      },
    ),
    { numRuns: 60 },
  );
  // Books with errors are not reckoned, and would show nothing.
  expect(reckoned).toBeGreaterThan(60);
});

test('what nothing has happened to is the very same', async () => {
  const root = mkdtempSync(join(tmpdir(), 'memory-'));
  for (const [path, [text]] of Object.entries(FILES)) {
    mkdirSync(dirname(join(root, path)), { recursive: true });
    writeFileSync(join(root, path), text ?? '');
  }
  const memory = lastingMemory(NO_CACHE);
  const look = () => checkAndReckon(readFolder(root), '2026-06-01', memory);
  const before = await look();
  writeFileSync(join(root, 'entries/2026-01-10-a.md'), `${FILES['entries/2026-01-10-a.md']?.[0]}More.\n`);
  const after = await look();
  const [entries, stays] = [before.book?.entries ?? [], after.book?.entries ?? []];
  expect(stays.map((entry, at) => entry === entries[at])).toEqual([false, true, true]);
  const test = (found: typeof after) => found.reckoning?.tests.get('pump.run');
  expect(test(after)).toBe(test(before));
  rmSync(root, { recursive: true, force: true });
});
