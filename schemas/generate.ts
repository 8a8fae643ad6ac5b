import { mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';
import { ALL_KINDS } from '../src/quantity/index.js';
import { bookSchema } from './book.js';
import { KIND_UNIT } from './common.js';
import { entrySchema } from './entry.js';
import { exportSchema } from './export.js';
import { powerPlanSchema } from './power-plan.js';
import { sealSchema } from './seal.js';
import { systemSchema } from './system.js';
import { takeMapSchema } from './take-map.js';
import { weightsPlanSchema } from './weights-plan.js';

/**
 * Makes the JSON Schemas under `schemas/json/` from the zod schemas, for editors that complete and explain
 * while somebody types. Run it with `npm run schemas` after every change to a schema.
 */

const SCHEMAS: Readonly<Record<string, z.ZodType>> = {
  book: bookSchema,
  system: systemSchema,
  entry: entrySchema,
  'power-plan': powerPlanSchema,
  'weights-plan': weightsPlanSchema,
  'take-map': takeMapSchema,
  seal: sealSchema,
  export: exportSchema,
};

/** The folder in which the JSON Schemas lie. */
export const JSON_FOLDER = fileURLToPath(new URL('json/', import.meta.url));

/**
 * The JSON Schema of each file of a book, by file name, as JSON Schema 2020-12 of what is *written* (not of
 * what a parser would make of it). The host in `$id` never resolves (RFC 2606): nothing is to be fetched.
 */
export function jsonSchemas(): ReadonlyMap<string, string> {
  return new Map(
    Object.entries(SCHEMAS).map(([name, schema]) => {
      const file = `${name}.schema.json`;
      const { $schema, ...rest } = z.toJSONSchema(schema, {
        io: 'input',
        target: 'draft-2020-12',
        override: ({ jsonSchema }) => listKinds(jsonSchema),
      });
      const whole = { $schema, $id: `https://ribband.invalid/schemas/${file}`, ...rest };
      return [file, `${JSON.stringify(whole, null, 2)}\n`];
    }),
  );
}

/** Which kinds there are is the quantity module's to know; an editor wants to offer them all the same. */
function listKinds(schema: z.core.JSONSchema.BaseSchema): void {
  if (schema['x-unit'] !== KIND_UNIT) return;
  if (schema.type === 'object') schema.propertyNames = { enum: [...ALL_KINDS] };
  else schema.enum = [...ALL_KINDS];
}

function write(): void {
  const made = jsonSchemas();
  mkdirSync(JSON_FOLDER, { recursive: true });
  for (const file of readdirSync(JSON_FOLDER)) if (!made.has(file)) rmSync(join(JSON_FOLDER, file));
  for (const [file, text] of made) writeFileSync(join(JSON_FOLDER, file), text);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) write();
