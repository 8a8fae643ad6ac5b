import {
  ALL_KINDS,
  type Formula,
  type Kind,
  kindInfo,
  parseFormula,
  type QuantityProblem,
} from '../../quantity/index.js';
import { nameInForm } from '../form-slips.js';
import * as m from '../messages.js';
import type { Place } from '../model.js';
import { findValueName, type Names } from '../names.js';
import type { Report, Said } from '../problem.js';

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
  if (problem.code !== 'unknown-name') {
    report(m.badFormula(problem.message, problem.hint ?? hintFor(problem, text)), path, { slice });
    return null;
  }
  const name = NAME.exec(text.slice(problem.offset))?.[0] ?? '';
  const said = nameSaid(name, system, names);
  if (said !== null) {
    report(said, path, { slice: { offset: problem.offset, length: name.length } });
    return null;
  }
  const known = text.slice(problem.offset, problem.offset + problem.length);
  findValueName(names, fullName(known, system), path, (unknown, at) => report(unknown, at, { slice }));
  return null;
}

/** A name as somebody writes it, with what no name has in it. */
const NAME = /^[\p{L}\d_.-]+/u;

/** A name that only needs another form, or its system in front; null for all else. */
function nameSaid(name: string, system: string | null, names: Names): Said | null {
  const due = nameInForm(name);
  const full = fullName(due, system);
  if (due !== name && kindOfName(full, names) !== undefined) return m.nameForm(due);
  if (system !== null || due.includes('.')) return null;
  const refs = [...names.points.keys(), ...names.specs.keys(), ...names.derived.keys()];
  const inFull = refs.filter((ref) => ref.endsWith(`.${due}`));
  return inFull.length === 0 ? null : m.systemBefore(inFull.slice(0, 4));
}

/** How to mend what the formula's reader leaves at saying what is wrong. */
function hintFor({ message, offset, length }: QuantityProblem, text: string): string | null {
  if (/^[x×]$/i.test(text.slice(offset, offset + length))) return 'To multiply write `*`.';
  if (!message.includes('plain number')) return null;
  const kind = ALL_KINDS.filter((one) => message.includes(kindInfo(one).title))
    .sort((a, b) => kindInfo(b).title.length - kindInfo(a).title.length)
    .at(0);
  const numbers = text.match(/(?<![\w.])\d+(?:\.\d+)?(?!\s*[\p{L}°%.\d])/gu) ?? [];
  const [number = '320'] = numbers.length === 1 ? numbers : [];
  const unit = kind === undefined ? undefined : kindInfo(kind).units[0];
  return unit === undefined
    ? 'Write the unit behind the number.'
    : `Write the unit behind the number, such as \`${number} ${unit}\`.`;
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
