import type { Quantity } from '../../quantity/index.js';
import { checkOverdueSince } from '../../reckon/instruments.js';
import type { Evidence } from '../../reckon/model.js';
import { personName, type Site } from '../site-context.js';
import { dayWords } from '../words.js';

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

/**
 * An instrument with its accuracy for what was measured: `clamp meter (± 2 % + 0.3 A)`. An instrument whose accuracy
 * is known in other kinds only is told with the unit in which it is not: `clamp meter (accuracy in Ah not on record)`.
 *
 * @param quantity null for a text, of which there is no accuracy.
 */
export function instrumentWords(site: Site, id: string | null, quantity: Quantity | null): string | null {
  if (id === null) return null;
  const instrument = site.reckoning.book.instruments.get(id);
  if (instrument === undefined) return id;
  if (quantity === null) return instrument.name;
  const { kind, unit } = quantity;
  const accuracy = instrument.abilities.find((ability) => ability.kind === kind)?.accuracy ?? null;
  if (accuracy !== null) return `${instrument.name} (± ${accuracy.written})`;
  const isKnownElsewhere = instrument.abilities.some((ability) => ability.accuracy !== null);
  const where = isKnownElsewhere ? ` in ${unit === '1' ? kind.replaceAll('-', ' ') : unit}` : '';
  return `${instrument.name} (accuracy${where} not on record)`;
}

/** `its own check overdue since 28 Apr 2026`: what is against an instrument on the day it was used; null for nothing. */
export function uncheckedAt(site: Site, { with: id, date }: Pick<Evidence, 'with' | 'date'>): string | null {
  const since = id === null ? null : checkOverdueSince(site.reckoning.book.instruments.get(id), date);
  return since === null ? null : `its own check overdue since ${dayWords(since)}`;
}
