import { z } from 'zod';

/**
 * Pieces that more than one file of the format uses. Every field of the format says, in its `description`,
 * what it means; in `x-unit`, in what it is written; and in `examples`, how it looks. The JSON Schemas, the
 * editor's help and the format reference are made from these and from nothing else.
 *
 * The schemas describe the files *as written*. A quantity is therefore a text here ("318 ± 6 Ah"); the
 * checker reads it, since only the checker knows of what kind it has to be.
 */

/** What a field documents of itself. */
export interface FieldDoc {
  /** One or two sentences: the meaning, and what happens when it is left out. */
  readonly about: string;
  /** How it looks when written. */
  readonly example: unknown;
  /** In what it is written, where that is not plain. */
  readonly unit?: string;
}

/** The metadata of a field in the form that zod hands on to JSON Schema. */
export function doc(field: FieldDoc): Record<string, unknown> {
  return {
    description: field.about,
    examples: [field.example],
    ...(field.unit === undefined ? {} : { 'x-unit': field.unit }),
  };
}

const ID_PATTERN = /^[a-z0-9]+(?:-[a-z0-9]+)*$/;
const REF_PATTERN = /^[a-z0-9]+(?:-[a-z0-9]+)*\.[a-z0-9]+(?:-[a-z0-9]+)*$/;

/** A name made for the record: small letters, digits and single hyphens. */
export const idSchema = z
  .string({
    error: 'a name is a text of small letters, digits and hyphens; quote it if it looks like a number',
  })
  .max(64, { error: 'a name has at most 64 letters' })
  .regex(ID_PATTERN, {
    error: 'a name is written in small letters, digits and single hyphens, such as `house-dc`',
  });

/** A name inside a system: `system.name`. */
export const refSchema = z
  .string({ error: 'this is written as system.name, such as `house-dc.capacity`' })
  .max(129)
  .regex(REF_PATTERN, { error: 'this is written as system.name, such as `house-dc.capacity`' });

/** A name that may stand alone inside its own system's file, or be given in full. */
export const localRefSchema = z
  .string()
  .max(129)
  .regex(/^[a-z0-9]+(?:-[a-z0-9]+)*(?:\.[a-z0-9]+(?:-[a-z0-9]+)*)?$/, {
    error: 'this is a name of this system (`capacity`), or one in full (`house-dc.capacity`)',
  });

/** A file of a logger's readings. */
export const seriesPathSchema = z
  .string()
  .max(200)
  .regex(/^series\/[a-z0-9]+(?:[-.][a-z0-9]+)*\.csv$/, {
    error:
      'a file of readings lies under `series/`, has a name in small letters, digits and hyphens, and ends in `.csv`',
  });

/** A day, as written: `2026-04-18`. Whether that day exists is the checker's business. */
export const dateSchema = z
  .string({ error: 'a date is written year-month-day, such as `2026-04-18`' })
  .regex(/^\d{4}-\d{2}-\d{2}$/, { error: 'a date is written year-month-day, such as `2026-04-18`' });

/** A number with a unit as written; a bare number is let through so that the checker can say which units fit. */
export const quantitySchema = z.union([z.string().min(1).max(200), z.number()], {
  error: 'a value is a number with its unit, such as `12.71 V`',
});

/** A quantity, or a plain text such as a model's name. */
export const valueSchema = z.union([z.string().min(1).max(2000), z.number()], {
  error: 'a value is a number with its unit, such as `12.71 V`, or a text in quotes',
});

/** An arithmetic expression over points and specs. */
export const formulaSchema = z.string().min(1).max(1000);

/** In what a kind of quantity, or a map by kinds, is written; the JSON Schemas list the kinds where it stands. */
export const KIND_UNIT = 'kind of quantity';

/** A line of plain text. */
export const lineSchema = z
  .string({ error: 'a text is due here; put it in quotes if it looks like a number' })
  .min(1, { error: 'this text is empty: write it or leave the field out' })
  .max(500, { error: 'a line of text has at most 500 letters; the prose below has room for more' });

/** Several lines of plain text. */
export const textSchema = z
  .string({ error: 'a text is due here; put it in quotes if it looks like a number' })
  .min(1, { error: 'this text is empty: write it or leave the field out' })
  .max(10_000);

/** An amount of money with its currency code: `1480.00 EUR`. Bare numbers are left to the checker, as above. */
export const moneySchema = z.union([z.string().min(1).max(60), z.number()], {
  error: 'money is an amount and a currency, such as `1480.00 EUR`',
});

/** A calendar interval: `6 months`. Bare numbers are left to the checker, as above. */
export const intervalSchema = z.union([z.string().min(1).max(60), z.number()], {
  error: 'an interval is a number and days, weeks, months or years, such as `6 months`',
});

/** How far off a value may lie: `5 %`, `10 Ah`, `0.5 % + 0.02 V`. Bare numbers are left to the checker. */
export const allowanceSchema = z.union([z.string().min(1).max(100), z.number()], {
  error: 'an allowance is a share or an amount, such as `5 %` or `0.02 V`',
});

/** A path to a file of the book, with forward slashes, from the book's folder. */
export const filePathSchema = z.string().min(1).max(300);

/** Three lengths: forward, to starboard, up. */
export const positionSchema = z.tuple([quantitySchema, quantitySchema, quantitySchema], {
  error: 'a position is three lengths in brackets: [forward, to starboard, up]',
});

/** How somebody knows, from hearsay to a third party's word. Ordered from weakest to strongest. */
export const BASES = ['told', 'printed', 'marked', 'measured', 'witnessed'] as const;
export const basisSchema = z.enum(BASES);
export type Basis = z.infer<typeof basisSchema>;

/** Kinds of danger, for which the usual cautions are shown. */
export const HAZARDS = [
  'mains-ac',
  'dc-battery',
  'fuel',
  'gas',
  'exhaust',
  'hot-work',
  'lifting',
  'enclosed-space',
  'coatings',
  'aloft',
  'flooding',
  'steering-loss',
  'rig-failure',
] as const;
export const hazardSchema = z.enum(HAZARDS);
export type Hazard = z.infer<typeof hazardSchema>;

/** What can be kept from an audience, wherever in the book it stands; `entry` is an entry as a whole. */
export const HIDEABLE = [
  'cost',
  'suppliers',
  'people',
  'serials',
  'places',
  'hours',
  'photos',
  'prose',
  'entry',
] as const;
export const hideableSchema = z.enum(HIDEABLE);

/** What can be kept of a system. */
export const hideableOfSystemSchema = z.enum(['system', 'prose', 'photos']);

/** Headings of the prose whose text only the owner is to see. */
export const privateSectionsSchema = z
  .array(lineSchema)
  .optional()
  .meta(
    doc({
      about:
        'Headings of the prose below, as they stand there. Everything from such a heading to the next one of the same level or a higher one is seen by the owner alone; readings told there are left out too.',
      example: ['What it cost'],
    }),
  );

/** The mark of a single thing that only the owner is to see. */
export const privateSchema = z
  .boolean()
  .optional()
  .meta(doc({ about: 'True where only the owner is to see it, and all that stands on it.', example: true }));

/** A map from names made for the record to something. */
export function named<T extends z.ZodType>(value: T) {
  return z.record(idSchema, value);
}
