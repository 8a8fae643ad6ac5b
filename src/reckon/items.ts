import type { Decision, Entry, Opened } from '../check/model.js';
import type { ItemState, ItemStatus, PartState } from './model.js';

/**
 * Where every open item stands: done, ready, blocked by another item or by a decision that is not made, or
 * waiting for a part that is not here. What is both blocked and waiting is called blocked, since its own
 * work comes first; both lists are kept.
 *
 * @param waitOnHidden items of a copy that wait on something that is not in it.
 */
export function itemStates(
  entries: readonly Entry[],
  parts: ReadonlyMap<string, Pick<PartState, 'now'>>,
  decisions: ReadonlyMap<string, Decision>,
  asOf: string,
  waitOnHidden: readonly string[] = [],
): ReadonlyMap<string, ItemState> {
  const opened = new Map(entries.flatMap((entry) => entry.opens).map((open) => [open.id, open] as const));
  const closed = closings(entries, opened);
  const isOpen = (id: string) => opened.has(id) && !closed.has(id);
  const hidden = new Set(waitOnHidden);
  const holdsUp = waiters([...opened.values()], isOpen);
  return new Map(
    [...opened].map(([id, open]) => {
      const blockedBy = waitsOn(open, 'item').filter(isOpen);
      const waitsFor = waitsOn(open, 'part').filter((part) => !isHere(parts.get(part)));
      const undecided = waitsOn(open, 'decision').filter((decision) => !decisions.has(decision));
      const done = closed.get(id) ?? null;
      const waitsOnHidden = done === null && hidden.has(id);
      const blocking = blockedBy.length + undecided.length;
      const status = done !== null ? 'done' : statusOf(blocking, waitsFor.length + Number(waitsOnHidden));
      const overdue = done === null && open.by !== null && open.by < asOf;
      const state: ItemState = {
        opened: open,
        status,
        overdue,
        blockedBy,
        waitsFor,
        undecided,
        waitsOnHidden,
        closed: done,
        holdsUp: done === null ? (holdsUp.get(id) ?? []) : [],
      };
      return [id, state];
    }),
  );
}

function statusOf(blocking: number, waiting: number): ItemStatus {
  if (blocking > 0) return 'blocked';
  return waiting > 0 ? 'waiting' : 'ready';
}

function waitsOn(open: Opened, kind: 'item' | 'part' | 'decision'): string[] {
  return open.waitsOn.filter((wait) => wait.kind === kind).map((wait) => wait.id);
}

/** What has gone back, or is gone, has to come anew. */
function isHere(part: Pick<PartState, 'now'> | undefined): boolean {
  return part !== undefined && (part.now === 'ashore' || part.now === 'fitted' || part.now === 'removed');
}

function closings(
  entries: readonly Entry[],
  opened: ReadonlyMap<string, Opened>,
): ReadonlyMap<string, { readonly date: string; readonly entry: string }> {
  const closed = new Map<string, { readonly date: string; readonly entry: string }>();
  for (const entry of entries) {
    for (const item of entry.closes)
      if (opened.has(item) && !closed.has(item)) closed.set(item, { date: entry.date, entry: entry.id });
  }
  return closed;
}

function waiters(
  items: readonly Opened[],
  isOpen: (id: string) => boolean,
): ReadonlyMap<string, readonly string[]> {
  const found = new Map<string, string[]>();
  for (const item of items) {
    if (!isOpen(item.id)) continue;
    for (const id of waitsOn(item, 'item')) found.set(id, [...(found.get(id) ?? []), item.id]);
  }
  return found;
}
