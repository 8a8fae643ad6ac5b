import { isKind, type Kind } from '../quantity/index.js';
import type { Role } from '../read/folder.js';
import type { WrittenScalar } from '../read/scalars.js';
import type { Reckoning } from '../reckon/model.js';
import { keysIn, textAt } from './keys.js';
import { schemasAt } from './schema-at.js';

/** Of what kind a value has to be: a kind of quantity, a calendar interval, or money. */
export type Due = Kind | 'interval' | 'money';

type Path = readonly (string | number)[];

/** Of what kind the value at a path has to be; null where the format and the book leave it open, or it is no value. */
export function kindDue(
  role: Role,
  path: Path,
  scalars: readonly WrittenScalar[],
  reckoning: Reckoning | null,
): Due | null {
  return laidDown(role, path, scalars) ?? fromBook(role, path, scalars, reckoning);
}

const UNITS: ReadonlyMap<string, Due> = new Map([
  ['calendar interval', 'interval'],
  ['money', 'money'],
]);

/** The kind that the format lays down for the field, or for the list in which the value stands. */
function laidDown(role: Role, path: Path, scalars: readonly WrittenScalar[]): Due | null {
  const field = typeof path.at(-1) === 'number' ? path.slice(0, -1) : path;
  const [schema] = schemasAt(role, field, (at) => keysIn(scalars, at));
  const unit = schema?.['x-unit'] ?? '';
  return UNITS.get(unit) ?? (isKind(unit) ? unit : (FIXED.get(`${role}/${String(field.at(-1))}`) ?? null));
}

/** Fields of one kind of which the format says no more than how they look. */
const FIXED: ReadonlyMap<string, Due> = new Map<string, Due>([
  ['entry/reads', 'time'],
  ['system/wraps-at', 'time'],
  ['system/every', 'interval'],
  ['power-plan/continuous', 'power'],
  ['power-plan/apparent', 'apparent-power'],
  ['power-plan/power', 'power'],
  ['power-plan/running', 'power'],
  ['power-plan/starting', 'power'],
  ['power-plan/fuel', 'volume-flow'],
  ['power-plan/capacity', 'charge'],
  ['power-plan/voltage', 'voltage'],
  ['power-plan/current', 'current'],
  ['weights-plan/tpc', 'immersion'],
  ['weights-plan/mctc', 'trim-moment'],
]);

function fromBook(
  role: Role,
  path: Path,
  scalars: readonly WrittenScalar[],
  reckoning: Reckoning | null,
): Due | null {
  const beside = (key: string) => textAt(scalars, [...path.slice(0, -1), key]);
  if (role === 'system') return inSystem(path, scalars);
  if (role === 'book') return path[2] === 'measures' ? asKind(String(path[3])) : null;
  if (role !== 'entry' || reckoning === null) return null;
  const [list, , field] = path;
  const pointKind = (ref: string | null) => reckoning.timelines.get(ref ?? '')?.point.kind ?? null;
  if (list === 'measurements' && path.length === 3) {
    if (field === 'value') return pointKind(beside('point')) ?? asKind(beside('quantity'));
    return pointKind(String(field));
  }
  if (list === 'statements' && field === 'says') return claimedKind(beside('spec'), reckoning);
  if (list === 'tests' && field === 'readings' && path.length === 4)
    return requiredKind(textAt(scalars, [...path.slice(0, 2), 'test']), String(path[3]), reckoning);
  return null;
}

const LIMITS: ReadonlySet<string> = new Set(['at-least', 'at-most', 'plausible']);

/** In a system file the kind stands beside the value, or with the point that is named there. */
function inSystem(path: Path, scalars: readonly WrittenScalar[]): Due | null {
  const [section, name, field = ''] = path;
  const kindOf = (at: Path) => asKind(textAt(scalars, [...at, 'quantity']));
  if (section === 'points' && LIMITS.has(String(field))) return kindOf(['points', String(name)]);
  if (section === 'specs' && (field === 'value' || field === 'within')) {
    const point = textAt(scalars, ['specs', String(name), 'point']);
    return (
      kindOf(['specs', String(name)]) ??
      (point === null ? null : kindOf(['points', point.replace(/^.*\./, '')]))
    );
  }
  return section === 'tests' && field === 'requires' ? kindOf(['points', String(path[3])]) : null;
}

function claimedKind(ref: string | null, { specs }: Reckoning): Kind | null {
  const claim = specs.get(ref ?? '')?.spec.claim;
  return claim?.type === 'quantity' ? claim.quantity.kind : null;
}

function requiredKind(test: string | null, name: string, { tests }: Reckoning): Kind | null {
  const found = tests.get(test ?? '')?.test.requires.find((requirement) => requirement.name === name);
  return found?.type === 'band' ? found.kind : null;
}

function asKind(written: string | null): Kind | null {
  return written !== null && isKind(written) ? written : null;
}
