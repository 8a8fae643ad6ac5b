import type { z } from 'zod';
import { asYaml } from './as-yaml.js';

/** Finding one's way in data and in the zod schema that it is held against, by the same path. */

export type Path = readonly (string | number)[];

/** What stands at a path of the data; undefined where nothing does. */
export function valueAt(data: unknown, path: Path): unknown {
  let value = data;
  for (const step of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined;
    value = (value as Record<string | number, unknown>)[step];
  }
  return value;
}

/** The schema of what stands at a path, without what only says that it may be left out. */
export function schemaAt(schema: z.ZodType, path: Path, data: unknown): z.ZodType | null {
  const declared = declaredAt(schema, path, data);
  return declared === null ? null : unwrap(declared, valueAt(data, path));
}

/** The schema as it was declared for a path, with its meaning and example; unions are followed into the branch that knows the most of the keys. */
export function declaredAt(schema: z.ZodType, path: Path, data: unknown): z.ZodType | null {
  const [step, ...rest] = path;
  if (step === undefined) return schema;
  const here = unwrap(schema, data);
  const inside =
    typeof data === 'object' && data !== null ? (data as Record<string | number, unknown>)[step] : undefined;
  const def = here._zod.def as {
    type: string;
    shape?: Record<string, z.ZodType>;
    element?: z.ZodType;
    valueType?: z.ZodType;
    items?: z.ZodType[];
  };
  const next =
    def.shape !== undefined && Object.hasOwn(def.shape, step)
      ? def.shape[step]
      : (def.element ?? def.valueType ?? def.items?.[Number(step)]);
  return next === undefined ? null : declaredAt(next, rest, inside);
}

function unwrap(schema: z.ZodType, data: unknown): z.ZodType {
  const def = schema._zod.def as { type: string; innerType?: z.ZodType; options?: z.ZodType[] };
  if (def.type === 'optional' && def.innerType !== undefined) return unwrap(def.innerType, data);
  if (def.type !== 'union' || def.options === undefined || typeof data !== 'object' || data === null)
    return schema;
  const keys = Object.keys(data);
  const known = (option: z.ZodType) => keys.filter((key) => keysOf(option).includes(key)).length;
  return [...def.options].sort((a, b) => known(b) - known(a))[0] ?? schema;
}

/** The fields that a group of a schema has. */
export function keysOf(schema: z.ZodType): readonly string[] {
  const def = schema._zod.def as { shape?: Record<string, z.ZodType> };
  return def.shape === undefined ? [] : Object.keys(def.shape);
}

/** The fields that there can be at a path. */
export function keysAt(schema: z.ZodType, path: Path, data: unknown): readonly string[] {
  const found = schemaAt(schema, path, data);
  return found === null ? [] : keysOf(unwrap(found, valueAt(data, path)));
}

/** How the value of a field looks; of an item, how the first one of the example of its list does. */
export function exampleAt(schema: z.ZodType, path: Path, data: unknown): string | null {
  const own = exampleOf(declaredAt(schema, path, data));
  if (own !== null || typeof path.at(-1) !== 'number') return own;
  const list = declaredAt(schema, path.slice(0, -1), data)?.meta() as { examples?: unknown[][] } | undefined;
  const first = list?.examples?.[0]?.[0];
  return first === undefined ? null : asYaml(first);
}

/** How a value of a schema looks, as YAML in one line; null where the schema does not say. */
export function exampleOf(schema: z.ZodType | null): string | null {
  const meta = schema?.meta() as { examples?: unknown[] } | undefined;
  const example = meta?.examples?.[0];
  return example === undefined ? null : asYaml(example);
}
