import type { Role } from '../read/folder.js';
import { shippedSchema } from '../read/package.js';

/** The format as the editor needs it: which fields may stand where, and what each means. */

/** As much of a JSON Schema as is read here. */
export interface JsonSchema {
  readonly description?: string;
  readonly examples?: readonly unknown[];
  readonly 'x-unit'?: string;
  readonly type?: string;
  readonly enum?: readonly string[];
  readonly properties?: Readonly<Record<string, JsonSchema>>;
  readonly propertyNames?: JsonSchema;
  readonly required?: readonly string[];
  readonly items?: JsonSchema | false;
  readonly prefixItems?: readonly JsonSchema[];
  readonly additionalProperties?: JsonSchema | boolean;
  readonly anyOf?: readonly JsonSchema[];
}

type Path = readonly (string | number)[];

/** The keys that stand in the group at a path: they tell which of several forms is meant. */
export type KeysAt = (path: Path) => readonly string[];

const loaded = new Map<Role, JsonSchema>();

/** The schema of a file of the book. */
export function schemaOf(role: Role): JsonSchema {
  const known = loaded.get(role) ?? (shippedSchema(role) as JsonSchema);
  loaded.set(role, known);
  return known;
}

/**
 * What may stand at a path: one schema, or several where a thing has several forms and what is there so far fits
 * more than one. Empty where nothing may.
 */
export function schemasAt(role: Role, path: Path, keysAt: KeysAt): readonly JsonSchema[] {
  let here = forms(schemaOf(role), [], keysAt);
  for (const [depth, step] of path.entries()) {
    const inside = path.slice(0, depth + 1);
    here = here.flatMap((schema) => {
      const next = stepInto(schema, step);
      return next === null ? [] : forms(next, inside, keysAt);
    });
  }
  return here;
}

/** The several forms of a thing; those that know all its keys so far, where there are any. */
function forms(schema: JsonSchema, path: Path, keysAt: KeysAt): readonly JsonSchema[] {
  if (schema.anyOf === undefined) return [schema];
  const keys = keysAt(path);
  const all = schema.anyOf.map((form) => ({ ...about(schema), ...form }));
  const fit = all.filter((form) => keys.every((key) => stepInto(form, key) !== null));
  return fit.length > 0 ? fit : all;
}

/** What a schema of several forms says of all of them. */
function about({ description, examples, 'x-unit': unit }: JsonSchema): JsonSchema {
  return {
    ...(description === undefined ? {} : { description }),
    ...(examples === undefined ? {} : { examples }),
    ...(unit === undefined ? {} : { 'x-unit': unit }),
  };
}

function stepInto(schema: JsonSchema, step: string | number): JsonSchema | null {
  if (typeof step === 'number') return schema.prefixItems?.[step] ?? (schema.items || null);
  const { properties, additionalProperties } = schema;
  if (properties !== undefined && Object.hasOwn(properties, step)) return properties[step] ?? null;
  if (typeof additionalProperties !== 'object') return null;
  // A short reading is a map from points: `note` is none.
  const pattern = (schema.propertyNames as { readonly pattern?: string } | undefined)?.pattern;
  return pattern === undefined || new RegExp(pattern).test(step) ? additionalProperties : null;
}

/** A value as it would stand in a file: YAML in one line. */
export function asYaml(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(asYaml).join(', ')}]`;
  if (typeof value === 'object' && value !== null) {
    const pairs = Object.entries(value).map(([key, inside]) => `${key}: ${asYaml(inside)}`);
    return `{ ${pairs.join(', ')} }`;
  }
  return String(value);
}
