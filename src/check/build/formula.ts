import { type Formula, type Kind, parseFormula } from '../../quantity/index.js';
import * as m from '../messages.js';
import type { Place } from '../model.js';
import { findValueName, type Names } from '../names.js';
import type { Report } from '../problem.js';

/**
 * Reads a formula over the book's points, specs and derived values.
 *
 * @param due the kind that has to come out; `truth` for a comparison.
 * @param system the system whose names may stand alone; null where names have to be given in full.
 * @returns the formula, or null if something about it was reported (or hangs on a file that is broken).
 */
export function readFormula(
  text: string,
  due: Kind | 'truth',
  system: string | null,
  names: Names,
  path: Place['path'],
  report: Report,
): Formula | null {
  const kindOf = (name: string): Kind | undefined => kindOfName(fullName(name, system), names);
  const result = due === 'truth' ? parseFormula(text, kindOf) : parseFormula(text, kindOf, due);
  if (result.ok) {
    if (due !== 'truth' || result.formula.kind === 'truth') return result.formula;
    report(m.badFormula('A comparison is due here, such as `house-dc.capacity >= 320 Ah`.', null), path);
    return null;
  }
  const { problem } = result;
  const slice = { offset: problem.offset, length: problem.length };
  if (problem.code === 'unknown-name') {
    const name = text.slice(problem.offset, problem.offset + problem.length);
    findValueName(names, fullName(name, system), path, (said, at) => report(said, at, { slice }));
  } else {
    report(m.badFormula(problem.message, problem.hint ?? null), path, { slice });
  }
  return null;
}

/** `capacity` inside the file of `house-dc` means `house-dc.capacity`. */
export function fullName(name: string, system: string | null): string {
  return system === null || name.includes('.') ? name : `${system}.${name}`;
}

/** The kind of a point, of a spec that states a number, or of a derived value. */
export function kindOfName(ref: string, names: Names): Kind | undefined {
  const spec = names.specs.get(ref);
  const claimed = spec?.claim.type === 'quantity' ? spec.claim.quantity.kind : undefined;
  return names.points.get(ref)?.kind ?? names.derived.get(ref)?.kind ?? claimed;
}
