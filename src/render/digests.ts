import { createHash, type Hash } from 'node:crypto';
import type { CheckedBook, Entry } from '../check/model.js';
import { once } from './once.js';

/**
 * Short texts that stand for parts of the book. Keys of pages that show much are made from these and not from
 * all that is shown: an entry's page, say, from the hash of its file, from the systems it names, and from the
 * few things on it that other entries can change.
 */
export interface Digests {
  /** Stands for the people, the instruments and the units to show. */
  readonly names: string;
  /** Stands for what a system declares, by the system's name; its prose is not part of it. */
  readonly systems: ReadonlyMap<string, string>;
  /** Stands for the entries of each year as written, oldest year first. */
  readonly years: ReadonlyMap<string, string>;
}

/** The digests of a book, each made when somebody asks. */
export function digestBook(book: CheckedBook): Digests {
  const names = once(() => digest([book.people, book.instruments, book.display]));
  const systems = once(
    () => new Map([...book.systems].map(([id, system]) => [id, digest({ ...system, body: '' })])),
  );
  const years = once(() => digestYears(book.entries));
  return {
    get names() {
      return names();
    },
    get systems() {
      return systems();
    },
    get years() {
      return years();
    },
  };
}

function digestYears(entries: readonly Entry[]): ReadonlyMap<string, string> {
  const hashes = new Map<string, Hash>();
  for (const { date, id, hash } of entries) {
    const year = date.slice(0, 4);
    const sum = hashes.get(year) ?? createHash('sha1');
    hashes.set(year, sum.update(`${id} ${hash}\n`));
  }
  return new Map([...hashes].map(([year, sum]) => [year, sum.digest('base64url')]));
}

function digest(value: unknown): string {
  const text = JSON.stringify(value, (_, part: unknown) => (part instanceof Map ? [...part] : part));
  return createHash('sha1').update(text).digest('base64url');
}

/** Stands for an entry as written and for all that its systems declare about what is written in it. */
export function digestEntry(digests: Digests, entry: Entry): readonly string[] {
  const systems = new Set(entry.systems);
  for (const reading of entry.readings) systems.add(reading.system);
  for (const { spec } of entry.statements) systems.add(systemOf(spec));
  for (const { test } of entry.tests) systems.add(systemOf(test));
  for (const { meter } of entry.meters) systems.add(systemOf(meter));
  for (const upkeep of entry.done) systems.add(systemOf(upkeep));
  return [
    entry.id,
    entry.hash,
    digests.names,
    ...[...systems].map((id) => `${id} ${digests.systems.get(id) ?? ''}`),
  ];
}

function systemOf(ref: string): string {
  return ref.slice(0, ref.indexOf('.'));
}
