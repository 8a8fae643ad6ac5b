import { z } from 'zod';
import {
  basisSchema,
  dateSchema,
  doc,
  filePathSchema,
  formulaSchema,
  hideableSchema,
  idSchema,
  KIND_UNIT,
  lineSchema,
  moneySchema,
  positionSchema,
  privateSchema,
  privateSectionsSchema,
  quantitySchema,
  refSchema,
  textSchema,
  valueSchema,
} from './common.js';

const byDoc = doc({ about: 'Who did it: a person of book.yaml.', example: 'owner' });
const withDoc = doc({
  about: 'With which instrument of book.yaml; its accuracy counts where the value states no ±.',
  example: 'clamp-meter',
});
const seeDoc = doc({
  about:
    'The photo or paper that shows it: a file that this entry lists under `photos`, by its path or its name alone.',
  example: 'bank-label.jpg',
});
const underSchema = z.record(idSchema, valueSchema);
const underDoc = doc({
  about: 'Conditions of the reading. Only readings under like conditions are compared.',
  example: { ambient: '19 °C', current: '16 A' },
});
const restsOnDoc = doc({
  about: 'Specs, points and derived values that it stands or falls with.',
  example: ['house-dc.capacity'],
});

const hoursSchema = z.strictObject({
  by: idSchema.meta(byDoc),
  spent: quantitySchema.meta(doc({ about: 'Working time.', example: '3.5 h', unit: 'time' })),
  on: idSchema.optional().meta(
    doc({
      about: "Which of the entry's systems it was spent on. Shared equally between them where left out.",
      example: 'house-dc',
    }),
  ),
});

const meterReadingSchema = z.strictObject({
  meter: refSchema.meta(doc({ about: 'A meter of a system file.', example: 'engine.hours' })),
  reads: quantitySchema.meta(doc({ about: 'What the meter shows.', example: '1243.6 h' })),
  replaced: z
    .boolean()
    .optional()
    .meta(
      doc({ about: 'True for the first reading of a new meter: it starts again from here.', example: true }),
    ),
  wrapped: z
    .boolean()
    .optional()
    .meta(
      doc({
        about: 'True when the meter has gone past its highest figure since the last reading.',
        example: true,
      }),
    ),
});

const readingDetail = {
  with: idSchema.optional().meta(withDoc),
  by: idSchema.optional().meta(byDoc),
  under: underSchema.optional().meta(underDoc),
  basis: z
    .enum(['marked', 'measured', 'witnessed'])
    .optional()
    .meta(
      doc({
        about:
          'How it is known, if not simply measured. A reading by a third party counts as witnessed by itself.',
        example: 'witnessed',
      }),
    ),
  see: lineSchema.optional().meta(seeDoc),
  note: lineSchema
    .optional()
    .meta(doc({ about: 'A remark on this one value.', example: 'after two hours of rest only' })),
};

/** A reading of a point in full. */
export const longReadingSchema = z.strictObject({
  point: refSchema.meta(
    doc({ about: 'The point of a system file that was measured.', example: 'house-dc.rest-voltage' }),
  ),
  value: quantitySchema.meta(
    doc({ about: 'What was read, with its unit and, if known, ±.', example: '12.71 V' }),
  ),
  ...readingDetail,
});

const freeReadingSchema = z.strictObject({
  what: lineSchema.meta(
    doc({
      about: 'What was measured, in plain words; found again by search.',
      example: 'battery box, inside length',
    }),
  ),
  value: quantitySchema.meta(
    doc({ about: 'What was read, with its unit and, if known, ±.', example: '27 1/2 in' }),
  ),
  quantity: z
    .string()
    .min(1)
    .max(40)
    .optional()
    .meta(
      doc({
        about: 'Kind of quantity, where the unit alone leaves it open (N m: torque or energy).',
        example: 'torque',
        unit: KIND_UNIT,
      }),
    ),
  system: idSchema.optional().meta(
    doc({
      about: "Which of the entry's systems it belongs to; the first where left out.",
      example: 'house-dc',
    }),
  ),
  ...readingDetail,
});

const shortReadingSchema = z
  .record(refSchema, quantitySchema)
  .refine((written) => Object.keys(written).length === 1, {
    error: 'the short form is one point and its value; the next one begins a line of its own',
  })
  // JSON Schema knows nothing of the refinement above, so it is told the same in its own words.
  .meta({ minProperties: 1, maxProperties: 1 });

/** A reading: point and value in one, or in full, or of a thing named in plain words. */
export const measurementSchema = z.union([longReadingSchema, freeReadingSchema, shortReadingSchema]).meta(
  doc({
    about:
      'One reading. Short: the point and its value. In full: `point` or `what`, `value`, and how it was taken. It can be told in the prose instead, as `:reading[318 ± 6 Ah]{point="house-dc.capacity" with="clamp-meter" under-ambient="19 °C"}`.',
    example: { 'house-dc.capacity': '318 ± 6 Ah' },
  }),
);

/**
 * A reading told in the prose, brought into the long form: `:reading[VALUE]{point="…" with="…"}`. Its
 * attributes are the fields of the long form; a condition is an attribute `under-NAME`.
 */
export const inlineReadingSchema = z.union([longReadingSchema, freeReadingSchema]);

const statementSchema = z.strictObject({
  spec: refSchema.meta(
    doc({ about: 'The spec of a system file that it bears on.', example: 'house-dc.bank-model' }),
  ),
  says: valueSchema.meta(
    doc({ about: 'What is stated now: a number with its unit, or a text.', example: 'TL-200 x 2' }),
  ),
  basis: basisSchema.meta(doc({ about: 'How whoever states it knows.', example: 'marked' })),
  by: idSchema.optional().meta(byDoc),
  with: idSchema.optional().meta(withDoc),
  see: lineSchema.optional().meta(seeDoc),
  note: lineSchema
    .optional()
    .meta(doc({ about: 'A remark.', example: 'the plate is painted over; read with a torch' })),
});

const testRunSchema = z.strictObject({
  test: refSchema.meta(
    doc({ about: 'The test of a system file that was done.', example: 'house-dc.capacity-test' }),
  ),
  readings: z.record(idSchema, valueSchema).meta(
    doc({
      about: 'What was read, by the names that the test requires. The outcome is computed from it.',
      example: { capacity: '318 ± 6 Ah', 'end-voltage': '10.5 V' },
    }),
  ),
  with: idSchema.optional().meta(withDoc),
  by: idSchema.optional().meta(byDoc),
  under: underSchema.optional().meta(underDoc),
  see: lineSchema.optional().meta(seeDoc),
  note: lineSchema
    .optional()
    .meta(doc({ about: 'A remark.', example: 'stopped once to cool the load bank' })),
});

/** What can happen to a part. */
export const PART_MOVES = [
  'ordered',
  'arrived',
  'fitted',
  'removed',
  'moved',
  'returned',
  'sold',
  'scrapped',
] as const;

const partMoveSchema = z.strictObject({
  part: idSchema.meta(
    doc({ about: 'Short name of the part, the same every time it is told of.', example: 'house-bank-2026' }),
  ),
  move: z.enum(PART_MOVES).meta(doc({ about: 'What happened to it.', example: 'ordered' })),
  what: lineSchema.optional().meta(
    doc({
      about: 'What it is, in plain words; said once, where it first appears.',
      example: 'four 135 Ah gel batteries',
    }),
  ),
  system: idSchema.optional().meta(
    doc({
      about: "Which of the entry's systems it belongs to; the first where left out.",
      example: 'house-dc',
    }),
  ),
  quantity: z
    .int()
    .positive({ error: 'a number of things is 1 or more' })
    .optional()
    .meta(doc({ about: 'How many.', example: 4 })),
  cost: moneySchema.optional().meta(
    doc({
      about: 'What was paid for all of them; negative for money that came back.',
      example: '1480.00 EUR',
      unit: 'money',
    }),
  ),
  'from-supplier': lineSchema.optional().meta(doc({ about: 'From whom.', example: 'Quay Electric' })),
  due: dateSchema
    .optional()
    .meta(doc({ about: 'Day on which it was promised.', example: '2026-05-20', unit: 'date' })),
  serial: lineSchema
    .optional()
    .meta(doc({ about: 'Serial number, in quotes if it is all digits.', example: 'TL-88120' })),
  mass: quantitySchema
    .optional()
    .meta(doc({ about: 'Mass of all of them.', example: '118 kg', unit: 'mass' })),
  at: positionSchema.optional().meta(
    doc({
      about: 'Where its centre lies now: forward, to starboard, up.',
      example: ['2.1 m', '-0.6 m', '0.2 m'],
      unit: 'length',
    }),
  ),
  from: positionSchema
    .optional()
    .meta(
      doc({ about: 'Where its centre lay before.', example: ['2.1 m', '-0.6 m', '0.2 m'], unit: 'length' }),
    ),
  'rests-on': z.array(refSchema).optional().meta(restsOnDoc),
  see: lineSchema.optional().meta(seeDoc),
  note: lineSchema.optional().meta(doc({ about: 'A remark.', example: 'one terminal cover missing' })),
});

const optionSchema = z.strictObject({
  option: lineSchema.meta(doc({ about: 'What could be done.', example: 'like for like' })),
  figures: z
    .record(idSchema, valueSchema)
    .optional()
    .meta(
      doc({
        about: 'What speaks for or against it, in numbers.',
        example: { capacity: '400 Ah', cost: '1480 EUR' },
      }),
    ),
  note: lineSchema
    .optional()
    .meta(doc({ about: 'What speaks for or against it, in words.', example: 'fits the box as it is' })),
});

const decisionSchema = z.strictObject({
  decision: idSchema.meta(doc({ about: 'Short name of the decision.', example: 'bank-size' })),
  question: lineSchema.meta(
    doc({ about: 'What had to be decided.', example: 'Replace like for like, or go up a size?' }),
  ),
  options: z
    .array(optionSchema)
    .optional()
    .meta(doc({ about: 'What there was to choose from.', example: [{ option: 'like for like' }] })),
  chose: lineSchema.meta(
    doc({ about: 'What was chosen: one of the options, where options are given.', example: 'like for like' }),
  ),
  because: textSchema.meta(
    doc({ about: 'Why.', example: 'The charger cannot fill the larger bank in one day.' }),
  ),
  system: idSchema.optional().meta(
    doc({
      about: "Which of the entry's systems it belongs to; the first where left out.",
      example: 'house-dc',
    }),
  ),
  'rests-on': z.array(refSchema).optional().meta(restsOnDoc),
  'holds-while': formulaSchema.optional().meta(
    doc({
      about:
        'Comparison that must stay true for the decision to stand; it is held against every later reading.',
      example: 'shore-power.charger-output <= 30 A',
    }),
  ),
  undoes: idSchema
    .optional()
    .meta(doc({ about: 'An earlier decision that this one takes back.', example: 'bank-size-2024' })),
});

const openSchema = z.strictObject({
  item: idSchema.meta(doc({ about: 'Short name of the work to do.', example: 'fit-house-bank' })),
  what: lineSchema.meta(
    doc({ about: 'The work, in a sentence.', example: 'Fit and terminate the new bank' }),
  ),
  system: idSchema.optional().meta(
    doc({
      about: "Which of the entry's systems it belongs to; the first where left out.",
      example: 'house-dc',
    }),
  ),
  size: quantitySchema
    .optional()
    .meta(doc({ about: 'How long it will take, roughly.', example: '6 h', unit: 'time' })),
  'waits-on': z
    .array(
      z.string().regex(/^(?:part|item|decision) [a-z0-9]+(?:-[a-z0-9]+)*$/, {
        error: 'this is written as `part NAME`, `item NAME` or `decision NAME`',
      }),
    )
    .optional()
    .meta(
      doc({
        about: 'What has to come or be done first.',
        example: ['part house-bank-2026', 'item battery-box-vent'],
      }),
    ),
  by: dateSchema
    .optional()
    .meta(doc({ about: 'Day by which it has to be done.', example: '2026-06-15', unit: 'date' })),
  goal: z
    .boolean()
    .optional()
    .meta(doc({ about: 'True for an end that other work leads to, such as launching.', example: true })),
  defect: z
    .boolean()
    .optional()
    .meta(doc({ about: 'True where something is known to be wrong until this is done.', example: true })),
  safety: z
    .boolean()
    .optional()
    .meta(doc({ about: 'True where somebody can be hurt until this is done.', example: true })),
  'rests-on': z.array(refSchema).optional().meta(restsOnDoc),
});

const photoSchema = z.strictObject({
  file: filePathSchema.meta(
    doc({
      about: "Path of the picture from the book's folder, with forward slashes.",
      example: 'photos/2026/bank-label.jpg',
    }),
  ),
  alt: lineSchema.meta(
    doc({
      about: 'What it shows, for somebody who cannot see it.',
      example: 'Label of the old bank, TL-200, dated 2017',
    }),
  ),
  caption: lineSchema
    .optional()
    .meta(doc({ about: 'What is written below it.', example: 'The label under the grime' })),
  private: privateSchema,
});

/** `entries/YEAR/DATE-WORDS.md`: one work session. */
export const entrySchema = z
  .strictObject({
    date: dateSchema.meta(
      doc({
        about:
          "Day of the work; the file's name begins with it. Entries of one day are taken in the order of their file names: what is told in a later one came later.",
        example: '2026-04-18',
        unit: 'date',
      }),
    ),
    title: lineSchema.meta(
      doc({ about: 'What the entry is about.', example: 'Capacity test on the house bank' }),
    ),
    systems: z
      .array(idSchema)
      .min(1, { error: 'at least one system has to be named, the main one first' })
      .meta(doc({ about: 'Systems that were worked on, the main one first.', example: ['house-dc'] })),
    place: lineSchema.optional().meta(
      doc({
        about: 'Where the work was done; left out for an audience that is not to see `places`.',
        example: 'the yard, shed 2',
      }),
    ),
    hours: z
      .array(hoursSchema)
      .optional()
      .meta(doc({ about: 'Who worked how long.', example: [{ by: 'owner', spent: '3.5 h' }] })),
    meters: z
      .array(meterReadingSchema)
      .optional()
      .meta(doc({ about: 'What meters showed.', example: [{ meter: 'engine.hours', reads: '1243.6 h' }] })),
    measurements: z
      .array(measurementSchema)
      .optional()
      .meta(doc({ about: 'What was measured.', example: [{ 'house-dc.capacity': '318 ± 6 Ah' }] })),
    statements: z
      .array(statementSchema)
      .optional()
      .meta(
        doc({
          about: 'What was stated, printed or read off about a spec.',
          example: [{ spec: 'house-dc.bank-model', says: 'TL-200 x 2', basis: 'marked' }],
        }),
      ),
    tests: z
      .array(testRunSchema)
      .optional()
      .meta(
        doc({
          about: 'Tests done, with what was read; the outcome is computed.',
          example: [{ test: 'house-dc.capacity-test', readings: { capacity: '318 ± 6 Ah' } }],
        }),
      ),
    parts: z
      .array(partMoveSchema)
      .optional()
      .meta(
        doc({
          about: 'Parts ordered, arrived, fitted, moved or removed.',
          example: [{ part: 'house-bank', move: 'removed' }],
        }),
      ),
    decisions: z
      .array(decisionSchema)
      .optional()
      .meta(
        doc({
          about: 'Decisions made.',
          example: [
            { decision: 'bank-size', question: 'Which size?', chose: 'like for like', because: 'It fits.' },
          ],
        }),
      ),
    opens: z
      .array(openSchema)
      .optional()
      .meta(
        doc({
          about: 'Work that is left to do.',
          example: [{ item: 'fit-house-bank', what: 'Fit the new bank' }],
        }),
      ),
    closes: z
      .array(idSchema)
      .optional()
      .meta(doc({ about: 'Open items that are done with this entry.', example: ['test-house-bank'] })),
    done: z
      .array(refSchema)
      .optional()
      .meta(doc({ about: 'Upkeep carried out, as system.name.', example: ['house-dc.terminals'] })),
    photos: z
      .array(photoSchema)
      .optional()
      .meta(
        doc({
          about: 'Pictures and photographed papers.',
          example: [{ file: 'photos/2026/bank-label.jpg', alt: 'Label of the old bank' }],
        }),
      ),
    private: z
      .array(hideableSchema)
      .optional()
      .meta(
        doc({
          about:
            'What of this entry only the owner is to see, on top of what an audience is not to see anywhere; `entry` for all of it.',
          example: ['cost'],
        }),
      ),
    'private-sections': privateSectionsSchema,
  })
  .meta({
    title: 'Ribband entry',
    description: 'Front matter of entries/YEAR/DATE-WORDS.md: one work session.',
  });

export type EntryFile = z.infer<typeof entrySchema>;
export type Measurement = z.infer<typeof measurementSchema>;
export type InlineReading = z.infer<typeof inlineReadingSchema>;
