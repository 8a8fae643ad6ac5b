import { z } from 'zod';
import { doc, idSchema, lineSchema, quantitySchema, refSchema, textSchema } from './common.js';

const columnSchema = z.union([lineSchema, z.int().positive()], {
  error: 'a column is named by its heading, or by its number from 1',
});

const columnDoc = (about: string, example: unknown) =>
  doc({
    about: `${about} A column is named by its heading, with or without a unit in brackets behind it, or by its number from 1.`,
    example,
  });

const timeSchema = z.strictObject({
  column: z
    .union([columnSchema, z.tuple([columnSchema, columnSchema])])
    .meta(columnDoc('Where the time stands; two columns where day and time are apart.', ['Date', 'Time'])),
  as: z
    .string()
    .min(4)
    .max(60)
    .meta(
      doc({
        about:
          'How it is written: YYYY or YY the year, MM or M the month, MMM its name, DD or D the day, HH or H the hour (hh or h with A for am and pm), mm the minutes, ss the seconds; all else stands for itself. Two columns are joined by a blank. Fractions of a second are written .S and dropped.',
        example: 'DD.MM.YYYY HH:mm',
      }),
    ),
});

const conditionSchema = z.strictObject({
  column: columnSchema.meta(columnDoc('Where the condition stands.', 'Ambient')),
  unit: z
    .string()
    .min(1)
    .max(20)
    .optional()
    .meta(doc({ about: 'Its unit, where heading and cells have none.', example: '°C' })),
});

const valueSchema = z.strictObject({
  column: columnSchema.meta(columnDoc('Where the values stand.', 'Humidity')),
  point: refSchema.meta(
    doc({ about: 'The point of a system file that they belong to.', example: 'hull.cabin-humidity' }),
  ),
  unit: z
    .string()
    .min(1)
    .max(20)
    .optional()
    .meta(
      doc({
        about:
          'Their unit. Where left out: the one in brackets in the heading; where there is none, each cell has to name its own.',
        example: '%RH',
      }),
    ),
  to: z
    .enum(['series', 'entries'])
    .optional()
    .meta(
      doc({
        about:
          '`series`: rows of the file that the point names under `series`; `entries`: readings of entries, one entry a day. Where left out: `series` for a point that names a file, else `entries`.',
        example: 'series',
      }),
    ),
  outside: z
    .tuple([quantitySchema, quantitySchema])
    .optional()
    .meta(
      doc({
        about:
          "Rows with a value below the first or above the second are refused, on top of what the point's `plausible` refuses.",
        example: ['5 %RH', '99 %RH'],
      }),
    ),
  stuck: quantitySchema.optional().meta(
    doc({
      about:
        'Rows are refused where the same value stands for so long: the sensor, or the logger, was stuck.',
      example: '2 h',
      unit: 'time',
    }),
  ),
  with: idSchema
    .optional()
    .meta(doc({ about: 'Instrument of book.yaml, for readings of entries.', example: 'hygrometer' })),
  by: idSchema
    .optional()
    .meta(doc({ about: 'Person of book.yaml, for readings of entries.', example: 'owner' })),
  under: z
    .record(idSchema, conditionSchema)
    .optional()
    .meta(
      doc({
        about: 'Conditions, for readings of entries, each from a column of its own.',
        example: { ambient: { column: 'Ambient', unit: '°C' } },
      }),
    ),
});

/** The map by which `ribband take` reads a table: of a spreadsheet, or of a logger. */
export const takeMapSchema = z
  .strictObject({
    delimiter: z
      .union([z.string().length(1), z.literal('tab')])
      .optional()
      .meta(
        doc({
          about: 'What stands between two columns; a comma where left out, `tab` for a tabulator.',
          example: ';',
        }),
      ),
    decimal: z
      .enum(['point', 'comma'])
      .optional()
      .meta(doc({ about: 'The decimal mark; a point where left out.', example: 'comma' })),
    encoding: z
      .enum(['utf-8', 'latin1'])
      .optional()
      .meta(
        doc({
          about: 'How the file is saved; older loggers write `latin1`. UTF-8 where left out.',
          example: 'latin1',
        }),
      ),
    'skip-lines': z
      .int()
      .nonnegative()
      .max(1000)
      .optional()
      .meta(doc({ about: 'Lines above the headings that are passed over.', example: 3 })),
    headings: z
      .boolean()
      .optional()
      .meta(
        doc({
          about: 'False where the first line holds values already; columns then go by number.',
          example: false,
        }),
      ),
    time: timeSchema.meta(
      doc({
        about: 'When each row was read, by the clock on the wall.',
        example: { column: 'Time', as: 'DD.MM.YYYY HH:mm' },
      }),
    ),
    'no-value': z
      .array(z.string().max(40))
      .optional()
      .meta(
        doc({
          about: 'What stands in a cell where there is no value; an empty cell always is none.',
          example: ['---', 'Err'],
        }),
      ),
    values: z
      .array(valueSchema)
      .min(1, { error: 'at least one column of values has to be named' })
      .meta(
        doc({
          about: 'The columns of values that are taken; all others are passed over.',
          example: [{ column: 'Humidity', point: 'hull.cabin-humidity' }],
        }),
      ),
    entries: z
      .strictObject({
        title: lineSchema.meta(
          doc({ about: 'Title of each entry that is written.', example: 'Readings of the bank' }),
        ),
        prose: textSchema.optional().meta(
          doc({
            about: 'What stands below in each of them.',
            example: 'Taken in from the notebook by the chart table.',
          }),
        ),
      })
      .optional()
      .meta(
        doc({
          about: 'What entries made of the rows say, one a day.',
          example: { title: 'Readings of the bank' },
        }),
      ),
  })
  .meta({
    title: 'Ribband map of a table',
    description:
      'The map by which `ribband take` turns a table, of a spreadsheet or of a logger, into entries or a file of readings.',
  });

export type TakeMap = z.infer<typeof takeMapSchema>;
