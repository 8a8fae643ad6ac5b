import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { type MadeEntry, makeEntries } from './made-entries.js';
import { bookText, makeSystem } from './made-systems.js';
import { randomFrom } from './random.js';
import { SYSTEMS } from './vocabulary.js';

/** A book that nobody wrote, of any size, for measuring. The same size and seed give the same bytes. */
export interface MadeBook {
  readonly entries: readonly MadeEntry[];
  /** Text of each file of the book by its path. */
  readonly files: ReadonlyMap<string, string>;
}

/** Specs and dependents grow with the book: 1,000 and about 2,000 at 10,000 entries. */
export function makeBook(entryCount: number, seed = 1): MadeBook {
  const random = randomFrom(seed);
  const share = (total: number) => Math.max(1, Math.ceil(total / SYSTEMS.length));
  const sizes = {
    points: 8 + Math.round(entryCount / 1000),
    specs: share(entryCount / 10),
    derived: share(entryCount / 50),
  };
  const systems = SYSTEMS.map((_, index) => makeSystem(random, index, sizes));
  const entries = makeEntries(random, systems, entryCount);
  const files = new Map([['book.yaml', bookText(entryCount)]]);
  for (const { id, text } of systems) files.set(`systems/${id}.md`, text);
  for (const entry of entries) files.set(pathOf(entry), `---\n${entry.frontMatter}\n---\n${entry.body}`);
  return { entries, files };
}

/** Where an entry's file lies in its book. */
export function pathOf({ id, year }: MadeEntry): string {
  return `entries/${year}/${id}.md`;
}

/** Writes a book into an empty folder. */
export function writeBook(book: MadeBook, folder: string): void {
  writeAll(book.files, folder);
}

/** The same bodies for Eleventy by itself: a title as front matter, a trivial layout for all. */
export function writeBare({ entries }: MadeBook, folder: string): void {
  const files = new Map([
    [
      '_includes/bare.njk',
      '<!doctype html><title>{{ title }}</title><h1>{{ title }}</h1>{{ content | safe }}\n',
    ],
    ['entries/entries.json', '{ "layout": "bare.njk" }\n'],
  ]);
  for (const entry of entries) files.set(pathOf(entry), `---\ntitle: ${entry.title}\n---\n${entry.body}`);
  writeAll(files, folder);
}

function writeAll(files: ReadonlyMap<string, string>, folder: string): void {
  for (const path of new Set([...files.keys()].map((file) => dirname(file))))
    mkdirSync(join(folder, path), { recursive: true });
  for (const [path, text] of files) writeFileSync(join(folder, path), text);
}
