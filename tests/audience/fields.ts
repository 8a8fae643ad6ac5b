import { type JsonSchema, schemaOf } from '../../src/editor/schema-at.js';
import type { Role } from '../../src/read/folder.js';

/** Every field of the format, found by walking its schemas: paths with `*` for what a book names or lists. */

type Node = JsonSchema & { readonly pattern?: string; readonly enum?: unknown };

export interface FormatField {
  readonly path: string;
  /** Whether a text of any words can stand there. */
  readonly free: boolean;
}

/** All fields of a sort of file. */
export function fieldsOf(role: Role): readonly FormatField[] {
  const found = new Map<string, boolean>();
  const look = (schema: Node, path: readonly string[]): void => {
    const name = path.join('/');
    const free = schema.type === 'string' && schema.pattern === undefined && schema.enum === undefined;
    if (path.length > 0) found.set(name, (found.get(name) ?? false) || free);
    for (const form of schema.anyOf ?? []) look(form, path);
    for (const [key, field] of Object.entries(schema.properties ?? {})) look(field, [...path, key]);
    for (const item of [schema.items || [], schema.prefixItems ?? []].flat()) look(item, [...path, '*']);
    if (typeof schema.additionalProperties === 'object') look(schema.additionalProperties, [...path, '*']);
  };
  look(schemaOf(role), []);
  return [...found].map(([path, free]) => ({ path, free }));
}

/** Everything in some data that stands at a path of the format. */
export function valuesAt(data: unknown, path: string): readonly unknown[] {
  return path.split('/').reduce<readonly unknown[]>(
    (values, step) =>
      values.flatMap((value) => {
        if (typeof value !== 'object' || value === null) return [];
        if (step === '*') return Object.values(value as Record<string, unknown>);
        return Object.hasOwn(value, step) ? [(value as Record<string, unknown>)[step]] : [];
      }),
    [data],
  );
}
