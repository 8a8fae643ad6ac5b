import { z } from 'zod';
import { dateSchema, doc } from './common.js';

/** Building blocks of the export's schema: types that bring their meaning and an example along. */

/** A type with what it means, an example and, where it is not plain, its unit. */
export function field<T extends z.ZodType>(type: T, about: string, example: unknown, unit?: string): T {
  return type.meta(doc({ about, example, ...(unit === undefined ? {} : { unit }) }));
}

/** A day. */
export const day = (about: string) => field(dateSchema, about, '2026-04-18', 'date');
/** A day, or null where none is known. */
export const dayOrNull = (about: string) => field(dateSchema.nullable(), about, '2026-04-18', 'date');
/** A text. */
export const text = (about: string, example: string) => field(z.string(), about, example);
/** A text, or null. */
export const textOrNull = (about: string, example: string) => field(z.string().nullable(), about, example);
/** A number. */
export const number = (about: string, example: number, unit?: string) =>
  field(z.number(), about, example, unit);
/** Yes or no. */
export const flag = (about: string) => field(z.boolean(), about, false);
/** A list of names. */
export const names = (about: string, example: string) => field(z.array(z.string()), about, [example]);

/** A list of rows; its example is made of those of the row's fields. */
export const rows = <T extends z.ZodRawShape>(of: z.ZodObject<T>, about: string) =>
  field(z.array(of), about, [exampleOf(of)]);

/** A row or null. */
export const rowOrNull = <T extends z.ZodRawShape>(of: z.ZodObject<T>, about: string) =>
  field(of.nullable(), about, exampleOf(of));

/** The example of a row, made of those of its fields. */
export function exampleOf(row: z.ZodObject): Record<string, unknown> {
  const example = (type: z.ZodType) => (type.meta()?.['examples'] as readonly unknown[] | undefined)?.[0];
  return Object.fromEntries(
    Object.entries(row.shape).map(([name, type]) => [name, example(type as z.ZodType)]),
  );
}

/** The fields of a value. */
export const valueFields = {
  written: text('The value exactly as it was written.', '318 ± 6 Ah'),
  value: number('The number, in `unit`.', 318),
  unit: text('Unit in which it was written; `1` for a plain number.', 'Ah'),
  ucum: text('UCUM code of the unit.', 'A.h'),
  kind: text('Kind of quantity: torque is not energy, gauge pressure is not absolute pressure.', 'charge'),
  si: number('The number in the SI unit of the kind.', 1144800),
  siUnit: text('SI unit of the kind.', 'C'),
};

/** How far a value can be trusted. */
export const uncertainty = field(
  z.number().nullable(),
  'Half-width within which it can be trusted, in `unit`; null is unknown.',
  6,
);

/** A value with its uncertainty. */
export const quantity = z.strictObject({ ...valueFields, uncertainty });
/** A value, or null where there is none. */
export const quantityOrNull = (about: string) => rowOrNull(quantity, about);
