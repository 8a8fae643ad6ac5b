import type { Evidence } from '../../reckon/model.js';
import { personName, type Site } from '../site-context.js';

/**
 * Who took something: the person who is named, or else the one who alone logged hours in that entry. Null where
 * neither tells, or where the people of the book are not shown.
 */
export function takenBy(site: Site, { by, entry }: Pick<Evidence, 'by' | 'entry'>): string | null {
  if (by !== null) return personName(site, by);
  const there = new Set((site.reckoning.entries.get(entry)?.hours ?? []).map((hours) => hours.by));
  const [only] = there;
  return there.size === 1 && only !== undefined ? personName(site, only) : null;
}

/** An instrument with its accuracy for a kind of quantity: `clamp meter (2 % + 0.3 A)`. */
export function instrumentWords(site: Site, id: string | null, kind: string | null): string | null {
  if (id === null) return null;
  const instrument = site.reckoning.book.instruments.get(id);
  if (instrument === undefined) return id;
  const accuracy = instrument.abilities.find((ability) => ability.kind === kind)?.accuracy ?? null;
  return accuracy === null
    ? `${instrument.name} (accuracy not known)`
    : `${instrument.name} (± ${accuracy.written})`;
}
