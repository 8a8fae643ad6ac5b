import type { Reckoning } from '../reckon/model.js';

/** How many things say of themselves that they rest on a spec. */
export interface Reliance {
  decisions: number;
  parts: number;
  items: number;
  derived: number;
}

/** Counts, for each ref, what names it directly under `rests-on` or in a formula. */
export function countReliance(reckoning: Reckoning): Map<string, Reliance> {
  const counts = new Map<string, Reliance>();
  const add = (refs: readonly string[], what: keyof Reliance) => {
    for (const ref of new Set(refs)) {
      const row = counts.get(ref) ?? { decisions: 0, parts: 0, items: 0, derived: 0 };
      row[what] += 1;
      counts.set(ref, row);
    }
  };
  for (const { decision, undoneBy } of reckoning.decisions.values()) {
    if (undoneBy === null) add(decision.restsOn, 'decisions');
  }
  for (const part of reckoning.parts.values()) add(part.restsOn, 'parts');
  for (const item of reckoning.items.values()) {
    if (item.status !== 'done') add(item.opened.restsOn, 'items');
  }
  for (const system of reckoning.book.systems.values()) {
    for (const derived of system.derived.values()) add(derived.uses, 'derived');
  }
  return counts;
}

/** All of it together, for putting specs in order. */
export function relianceTotal(reliance: Reliance | undefined): number {
  if (reliance === undefined) return 0;
  return reliance.decisions + reliance.parts + reliance.items + reliance.derived;
}
