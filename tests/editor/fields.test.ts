import { describe, expect, it } from 'vitest';
import { type JsonSchema, schemaOf } from '../../src/editor/schema-at.js';
import type { Role } from '../../src/read/folder.js';
import { fieldAt } from '../../src/read/name-fields.js';

/** The table of fields that hold names, held against the format: none may be forgotten when a field is added. */

const ROLES: readonly Role[] = ['book', 'system', 'entry', 'power-plan', 'weights-plan'];
/** The form of a name, of a name in full, of one that may stand alone, and of what an item waits on. */
const NAME = /^\^(?:\(\?:part\|item\|decision\) )?\[a-z0-9\]\+\(\?:-\[a-z0-9\]\+\)\*/;

type Patterned = JsonSchema & { readonly pattern?: string };

/** Paths of all fields and keys of a file that have the form of a name. */
function namesOf(role: Role): readonly string[] {
  const found = new Set<string>();
  const look = (schema: Patterned, path: readonly string[]): void => {
    if (schema.pattern !== undefined && NAME.test(schema.pattern)) found.add(path.join('/'));
    for (const form of schema.anyOf ?? []) look(form, path);
    for (const [key, field] of Object.entries(schema.properties ?? {})) look(field, [...path, key]);
    for (const item of [schema.items || [], schema.prefixItems ?? []].flat()) look(item, [...path, '0']);
    if (typeof schema.additionalProperties === 'object') {
      const names = schema.propertyNames as Patterned | undefined;
      if (NAME.test(names?.pattern ?? '')) found.add(`${[...path, 'a.b'].join('/')}@`);
      look(schema.additionalProperties, [...path, 'a.b']);
    }
  };
  look(schemaOf(role), []);
  return [...found];
}

function isKnown(role: Role, path: string): boolean {
  const steps = path
    .replace(/@$/, '')
    .split('/')
    .map((step) => (/^\d+$/.test(step) ? Number(step) : step));
  return fieldAt(role, steps, path.endsWith('@') ? 'key' : 'value') !== null;
}

describe('the table of fields that hold names', () => {
  it('has every field of the format that has the form of a name, but for those that name nothing else', () => {
    const left = ROLES.flatMap((role) =>
      namesOf(role)
        .filter((path) => !isKnown(role, path))
        .map((path) => `${role}: ${path}`),
    );
    expect(left.sort()).toEqual([
      // The name of the book, and names of audiences, are named nowhere else.
      'book: audiences/a.b@',
      'book: book',
      'book: copy/for',
      // Figures of an option, and conditions, are words and no names of the book.
      'entry: decisions/0/options/0/figures/a.b@',
      'entry: measurements/0/under/a.b@',
      'entry: tests/0/under/a.b@',
      // Loads and weights are named nowhere else.
      'power-plan: loads/a.b@',
      'system: points/a.b/compare-at/a.b@',
      'weights-plan: weights/a.b@',
    ]);
  });

  it('finds enough of them to mean anything', () => {
    expect(ROLES.flatMap(namesOf).length).toBeGreaterThan(60);
    expect(fieldAt('entry', ['measurements', 3, 'note'], 'key')).toBeNull();
    expect(fieldAt('entry', ['measurements', 3, 'dc.volts'], 'key')).toEqual({
      holds: 'ref',
      sort: 'point',
      local: false,
    });
    expect(fieldAt('system', ['tests', 't', 'requires', 'x'], 'key')).toEqual({
      holds: 'requirement',
      declares: true,
    });
  });
});
