import type { Hazard } from '../../check/model.js';
import { printInterval } from '../../quantity/index.js';
import { checkOverdueSince } from '../../reckon/instruments.js';
import type { Link } from '../links.js';
import type { Site } from '../site-context.js';
import { showHours } from '../values.js';

/** Who did the work, and with what. */

/** A person of the book. */
export interface PersonRow {
  readonly name: string;
  readonly role: string | null;
  readonly thirdParty: boolean;
  readonly licence: string | null;
  readonly hours: string | null;
  /** Readings, statements and test runs in which they are named. */
  readonly evidence: number;
}

/** Somebody who worked on a system for which many places ask for a licence. */
export interface LicensedRow {
  readonly system: Link;
  readonly name: string;
  readonly licence: string | null;
  readonly dates: readonly string[];
}

/** An instrument of the book. */
export interface InstrumentRow {
  readonly name: string;
  readonly serial: string | null;
  /** `voltage ± 1 % + 0.05 V`. */
  readonly accuracy: readonly string[];
  readonly checked: string | null;
  readonly againEvery: string | null;
  /** Past the day on which it had to be compared again. */
  readonly overdue: boolean;
  readonly used: number;
}

/**
 * Everybody of whom the book says anything, those with most hours first. Who stands in for people in a copy, and
 * does nothing in it, would only look like more people.
 */
export function personRows({ reckoning }: Site): PersonRow[] {
  const { book, hours } = reckoning;
  const spent = new Map(hours.byPerson.map((row) => [row.key, row.hours]));
  const evidence = new Map<string, number>();
  for (const { readings, statements, tests } of book.entries) {
    for (const { by } of [...readings, ...statements, ...tests])
      if (by !== null) evidence.set(by, (evidence.get(by) ?? 0) + 1);
  }
  return [...book.people.values()]
    .sort((a, b) => (spent.get(b.id) ?? 0) - (spent.get(a.id) ?? 0))
    .map(({ id, name, role, thirdParty, licence }) => ({
      name,
      role,
      thirdParty,
      licence,
      hours: spent.has(id) ? showHours(spent.get(id) ?? 0) : null,
      evidence: evidence.get(id) ?? 0,
    }))
    .filter((row) => row.evidence > 0 || [row.role, row.licence, row.hours].some((said) => said !== null));
}

/** Work for which many places ask for a licence. */
const LICENSED: readonly Hazard[] = ['gas', 'mains-ac'];

/** Who worked on gas and mains, with the licence that is on record. */
export function licensedRows(site: Site): LicensedRow[] {
  const { book } = site.reckoning;
  const systems = [...book.systems.values()].filter(({ hazards }) =>
    hazards.some((hazard) => LICENSED.includes(hazard)),
  );
  return systems.flatMap(({ id }) => {
    const dates = new Map<string, string[]>();
    for (const entry of book.entries) {
      const there = new Set([
        ...entry.hours.filter(({ on }) => (on ?? entry.systems[0]) === id).map(({ by }) => by),
        ...entry.tests.flatMap(({ test, by }) => (test.startsWith(`${id}.`) && by !== null ? [by] : [])),
      ]);
      for (const person of there) dates.set(person, [...(dates.get(person) ?? []), entry.date]);
    }
    return [...dates].map(([person, days]) => ({
      system: site.top.system(id),
      name: book.people.get(person)?.name ?? person,
      licence: book.people.get(person)?.licence ?? null,
      dates: days,
    }));
  });
}

/** Instruments that were used, those most used first. */
export function instrumentRows({ reckoning }: Site): InstrumentRow[] {
  const { book, asOf } = reckoning;
  const used = new Map<string, number>();
  for (const { readings, statements, tests } of book.entries) {
    for (const { with: instrument } of [...readings, ...statements, ...tests])
      if (instrument !== null) used.set(instrument, (used.get(instrument) ?? 0) + 1);
  }
  return [...book.instruments.values()]
    .map((instrument) => ({ instrument, ...instrument }))
    .map(({ instrument, id, name, serial, abilities, checked, againEvery }) => ({
      name,
      serial,
      accuracy: abilities.flatMap(({ kind, accuracy }) =>
        accuracy === null ? [] : [`${kind.replaceAll('-', ' ')} ± ${accuracy.written}`],
      ),
      checked,
      againEvery: againEvery === null ? null : printInterval(againEvery),
      overdue: checkOverdueSince(instrument, asOf) !== null,
      used: used.get(id) ?? 0,
    }))
    .filter((row) => row.used > 0)
    .sort((a, b) => b.used - a.used);
}
