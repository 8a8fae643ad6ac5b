import type { BookFile } from '../../schemas/book.js';
import { slug } from '../check/rules/dates.js';

/** Who stands for people where people are not shown. */

type People = NonNullable<BookFile['people']>;
export type Person = People[string];

/** What stands for each person, by short name, and those who do, as book.yaml has people. */
export interface StandIns {
  readonly of: ReadonlyMap<string, string>;
  readonly people: People;
}

/**
 * What stands for each person: as the book says, else one stand-in for all third parties and one for everybody else, so
 * that nobody can be followed from entry to entry. Whether somebody is a third party is kept, since it decides what
 * counts as witnessed.
 *
 * @param taken short names that are not free
 */
export function standIns(people: People, taken: ReadonlySet<string> = new Set()): StandIns {
  const made = new Map<string, { readonly id: string; readonly person: Person }>();
  const of = new Map<string, string>();
  for (const [id, person] of Object.entries(people)) {
    const thirdParty = person['third-party'] === true;
    const name = person['shown-as'] ?? (thirdParty ? 'a third party' : 'someone');
    const key = JSON.stringify([name, thirdParty]);
    const known = made.get(key) ?? {
      id: freeName(slug(name), new Set([...taken, ...[...made.values()].map((one) => one.id)])),
      person: { name, ...(thirdParty ? { 'third-party': true } : {}) },
    };
    made.set(key, known);
    of.set(id, known.id);
  }
  return { of, people: Object.fromEntries([...made.values()].map(({ id, person }) => [id, person])) };
}

/** A name that nothing else has: the one wanted, or that with a number behind it. */
export function freeName(wanted: string, taken: ReadonlySet<string>): string {
  const short = wanted.slice(0, 58).replace(/-+$/, '');
  if (!taken.has(short)) return short;
  for (let number = 2; ; number += 1) if (!taken.has(`${short}-${number}`)) return `${short}-${number}`;
}
