import { writtenOf } from '../build/values.js';
import * as m from '../messages.js';
import type { Entry } from '../model.js';
import type { Problem } from '../problem.js';

/** Prose shorter than this is the same twice by chance. */
const TELLING = 40;

/**
 * An entry that says once more what another one of its day says: the same prose, or readings that are all in
 * the other, too. A copied file would have its readings count twice.
 *
 * @param entries by day.
 */
export function checkCopies(entries: readonly Entry[]): readonly Problem[] {
  return entries.flatMap((entry, index): Problem[] => {
    for (let at = index - 1; at >= 0 && entries[at]?.date === entry.date; at -= 1) {
      const other = entries[at] as Entry;
      const what = sameIn(entry, other);
      if (what !== null)
        return [{ ...m.entryTwice(what, other.file), at: { file: entry.file, path: ['date'] } }];
    }
    return [];
  });
}

function sameIn(entry: Entry, other: Entry): 'readings' | 'words' | null {
  const [mine, theirs] = [told(entry), told(other)];
  const [fewer, more] = mine.size <= theirs.size ? [mine, theirs] : [theirs, mine];
  if (fewer.size > 0 && [...fewer].every((one) => more.has(one))) return 'readings';
  const words = entry.body.trim();
  return words.length >= TELLING && words === other.body.trim() ? 'words' : null;
}

/** The readings of an entry, as texts that are the same where the readings are; those with a note are explained. */
function told({ readings }: Entry): ReadonlySet<string> {
  return new Set(
    readings
      .filter(({ note }) => note === null)
      .map(({ point, what, quantity, under }) =>
        JSON.stringify([
          point ?? what,
          quantity.kind,
          quantity.si,
          under.map(({ name, value }) => `${name} ${writtenOf(value)}`).sort(),
        ]),
      ),
  );
}
