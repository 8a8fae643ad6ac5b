import type { BookFile } from '../../../schemas/book.js';
import * as m from '../messages.js';
import { findSystem, type Names } from '../names.js';
import { collector, type Problem } from '../problem.js';

/**
 * What is to be hidden from whom. A slip here would show what somebody believes to be hidden, so every name has to
 * lead somewhere.
 */

/** Audiences of book.yaml: systems that there are, proof that can be had, and nothing hidden from the owner. */
export function checkAudiences(file: BookFile, names: Names): readonly Problem[] {
  const { problems, report } = collector('book.yaml');
  for (const [id, audience] of Object.entries(file.audiences ?? {})) {
    const path = ['audiences', id];
    if (id === 'owner') report(m.ownerIsNoAudience(), path, { part: 'key' });
    for (const [index, system] of (audience['hides-systems'] ?? []).entries())
      findSystem(names, system, [...path, 'hides-systems', index], report);
    const thirdParty = [...names.people.values()].some((person) => person.thirdParty);
    if (audience['needs-at-least'] === 'witnessed' && !thirdParty && !names.bookBroken)
      report(
        m.needsNeverMet(
          `Only what is witnessed is to count as proof for \`${id}\`, but nobody in book.yaml is a third party.`,
          'Mark the surveyor, yard or laboratory with `third-party: true`, or name a weaker basis.',
        ),
        [...path, 'needs-at-least'],
      );
  }
  return problems;
}
