import { createHash } from 'node:crypto';
import type { SystemFile } from '../../schemas/system.js';
import { buildEntry, type EntryData } from './build/entry.js';
import { buildSystem } from './build/system.js';
import type { Names } from './names.js';
import type { ParsedFile } from './parse.js';

type BuiltEntry = ReturnType<typeof buildEntry>;
type BuiltSystem = ReturnType<typeof buildSystem>;

/** What something was built of: a file, as it was. */
interface Origin {
  readonly path: string;
  readonly hash: string;
}

/**
 * Entries and systems that were built before, by the data of their files. Where a book is looked at again and again
 * while it is written in, most of it is as it was.
 */
export interface BuiltMemory {
  readonly entries: WeakMap<object, Origin & { readonly declared: string; readonly built: BuiltEntry }>;
  readonly systems: WeakMap<object, Origin & { readonly built: BuiltSystem }>;
}

/** A memory in which there is nothing yet. */
export function emptyMemory(): BuiltMemory {
  return { entries: new WeakMap(), systems: new WeakMap() };
}

/** Builds a system, whose meaning hangs on its own file alone, or hands out the one that was built of the same text. */
export function systemOf(file: ParsedFile, memory: BuiltMemory | undefined): BuiltSystem {
  const { path, hash } = file.source;
  const data = file.data as SystemFile;
  const known = memory?.systems.get(data);
  if (known?.path === path && known.hash === hash) return known.built;
  const built = buildSystem(file, data);
  memory?.systems.set(data, { path, hash, built });
  return built;
}

/**
 * Builds entries, or hands out those that were built of the same text against the same declarations.
 *
 * @param declaring the files of the book and of its systems: what they say, with the names that entries
 *   declare, is all that the meaning of an entry hangs on besides its own text.
 */
export function entryBuilder(
  memory: BuiltMemory | undefined,
  declaring: readonly ParsedFile[],
  names: Names,
): (file: ParsedFile) => BuiltEntry {
  if (memory === undefined) return (file) => buildEntry(file, file.data as EntryData, names);
  const declared = digest(declaring, names);
  return (file) => {
    const { path, hash } = file.source;
    const data = file.data as EntryData;
    const known = memory.entries.get(data);
    if (known?.declared === declared && known.path === path && known.hash === hash) return known.built;
    const built = buildEntry(file, data, names);
    memory.entries.set(data, { path, hash, declared, built });
    return built;
  };
}

function digest(declaring: readonly ParsedFile[], names: Names): string {
  const { broken, parts, items, decisions, entriesBroken, bookBroken } = names;
  const files = declaring.map(({ source }) => [source.path, source.hash]);
  const told = [...[broken, parts, items, decisions].map((set) => [...set]), entriesBroken, bookBroken];
  return createHash('sha1')
    .update(JSON.stringify([files, told]))
    .digest('base64url');
}
