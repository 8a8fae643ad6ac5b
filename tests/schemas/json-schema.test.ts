import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020, type ValidateFunction } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { JSON_FOLDER, jsonSchemas } from '../../schemas/generate.js';
import { ALL_KINDS } from '../../src/quantity/index.js';
import type { Role } from '../../src/read/folder.js';
import { readFolder } from '../../src/read/folder.js';
import { quickFrontMatter, quickYaml } from '../../src/read/front-matter.js';

/** A JSON Schema as far as these tests look into it. */
interface Node {
  readonly title?: string;
  readonly description?: string;
  readonly examples?: readonly unknown[];
  readonly properties?: Readonly<Record<string, Node>>;
  readonly items?: Node | false;
  readonly prefixItems?: readonly Node[];
  readonly anyOf?: readonly Node[];
  readonly additionalProperties?: Node | false;
  readonly type?: string;
  readonly enum?: readonly string[];
  readonly propertyNames?: Node;
  readonly 'x-unit'?: string;
}

const made = jsonSchemas();
const schemas = new Map([...made].map(([file, text]) => [file, JSON.parse(text) as Node & object]));
const ajv = new Ajv2020({ strict: false, allErrors: true });

function validator(schema: object): ValidateFunction {
  // Without its address, so that one schema can be compiled as often as it is wanted.
  const { $id: _address, ...rest } = schema as { readonly $id?: string };
  return ajv.compile(rest);
}

/** Every property with its path, wherever it stands in a schema. */
function properties(node: Node, path = ''): readonly { path: string; node: Node }[] {
  const inner = [
    ...(node.anyOf ?? []).flatMap((option) => properties(option, path)),
    ...(node.prefixItems ?? []).flatMap((item) => properties(item, `${path}[]`)),
    ...(node.items ? properties(node.items, `${path}[]`) : []),
    ...(node.additionalProperties ? properties(node.additionalProperties, `${path}.*`) : []),
  ];
  return Object.entries(node.properties ?? {}).reduce((all, [name, property]) => {
    const below = `${path}.${name}`;
    return all.concat([{ path: below, node: property }], properties(property, below));
  }, inner);
}

/** Every group of named fields, wherever it stands. */
function groups(node: Node): readonly Node[] {
  const inner = [
    ...(node.anyOf ?? []),
    ...(node.prefixItems ?? []),
    ...(node.items ? [node.items] : []),
    ...(node.additionalProperties ? [node.additionalProperties] : []),
    ...Object.values(node.properties ?? {}),
  ].flatMap(groups);
  return node.properties === undefined ? inner : [node, ...inner];
}

const SCHEMA_OF: Readonly<Record<Role, string>> = {
  book: 'book.schema.json',
  system: 'system.schema.json',
  entry: 'entry.schema.json',
  'power-plan': 'power-plan.schema.json',
  'weights-plan': 'weights-plan.schema.json',
};

const demo = readFolder(join(import.meta.dirname, '../../log'));

function dataOf(file: (typeof demo.files)[number]): unknown {
  return (file.path.endsWith('.yaml') ? quickYaml(file.text) : quickFrontMatter(file.text))?.data;
}

describe('the JSON Schemas', () => {
  it('are those that the zod schemas give (run `npm run schemas` where this fails)', () => {
    expect(readdirSync(JSON_FOLDER).sort()).toEqual([...made.keys()].sort());
    for (const [file, text] of made) expect(readFileSync(join(JSON_FOLDER, file), 'utf8'), file).toBe(text);
  });

  it.each([...schemas])('%s has a title, a description and an address of its own', (file, schema) => {
    expect(schema).toMatchObject({
      $schema: 'https://json-schema.org/draft/2020-12/schema',
      $id: `https://ribband.invalid/schemas/${file}`,
    });
    expect(schema.title).toMatch(/^Ribband /);
    expect(schema.description).toMatch(/\w.*\.$/);
  });

  it.each([...schemas])('%s explains every field and shows how it looks', (_file, schema) => {
    const all = properties(schema);
    expect(all.length).toBeGreaterThan(10);
    const bare = all.filter(({ node }) => !node.description?.match(/\w.*\.$/) || !node.examples?.length);
    expect(bare.map(({ path }) => path)).toEqual([]);
  });

  it.each([...schemas])('%s: every example of a field fits that field', (_file, schema) => {
    const wrong = properties(schema).flatMap(({ path, node }) => {
      const validate = validator(node);
      return (node.examples ?? [])
        .filter((example) => !validate(example))
        .map((example) => `${path}: ${JSON.stringify(example)}: ${ajv.errorsText(validate.errors)}`);
    });
    expect(wrong).toEqual([]);
  });

  it.each([...schemas])('%s lets no field in that it does not name', (_file, schema) => {
    const all = groups(schema);
    expect(all.length).toBeGreaterThan(3);
    expect(all.filter((group) => group.additionalProperties !== false)).toEqual([]);
  });

  it('describe what is written: a value is a text with its unit, a date a text, an interval a text', () => {
    const entry = schemas.get('entry.schema.json') as Node;
    const hours = entry.properties?.['hours']?.items as Node;
    expect(hours.properties?.['spent']?.anyOf?.map((option) => option.type)).toEqual(['string', 'number']);
    expect(entry.properties?.['date']?.type).toBe('string');
    const part = entry.properties?.['parts']?.items as Node;
    expect(part.properties?.['due']?.type).toBe('string');
    expect(part.properties?.['at']?.prefixItems).toHaveLength(3);
  });
});

describe('kinds of quantity', () => {
  it('are offered wherever one is due, as a value or as a key', () => {
    const due = [...schemas].flatMap(([file, schema]) =>
      properties(schema)
        .filter(({ node }) => node['x-unit'] === 'kind of quantity')
        .map(({ path, node }) => ({ at: `${file}${path}`, node })),
    );
    expect(due.map(({ at }) => at).sort()).toEqual([
      'book.schema.json.instruments.*.measures',
      'book.schema.json.units.prefer',
      'entry.schema.json.measurements[].quantity',
      'system.schema.json.derived.*.quantity',
      'system.schema.json.points.*.quantity',
      'system.schema.json.specs.*.quantity',
    ]);
    for (const { at, node } of due) expect(node.enum ?? node.propertyNames?.enum, at).toEqual([...ALL_KINDS]);
  });
});

describe('the demo book against the JSON Schemas', () => {
  const validators = new Map([...schemas].map(([file, schema]) => [file, validator(schema)]));
  const check = (role: Role, data: unknown) => {
    const validate = validators.get(SCHEMA_OF[role]) as ValidateFunction;
    return validate(data) ? null : ajv.errorsText(validate.errors);
  };

  it('fits, file for file', () => {
    expect(demo.files.length).toBeGreaterThan(20);
    const wrong = demo.files.map((file) => [file.path, check(file.role, dataOf(file))]);
    expect(wrong.filter(([, errors]) => errors !== null)).toEqual([]);
  });

  it('no longer fits with a field too many, wherever it stands', () => {
    for (const file of demo.files) {
      expect(check(file.role, { ...(dataOf(file) as object), colour: 'red' }), file.path).toMatch(
        /additional/,
      );
    }
    const entry = demo.files.filter((file) => file.role === 'entry').map(dataOf) as { hours?: object[] }[];
    const withHours = entry.find((data) => data.hours !== undefined);
    const hours = withHours?.hours?.map((one) => ({ ...one, colour: 'red' }));
    expect(hours?.length).toBeGreaterThan(0);
    expect(check('entry', { ...withHours, hours })).toMatch(/additional/);
  });

  it.each([
    ['two points in one short reading', { measurements: [{ 'house-dc.a': '1 V', 'house-dc.b': '2 V' }] }],
    ['no point in a short reading', { measurements: [{}] }],
    [
      'a reading with point and a word too many',
      { measurements: [{ point: 'a.b', value: '1 V', wiht: 'x' }] },
    ],
    ['a position of two lengths', { parts: [{ part: 'a', move: 'fitted', at: ['1 m', '2 m'] }] }],
    [
      'a position of four lengths',
      { parts: [{ part: 'a', move: 'fitted', at: ['1 m', '2 m', '0 m', '0 m'] }] },
    ],
    ['a date in words', { date: '1 May 2026' }],
    ['a move that there is not', { parts: [{ part: 'a', move: 'fited' }] }],
    ['a name in capitals', { systems: ['House-DC'] }],
    ['no system', { systems: [] }],
  ])('rejects %s', (_what, change) => {
    const good = { date: '2026-04-18', title: 'A title', systems: ['house-dc'] };
    expect(check('entry', good)).toBeNull();
    expect(check('entry', { ...good, ...change })).not.toBeNull();
  });
});
