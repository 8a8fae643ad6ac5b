/** The fields of a JSON Schema as rows of a table: what the format reference shows of a file. */
import { asYaml } from '../check/as-yaml.js';

/** As much of a JSON Schema as is read here. */
export interface JsonSchema {
  readonly title?: string;
  readonly description?: string;
  readonly examples?: readonly unknown[];
  readonly 'x-unit'?: string;
  readonly $ref?: string;
  readonly $defs?: Readonly<Record<string, JsonSchema>>;
  readonly type?: string | readonly string[];
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly properties?: Readonly<Record<string, JsonSchema>>;
  readonly required?: readonly string[];
  readonly items?: JsonSchema | false;
  readonly prefixItems?: readonly JsonSchema[];
  readonly additionalProperties?: JsonSchema | boolean;
  readonly anyOf?: readonly JsonSchema[];
  readonly oneOf?: readonly JsonSchema[];
}

/** One field of a file. */
export interface FieldRow {
  /** The way to it: `parts[].cost`, `specs.NAME.basis`. */
  readonly path: string;
  /** How many keys deep it lies, from 0. */
  readonly depth: number;
  readonly due: boolean;
  readonly about: string;
  readonly unit: string | null;
  /** What it may be, where there is a fixed choice. */
  readonly choice: readonly string[];
  readonly example: string | null;
}

/** Deep enough for every file of the format, and an end for a schema that refers to itself. */
const MOST_DEPTH = 6;

/** All fields of a file, each followed by the fields inside it. */
export function fieldRows(schema: JsonSchema): FieldRow[] {
  return rowsOf(schema, schema, '', 0);
}

function rowsOf(root: JsonSchema, schema: JsonSchema, prefix: string, depth: number): FieldRow[] {
  if (depth > MOST_DEPTH) return [];
  const resolved = resolve(root, schema);
  const variants = [resolved, ...(resolved.anyOf ?? []), ...(resolved.oneOf ?? [])].map((one) =>
    resolve(root, one),
  );
  const rows = new Map<string, FieldRow[]>();
  for (const variant of variants) {
    for (const [key, field] of Object.entries(variant.properties ?? {})) {
      const path = prefix === '' ? key : `${prefix}.${key}`;
      if (rows.has(path)) continue;
      const due = variants.length === 1 && (variant.required ?? []).includes(key);
      rows.set(path, [fieldRow(root, field, path, depth, due), ...inside(root, field, path, depth)]);
    }
  }
  return [...rows.values()].flat();
}

/** The fields inside a field: of a map, of the items of a list, of the values under names. */
function inside(root: JsonSchema, field: JsonSchema, path: string, depth: number): FieldRow[] {
  const resolved = resolve(root, field);
  const own = rowsOf(root, resolved, path, depth + 1);
  const items =
    typeof resolved.items === 'object' ? rowsOf(root, resolved.items, `${path}[]`, depth + 1) : [];
  const named =
    typeof resolved.additionalProperties === 'object'
      ? rowsOf(root, resolved.additionalProperties, `${path}.NAME`, depth + 1)
      : [];
  return [...own, ...items, ...named];
}

function fieldRow(root: JsonSchema, field: JsonSchema, path: string, depth: number, due: boolean): FieldRow {
  const resolved = { ...resolve(root, field), ...field };
  const example = resolved.examples?.[0];
  const choice =
    resolved.enum ?? (typeof resolved.items === 'object' ? resolve(root, resolved.items).enum : undefined);
  return {
    path,
    depth,
    due,
    about: resolved.description ?? '',
    unit: resolved['x-unit'] ?? null,
    choice: (choice ?? []).map(String),
    example: example === undefined ? null : asYaml(example),
  };
}

function resolve(root: JsonSchema, schema: JsonSchema): JsonSchema {
  const name = /^#\/\$defs\/(.+)$/.exec(schema.$ref ?? '')?.[1];
  return name === undefined ? schema : (root.$defs?.[name] ?? schema);
}
