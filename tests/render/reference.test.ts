import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { HAZARDS } from '../../schemas/common.js';
import { cautionsFor } from '../../src/render/cautions.js';
import { fieldRows, type JsonSchema } from '../../src/render/schema-fields.js';

function shipped(name: string): JsonSchema {
  const file = new URL(`../../schemas/json/${name}.schema.json`, import.meta.url);
  return JSON.parse(readFileSync(file, 'utf8')) as JsonSchema;
}

describe('the fields of a file, as the reference shows them', () => {
  test.each(['book', 'system', 'entry', 'power-plan', 'weights-plan', 'take-map'])(
    'every field of %s says what it means',
    (name) => {
      const rows = fieldRows(shipped(name));
      expect(rows.length).toBeGreaterThan(10);
      for (const { path, about, example } of rows) {
        expect(about, path).not.toBe('');
        expect(example, path).not.toBeNull();
      }
      expect(new Set(rows.map(({ path }) => path)).size).toBe(rows.length);
    },
  );

  test('fields of lists and of named things lie inside them', () => {
    const entry = fieldRows(shipped('entry')).map(({ path }) => path);
    expect(entry).toContain('parts[].cost');
    expect(entry).toContain('measurements[].value');
    expect(entry).toContain('decisions[].options[].figures');
    const system = fieldRows(shipped('system'));
    const basis = system.find(({ path }) => path === 'specs.NAME.basis');
    expect(basis).toMatchObject({
      due: true,
      choice: ['told', 'printed', 'marked', 'measured', 'witnessed'],
    });
  });

  test('a schema that refers to itself comes to an end', () => {
    const schema: JsonSchema = {
      $defs: { node: { properties: { next: { $ref: '#/$defs/node' } } } },
      $ref: '#/$defs/node',
    };
    expect(fieldRows(schema).length).toBeLessThan(20);
  });
});

test('every kind of danger has cautions, and each says where it is from', () => {
  for (const caution of cautionsFor(HAZARDS)) {
    expect(caution.facts.length, caution.hazard).toBeGreaterThan(0);
    for (const { text, source } of caution.facts) {
      expect(text).toMatch(/\.$/);
      expect(source).toMatch(/^common practice, no source$|CFR|NIOSH|OSHA|HSE|LOLER|FAO|Ensign|Code/);
    }
  }
});
