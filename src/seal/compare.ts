import type { HashedEntry, HashedFile } from './order.js';

/** What differs between the files of a seal and those of another, or those that lie there. */
export interface Differences {
  /** The same path, other bytes. */
  readonly changed: readonly string[];
  readonly removed: readonly string[];
  readonly added: readonly string[];
  /** The same bytes under another path. */
  readonly renamed: readonly { readonly from: string; readonly to: string }[];
  /** Entries whose date, and so their place in the chain, is another; they are among the changed too. */
  readonly redated: readonly { readonly path: string; readonly from: string; readonly to: string }[];
  /** Added entries that are dated no later than the last sealed one: they were put in between. */
  readonly between: readonly { readonly path: string; readonly date: string }[];
}

/** Files and entries of one state. */
export interface Listed {
  readonly files: readonly HashedFile[];
  readonly entries: readonly HashedEntry[];
}

/** Compares two states. Linear in the number of files; every list is in the order of its state. */
export function differencesOf(before: Listed, now: Listed): Differences {
  const old = pathsOf(before);
  const fresh = pathsOf(now);
  const gone = [...old.keys()].filter((path) => !fresh.has(path));
  const come = [...fresh.keys()].filter((path) => !old.has(path));
  const renamed = renamings(gone, come, old, fresh);
  const from = new Set(renamed.map((one) => one.from));
  const to = new Set(renamed.map((one) => one.to));
  const added = come.filter((path) => !to.has(path));
  const dates = new Map(before.entries.map(({ path, date }) => [path, date]));
  const last = before.entries.at(-1)?.date ?? '';
  const isAdded = new Set(added);
  return {
    changed: [...old]
      .filter(([path, hash]) => fresh.has(path) && fresh.get(path) !== hash)
      .map(([path]) => path),
    removed: gone.filter((path) => !from.has(path)),
    added,
    renamed,
    redated: now.entries.flatMap(({ path, date }) => {
      const before = dates.get(path);
      return before === undefined || before === date ? [] : [{ path, from: before, to: date }];
    }),
    between: now.entries
      .filter(({ path, date }) => isAdded.has(path) && date <= last)
      .map(({ path, date }) => ({ path, date })),
  };
}

/** Whether nothing at all differs. */
export function isSame(differences: Differences): boolean {
  return Object.values(differences).every((list: readonly unknown[]) => list.length === 0);
}

function pathsOf({ files, entries }: Listed): ReadonlyMap<string, string> {
  return new Map([...files, ...entries].map(({ path, sha256 }) => [path, sha256]));
}

/** Pairs of a path that went and one that came with the same bytes; each is in one pair at most. */
function renamings(
  gone: readonly string[],
  come: readonly string[],
  old: ReadonlyMap<string, string>,
  fresh: ReadonlyMap<string, string>,
) {
  const free = new Map<string, string[]>();
  for (const path of come) {
    const hash = fresh.get(path) ?? '';
    free.set(hash, [...(free.get(hash) ?? []), path]);
  }
  return gone.flatMap((from) => {
    const to = free.get(old.get(from) ?? '')?.shift();
    return to === undefined ? [] : [{ from, to }];
  });
}
