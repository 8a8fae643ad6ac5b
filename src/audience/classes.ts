import type { Hideable } from '../check/model.js';
import { parseMoney } from '../quantity/index.js';
import type { Role } from '../read/folder.js';
import { sortAt } from './shape.js';
import type { Leaf, Path } from './tree.js';

/** Which fields of the format tell what can be kept from an audience. */

/** Patterns as in the table of names: steps with slashes between, `*` for any one step. */
const CLASS_OF: Readonly<Record<Role, readonly (readonly [pattern: string, what: Hideable])[]>> = {
  book: [
    ['subject/home-port', 'places'],
    ['instruments/*/serial', 'serials'],
  ],
  system: [],
  entry: [
    ['place', 'places'],
    ['hours', 'hours'],
    ['opens/*/size', 'hours'],
    ['parts/*/cost', 'cost'],
    ['decisions/*/options/*/figures/cost', 'cost'],
    ['decisions/*/options/*/figures/price', 'cost'],
    ['parts/*/from-supplier', 'suppliers'],
    ['parts/*/serial', 'serials'],
    ['photos', 'photos'],
    ['measurements/*/see', 'photos'],
    ['statements/*/see', 'photos'],
    ['tests/*/see', 'photos'],
    ['parts/*/see', 'photos'],
  ],
  'power-plan': [],
  'weights-plan': [],
};

/** Fields by which the owner says what is private: they are no part of a copy, and nor is who else gets one. */
const OWNERS_OWN: Readonly<Record<Role, readonly string[]>> = {
  // A copy does not lie where the owner's own site does.
  book: ['address', 'audiences', 'copy', 'people/*/shown-as'],
  system: ['private', 'private-sections', 'points/*/private', 'specs/*/private'],
  entry: ['private', 'private-sections', 'photos/*/private'],
  'power-plan': [],
  'weights-plan': [],
};

/** Whether a path is one of the fields by which the owner says what is private. */
export function isOwnersOwn(role: Role, path: Path): boolean {
  return OWNERS_OWN[role].some((pattern) => fits(pattern, path));
}

/** What of all that can be hidden a value tells by itself; null for what nobody hides as a class. */
export function classOf(role: Role, { path, part, value }: Leaf): Hideable | null {
  const found = CLASS_OF[role].find(([pattern]) => fits(pattern, path));
  if (found !== undefined) return found[1];
  if (isSerial(role, path)) return 'serials';
  if (part === 'key' || typeof value !== 'string') return null;
  // Money can stand wherever a value can: in a spec, in a condition, among the figures of an option.
  return sortAt(role, path, part) === 'value' && parseMoney(value).ok ? 'cost' : null;
}

/** A spec, or a particular of the subject, that says by its name that it is a serial number. */
function isSerial(role: Role, path: Path): boolean {
  const name = String(path.at(-1));
  if (role === 'system') return path.length === 2 && path[0] === 'specs' && /(?:^|-)serial(?:-|$)/.test(name);
  return role === 'book' && path.length === 3 && path[1] === 'particulars' && /\bserial\b/i.test(name);
}

const split = new Map<string, readonly string[]>();

function fits(pattern: string, path: Path): boolean {
  const steps = split.get(pattern) ?? pattern.split('/');
  split.set(pattern, steps);
  return (
    steps.length === path.length && steps.every((step, index) => step === '*' || step === String(path[index]))
  );
}
