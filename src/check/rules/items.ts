import * as m from '../messages.js';
import type { Entry, Opened } from '../model.js';
import type { Problem } from '../problem.js';
import { findLoop } from './loop.js';

/** Open items: each opened once, closed after it was opened and only once, and none waiting on itself. */
export function checkItems(entries: readonly Entry[]): readonly Problem[] {
  const opened = new Map<string, Opened>();
  const problems: Problem[] = [];
  for (const open of entries.flatMap((entry) => entry.opens)) {
    const first = opened.get(open.id);
    if (first === undefined) opened.set(open.id, open);
    else
      problems.push({
        ...m.duplicateId('item', open.id, first.place.file),
        at: { file: open.place.file, path: [...open.place.path, 'item'] },
      });
  }
  return [...problems, ...checkClosing(entries, opened), ...checkWaiting(opened)];
}

function checkClosing(entries: readonly Entry[], opened: ReadonlyMap<string, Opened>): Problem[] {
  const closedIn = new Map<string, string>();
  const problems: Problem[] = [];
  for (const entry of entries) {
    for (const [index, item] of entry.closes.entries()) {
      const at = { file: entry.file, path: ['closes', index] };
      const open = opened.get(item);
      const before = closedIn.get(item);
      if (open !== undefined && open.date > entry.date)
        problems.push({ ...m.itemNotYetOpen(item, open.place.file), at });
      else if (before === entry.file) problems.push({ ...m.itemClosedTwice(item), at });
      else if (before !== undefined) problems.push({ ...m.itemNotOpen(item, before), at });
      else closedIn.set(item, entry.file);
    }
  }
  return problems;
}

function checkWaiting(opened: ReadonlyMap<string, Opened>): Problem[] {
  const next = (id: string) =>
    (opened.get(id)?.waitsOn ?? []).filter((wait) => wait.kind === 'item').map((wait) => wait.id);
  return findLoop([...opened.keys()], next).map((loop) => {
    const last = opened.get(loop.at(-2) ?? '') as Opened;
    const index = last.waitsOn.findIndex((wait) => wait.kind === 'item' && wait.id === loop[0]);
    return {
      ...m.cycleWaitsOn(loop),
      at: { file: last.place.file, path: [...last.place.path, 'waits-on', index] },
    };
  });
}
