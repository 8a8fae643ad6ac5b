import { z } from 'zod';
import { SCHEMAS } from '../check/schema.js';
import type { Role } from '../read/folder.js';
import { fieldAt } from '../read/name-fields.js';
import type { Path } from './tree.js';

/** What the format says about the place of a path: what can be left out there, and what sort of text stands there. */

type Type = z.core.$ZodType;

/**
 * What a value is to somebody who takes things out: `words` are free text, a `value` is an amount or a text, a `code`
 * is a name made for the record or has some in it, `path` a file of the book, `fixed` one of the format's own words.
 */
export type Sort = 'words' | 'value' | 'code' | 'path' | 'fixed';

/** Fields that could be left out by their schema, but without which what they belong to would say something else. */
const BELONGS: Readonly<Record<Role, RegExp>> = {
  book: /^$/,
  // Upkeep by the hours of a meter that nobody sees would never be due.
  system: /^upkeep\/[^/]+\/meter$/,
  // What belongs to a system that is not shown would go to the entry's main one; a decision would seem to hold.
  entry:
    /^(?:(?:measurements|parts|decisions|opens)\/\d+\/system|hours\/\d+\/on|decisions\/\d+\/holds-while|measurements\/\d+\/[^/]*\.[^/]*)$/,
  // A plan is a sum: without one of its parts it says something else.
  'power-plan': /./,
  'weights-plan': /./,
};

/** The path of what has to go when the value at a path is to go: itself, or what cannot stand without it. */
export function elementAt(role: Role, path: Path): Path {
  for (let length = path.length; length > 0; length -= 1) {
    const at = path.slice(0, length);
    if (!BELONGS[role].test(at.join('/')) && mayGo(role, at)) return at;
  }
  return [];
}

function mayGo(role: Role, path: Path): boolean {
  const step = path.at(-1) as string | number;
  return typesAt(role, path.slice(0, -1)).some((type) => {
    const { def } = (type as z.core.$ZodTypes)._zod;
    if (def.type === 'array' || def.type === 'record') return true;
    return def.type === 'object' && isOptional(def.shape[String(step)]);
  });
}

function isOptional(type: Type | undefined): boolean {
  return type !== undefined && (type as z.core.$ZodTypes)._zod.def.type === 'optional';
}

/** What sort of text stands at a path. */
export function sortAt(role: Role, path: Path, part: 'key' | 'value'): Sort {
  if (fieldAt(role, path, part) !== null) return 'code';
  if (part === 'key') return isField(role, path) ? 'fixed' : isLabel(role, path) ? 'words' : 'code';
  const last = path.at(-1);
  if (last === 'file' || last === 'see' || last === 'series') return 'path';
  if (last === 'quantity' || last === 'unit' || path[0] === 'units') return 'fixed';
  const types = typesAt(role, path);
  if (types.some(({ _zod }) => _zod.def.type === 'number')) return 'value';
  if (types.some(isFree)) return 'words';
  return types.some(({ _zod }) => _zod.def.type === 'string') ? 'code' : 'fixed';
}

function isField(role: Role, path: Path): boolean {
  const key = String(path.at(-1));
  const kinds = path.at(-2) === 'measures' || path[0] === 'units';
  return (
    kinds ||
    typesAt(role, path.slice(0, -1)).some((type) => {
      const { def } = (type as z.core.$ZodTypes)._zod;
      return def.type === 'object' && Object.hasOwn(def.shape, key);
    })
  );
}

/** A key that is neither a field nor a name made for the record. */
function isLabel(role: Role, path: Path): boolean {
  return typesAt(role, path.slice(0, -1)).some((type) => {
    const { def } = (type as z.core.$ZodTypes)._zod;
    return def.type === 'record' && isFree(def.keyType);
  });
}

/** A text of no set form. */
function isFree(type: Type): boolean {
  const { def } = (type as z.core.$ZodTypes)._zod;
  return (
    def.type === 'string' &&
    !(def.checks ?? []).some(({ _zod }: z.core.$ZodCheck) => _zod.def.check === 'string_format')
  );
}

const known = new Map<string, readonly Type[]>();

/** What may stand at a path, with choices and what may be left out opened up. */
function typesAt(role: Role, path: Path): readonly Type[] {
  // All items of a list are alike; books have hundreds of thousands of places, and the format some hundred.
  const name = `${role}/${path.map((step) => (typeof step === 'number' ? 0 : step)).join('/')}`;
  const types = known.get(name) ?? typesBelow(role, path);
  known.set(name, types);
  return types;
}

function typesBelow(role: Role, path: Path): readonly Type[] {
  return path.reduce<readonly Type[]>(
    (types, step) => types.flatMap((type) => stepInto(type, step)).flatMap(opened),
    opened(SCHEMAS[role]),
  );
}

function opened(type: Type): readonly Type[] {
  const { def } = (type as z.core.$ZodTypes)._zod;
  if (def.type === 'optional') return opened(def.innerType);
  return def.type === 'union' ? def.options.flatMap(opened) : [type];
}

function stepInto(type: Type, step: string | number): readonly Type[] {
  const { def } = (type as z.core.$ZodTypes)._zod;
  switch (def.type) {
    case 'object':
      return Object.hasOwn(def.shape, step) ? [def.shape[String(step)] as Type] : [];
    case 'record':
      return z.safeParse(def.keyType, String(step)).success ? [def.valueType] : [];
    case 'array':
      return [def.element];
    case 'tuple':
      return def.items[Number(step)] === undefined ? [] : [def.items[Number(step)] as Type];
    default:
      return [];
  }
}
