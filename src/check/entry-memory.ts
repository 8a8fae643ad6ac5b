import { createHash } from 'node:crypto';
import { buildEntry, type EntryData } from './build/entry.js';
import type { Names } from './names.js';
import type { ParsedFile } from './parse.js';

type Built = ReturnType<typeof buildEntry>;

/**
 * Entries that were built before, by the data of their files. Where a book is looked at again and again while it
 * is written in, most of it is as it was.
 */
export type EntryMemory = WeakMap<
  object,
  { readonly path: string; readonly hash: string; readonly declared: string; readonly built: Built }
>;

/**
 * Builds entries, or hands out those that were built of the same text against the same declarations.
 *
 * @param declaring the files of the book and of its systems: what they say, with the names that entries
 *   declare, is all that the meaning of an entry hangs on besides its own text.
 */
export function entryBuilder(
  memory: EntryMemory | undefined,
  declaring: readonly ParsedFile[],
  names: Names,
): (file: ParsedFile) => Built {
  if (memory === undefined) return (file) => buildEntry(file, file.data as EntryData, names);
  const declared = digest(declaring, names);
  return (file) => {
    const { path, hash } = file.source;
    const data = file.data as EntryData;
    const known = memory.get(data);
    if (known?.declared === declared && known.path === path && known.hash === hash) return known.built;
    const built = buildEntry(file, data, names);
    memory.set(data, { path, hash, declared, built });
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
