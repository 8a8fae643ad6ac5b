import type { EntryFile } from '../../schemas/entry.js';

/** Open work that waits on something hidden: the copy must not say that it can be begun. */

interface Said {
  readonly data: unknown;
}

/**
 * The items of a copy that, as the whole book stands, wait on something that the copy has not: a part that is not here,
 * or other work that is not done. A decision that the book names is made.
 */
export function itemsWaitingOnHidden(whole: readonly Said[], copy: readonly Said[]): readonly string[] {
  const entries = inOrder(whole);
  const closed = new Set(entries.flatMap(({ closes = [] }) => closes));
  const moves = new Map(
    entries.flatMap(({ parts = [] }) => parts.map(({ part, move }) => [part, move] as const)),
  );
  const isUnsettled = (wait: string) => {
    const [kind, id = ''] = wait.split(' ');
    if (kind === 'item') return !closed.has(id);
    return kind === 'part' && !HERE.has(moves.get(id) ?? '');
  };
  const told = new Map(waits(entries));
  return waits(inOrder(copy)).flatMap(([item, left]) =>
    (told.get(item) ?? []).some((wait) => !left.includes(wait) && isUnsettled(wait)) ? [item] : [],
  );
}

/** The moves after which a part is in somebody's hands; what has gone back, or is gone, has to come anew. */
const HERE: ReadonlySet<string> = new Set(['arrived', 'fitted', 'moved', 'removed']);

function inOrder(files: readonly Said[]): readonly Partial<EntryFile>[] {
  return files
    .map(({ data }) => data as Partial<EntryFile>)
    .filter(({ date }) => date !== undefined)
    .sort((a, b) => ((a.date ?? '') < (b.date ?? '') ? -1 : (a.date ?? '') > (b.date ?? '') ? 1 : 0));
}

function waits(
  entries: readonly Partial<EntryFile>[],
): readonly (readonly [item: string, on: readonly string[]])[] {
  return entries.flatMap(({ opens = [] }) => opens.map((one) => [one.item, one['waits-on'] ?? []] as const));
}
