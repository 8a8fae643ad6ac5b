import fc from 'fast-check';
import { load } from 'js-yaml';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import type { z } from 'zod';
import { bookSchema } from '../../schemas/book.js';
import { entrySchema } from '../../schemas/entry.js';
import { powerPlanSchema } from '../../schemas/power-plan.js';
import { systemSchema } from '../../schemas/system.js';
import { takeMapSchema } from '../../schemas/take-map.js';
import { weightsPlanSchema } from '../../schemas/weights-plan.js';
import { asYaml } from '../../src/check/as-yaml.js';

interface Field {
  readonly path: string;
  readonly schema: z.ZodType;
}

/** Every field of a schema, wherever it stands. */
function fieldsOf(schema: z.ZodType, path: string): readonly Field[] {
  const def = schema._zod.def as {
    shape?: Record<string, z.ZodType>;
    element?: z.ZodType;
    valueType?: z.ZodType;
    innerType?: z.ZodType;
    options?: readonly z.ZodType[];
    items?: readonly z.ZodType[];
  };
  const own = Object.entries(def.shape ?? {}).flatMap(([key, inner]) => [
    { path: `${path}.${key}`, schema: inner },
    ...fieldsOf(inner, `${path}.${key}`),
  ]);
  const inner = [def.element, def.valueType, def.innerType, ...(def.options ?? []), ...(def.items ?? [])];
  return own.concat(inner.flatMap((one) => (one === undefined ? [] : fieldsOf(one, path))));
}

const FIELDS = [
  ['book', bookSchema],
  ['system', systemSchema],
  ['entry', entrySchema],
  ['power-plan', powerPlanSchema],
  ['weights-plan', weightsPlanSchema],
  ['take-map', takeMapSchema],
] as const;

const examples = FIELDS.flatMap(([name, schema]) => fieldsOf(schema, name)).flatMap(({ path, schema }) =>
  ((schema.meta() as { examples?: readonly unknown[] } | undefined)?.examples ?? []).map((example) => ({
    path,
    schema,
    example,
  })),
);

/** The same value by two readers of YAML, with its field on a line of its own and in braces. */
function readings(written: string): readonly unknown[] {
  return [`x: ${written}\n`, `{ x: ${written}, y: 1 }\n`].flatMap((text) =>
    [parse(text), load(text)].map((data) => (data as { x: unknown }).x),
  );
}

describe('values in one line of YAML', () => {
  it('are read as the same again, on a line of their own and in braces', () => {
    const text = fc.oneof(
      fc.string(),
      fc.stringMatching(/^[ >=<|&*!%@`"'#:,{}[\]0-9a-z.+-]{0,12}$/),
      fc.constantFrom(
        'true',
        'no',
        '007',
        '1e3',
        '.5',
        '~',
        '',
        '- a',
        '12:30',
        '2026-04-18',
        'a: b',
        'a #b',
      ),
    );
    const value = fc.oneof(
      text,
      fc.boolean(),
      fc.integer(),
      fc.array(text),
      fc.dictionary(fc.stringMatching(/^[a-z]{1,5}$/), text),
    );
    fc.assert(
      fc.property(value, (one) => {
        for (const read of readings(asYaml(one))) expect(read).toEqual(one);
      }),
    );
  });

  it('leave the values of the trade without quotes', () => {
    for (const plain of [
      '12.71 V',
      '318 ± 6 Ah',
      'house-dc.capacity',
      '2026-04-18',
      "5' 3",
      'photos/2026/a.jpg',
    ])
      expect(asYaml(plain)).toBe(plain);
    expect(asYaml('>= 320 Ah')).toBe('">= 320 Ah"');
    expect(asYaml(['>= 320 Ah', 'a, b'])).toBe('[">= 320 Ah", "a, b"]');
  });
});

describe('the examples of the format', () => {
  it('are there for every field', () => {
    expect(examples.length).toBeGreaterThan(200);
  });

  it.each(examples)('$path fits its own field as it is shown', ({ schema, example }) => {
    for (const read of readings(asYaml(example))) {
      expect(read).toEqual(example);
      expect(schema.safeParse(read).error?.issues ?? []).toEqual([]);
    }
  });
});
