import { z } from 'zod';
import {
  allowanceSchema,
  basisSchema,
  dateSchema,
  doc,
  formulaSchema,
  hazardSchema,
  hideableOfSystemSchema,
  idSchema,
  intervalSchema,
  KIND_UNIT,
  lineSchema,
  localRefSchema,
  named,
  privateSchema,
  privateSectionsSchema,
  quantitySchema,
  seriesPathSchema,
  textSchema,
  valueSchema,
} from './common.js';

const kindSchema = z
  .string()
  .min(1)
  .max(40)
  .meta(
    doc({
      about:
        'Kind of quantity. A kind is more than a dimension: torque is not energy, gauge pressure is not absolute pressure.',
      example: 'voltage',
      unit: KIND_UNIT,
    }),
  );

const unitSchema = z
  .string()
  .min(1)
  .max(20)
  .meta(doc({ about: 'Unit in which it is usually written and drawn.', example: 'V' }));

/** Named corrections by which readings taken at other temperatures are made alike. */
export const CORRECTIONS = [
  'insulation-to-40-c',
  'hydrometer-to-20-c',
  'hydrometer-to-25-c',
  'hydrometer-to-80-f',
] as const;

const pointSchema = z.strictObject({
  title: lineSchema.optional().meta(
    doc({
      about: 'What is measured, in plain words. Made from the name where left out.',
      example: 'Capacity at the 20 h rate',
    }),
  ),
  quantity: kindSchema,
  unit: unitSchema.optional(),
  'at-least': quantitySchema
    .optional()
    .meta(doc({ about: 'Lower limit: a reading below it is out of limits.', example: '320 Ah' })),
  'at-most': quantitySchema
    .optional()
    .meta(doc({ about: 'Upper limit: a reading above it is out of limits.', example: '18 %MC' })),
  expect: z
    .enum(['rising', 'falling', 'steady'])
    .optional()
    .meta(doc({ about: 'Which way it is expected to go with age.', example: 'falling' })),
  'compare-at': z
    .record(idSchema, z.string().min(1).max(100))
    .optional()
    .meta(
      doc({
        about:
          'Conditions under which readings may be compared with each other: a value and how far from it is near enough.',
        example: { ambient: '20 °C within 5 K' },
      }),
    ),
  correct: z
    .enum(CORRECTIONS)
    .optional()
    .meta(
      doc({
        about:
          'Correction by which the trend makes its readings alike. `insulation-to-40-c` brings an insulation resistance to 40 °C (IEEE 43: half for each 10 K) by the condition `winding`; `hydrometer-to-…` brings a specific gravity of battery acid to its reference temperature (0.004 for each 10 °F) by the condition `electrolyte`. A reading that does not note that temperature is left out of the trend; the limits are then held against the corrected values.',
        example: 'insulation-to-40-c',
      }),
    ),
  plausible: z
    .tuple([quantitySchema, quantitySchema])
    .optional()
    .meta(
      doc({
        about:
          'Lowest and highest value that can be true at all. A reading outside is an error: a slip of the pen or of the unit.',
        example: ['0 V', '16 V'],
      }),
    ),
  where: lineSchema.optional().meta(
    doc({
      about: 'Where exactly it is measured, so that the next one measures there too.',
      example: 'at the bank terminals, after 12 h at rest',
    }),
  ),
  since: dateSchema.optional().meta(
    doc({
      about:
        'Day on which what it is measured on was put there: another bearing, another plank. Readings from before that day are kept and shown, and neither held against the limits nor compared with the later ones.',
      example: '2025-04-12',
      unit: 'date',
    }),
  ),
  until: dateSchema.optional().meta(
    doc({
      about:
        'Last day on which what it is measured on was there. After that day its readings are history: nothing is due from it, and nothing is found to be wrong with it.',
      example: '2025-04-11',
      unit: 'date',
    }),
  ),
  series: seriesPathSchema.optional().meta(
    doc({
      about:
        'File with what a logger has read here, under `series/` of the book: a line `time,value (UNIT)`, then one line a reading, the time as on the clock on the wall (`2026-04-18T10:20`). `ribband take` writes it. It is drawn and summed up; standings and trends rest on entries alone.',
      example: 'series/house-voltage.csv',
    }),
  ),
  private: privateSchema,
});

const meterSchema = z.strictObject({
  title: lineSchema.optional().meta(doc({ about: 'What the meter counts.', example: 'Engine hours' })),
  unit: unitSchema.optional(),
  'wraps-at': quantitySchema
    .optional()
    .meta(doc({ about: 'Reading at which the meter starts again from zero.', example: '9999.9 h' })),
});

const specSchema = z.strictObject({
  title: lineSchema.optional().meta(
    doc({
      about: 'What is stated, in plain words. Made from the name where left out.',
      example: 'Capacity of the house bank',
    }),
  ),
  value: valueSchema.meta(
    doc({ about: 'What is stated: a number with its unit, or a text in quotes.', example: '400 Ah' }),
  ),
  quantity: kindSchema.optional(),
  basis: basisSchema.meta(
    doc({
      about: 'How whoever stated it knows: told < printed < marked < measured < witnessed.',
      example: 'told',
    }),
  ),
  source: lineSchema.optional().meta(doc({ about: 'Who or what stated it.', example: "the seller's list" })),
  since: dateSchema.optional().meta(
    doc({
      about: 'Day on which it was stated. Before that day the spec is not part of the record.',
      example: '2024-03-02',
      unit: 'date',
    }),
  ),
  within: allowanceSchema.optional().meta(
    doc({
      about:
        'How far a measured value may lie from the stated one and still agree: a share or an amount. Due for a number that states no ± and is not one-sided.',
      example: '5 %',
    }),
  ),
  means: z
    .enum(['about', 'at-least', 'at-most'])
    .optional()
    .meta(
      doc({
        about:
          'Whether the stated value is the value itself (`about`, the usual), or the least or the most that is promised.',
        example: 'at-least',
      }),
    ),
  point: localRefSchema
    .optional()
    .meta(doc({ about: 'The point whose readings are evidence for it.', example: 'capacity' })),
  needs: basisSchema.optional().meta(
    doc({
      about:
        'Basis at which it counts as checked. `measured` for numbers and `marked` for texts where left out.',
      example: 'measured',
    }),
  ),
  'again-every': intervalSchema
    .optional()
    .meta(doc({ about: 'How long a check holds.', example: '12 months', unit: 'calendar interval' })),
  'check-by': textSchema.optional().meta(
    doc({
      about: 'How to check it, for whoever does it next.',
      example: 'Discharge at 20 A to 10.5 V and log the hours.',
    }),
  ),
  private: privateSchema,
});

const derivedSchema = z.strictObject({
  title: lineSchema
    .optional()
    .meta(doc({ about: 'What it is, in plain words.', example: 'Usable capacity' })),
  from: formulaSchema.meta(
    doc({
      about:
        'Arithmetic over points, specs and other derived values, with units. A minus has a space on both sides, since names contain hyphens.',
      example: '0.5 * capacity',
    }),
  ),
  quantity: kindSchema,
  unit: unitSchema.optional(),
  correlated: z
    .array(
      z.strictObject({
        between: z.tuple([localRefSchema, localRefSchema]).meta(
          doc({
            about: 'Two inputs whose errors go together.',
            example: ['compression-1', 'compression-3'],
          }),
        ),
        by: z
          .number()
          .min(-1)
          .max(1)
          .meta(
            doc({
              about: 'How far they go together: 1 fully, 0 not at all, -1 against each other.',
              example: 1,
            }),
          ),
      }),
    )
    .optional()
    .meta(
      doc({
        about:
          'Inputs whose errors go together, such as readings of one session with one instrument. All others count as independent; the same input used twice always counts as one.',
        example: [{ between: ['compression-1', 'compression-3'], by: 1 }],
      }),
    ),
});

const testSchema = z.strictObject({
  title: lineSchema
    .optional()
    .meta(doc({ about: 'Name of the test in plain words.', example: '20-hour capacity test' })),
  requires: z.record(idSchema, z.union([z.string().min(1).max(200), z.number()])).meta(
    doc({
      about:
        'What is read, and what is required of it: a comparison with units, a comparison joined by `and`, `between A and B`, or a text that must be found.',
      example: { capacity: '>= 320 Ah', 'end-voltage': '>= 10.5 V' },
    }),
  ),
  steps: z
    .array(textSchema)
    .optional()
    .meta(
      doc({
        about: 'The procedure, step by step.',
        example: ['Charge fully and rest for 4 h.', 'Discharge at 20 A.'],
      }),
    ),
  hazards: z
    .array(hazardSchema)
    .optional()
    .meta(
      doc({ about: 'Dangers of doing this test, on top of those of its system.', example: ['dc-battery'] }),
    ),
  'again-every': intervalSchema
    .optional()
    .meta(
      doc({ about: 'How often it is to be done again.', example: '12 months', unit: 'calendar interval' }),
    ),
});

const upkeepSchema = z.strictObject({
  what: lineSchema.meta(
    doc({ about: 'The work that comes back.', example: 'Clean and re-torque the terminals' }),
  ),
  every: z.union([intervalSchema, z.array(intervalSchema).min(1).max(2)]).meta(
    doc({
      about: 'A calendar interval, hours of a meter, or both: whichever comes first.',
      example: ['250 h', '12 months'],
    }),
  ),
  meter: localRefSchema
    .optional()
    .meta(
      doc({ about: 'The meter that counts the hours, where `every` gives hours.', example: 'engine.hours' }),
    ),
  counts: z
    .enum(['from-done', 'from-due'])
    .optional()
    .meta(
      doc({
        about: 'Whether the next time counts from when it was done (the usual) or from when it was due.',
        example: 'from-done',
      }),
    ),
  safety: z
    .boolean()
    .optional()
    .meta(doc({ about: 'True where somebody can be hurt if it is left undone.', example: true })),
  hazards: z
    .array(hazardSchema)
    .optional()
    .meta(doc({ about: 'Dangers of doing it, on top of those of its system.', example: ['fuel'] })),
});

/** `systems/NAME.md`: what can be measured in a system and what is believed about it. */
export const systemSchema = z
  .strictObject({
    system: idSchema.meta(doc({ about: "The system's name, the same as the file's.", example: 'house-dc' })),
    title: lineSchema.meta(doc({ about: 'Name of the system in plain words.', example: 'House batteries' })),
    group: lineSchema
      .optional()
      .meta(doc({ about: 'Heading under which systems are listed together.', example: 'Electrics' })),
    'in-service': dateSchema.optional().meta(
      doc({
        about: 'Day on which the system came into service; upkeep never done counts from it.',
        example: '2024-04-01',
        unit: 'date',
      }),
    ),
    hazards: z
      .array(hazardSchema)
      .optional()
      .meta(
        doc({
          about: 'Dangers of working on this system; the usual cautions are shown for each.',
          example: ['dc-battery', 'lifting'],
        }),
      ),
    points: named(pointSchema)
      .optional()
      .meta(
        doc({
          about: 'Places where one quantity is measured again and again.',
          example: { capacity: { quantity: 'charge', unit: 'Ah' } },
        }),
      ),
    meters: named(meterSchema)
      .optional()
      .meta(doc({ about: 'Meters that count up, such as engine hours.', example: { hours: { unit: 'h' } } })),
    specs: named(specSchema)
      .optional()
      .meta(
        doc({
          about: 'What is stated about the system and may be true or not.',
          example: { 'bank-capacity': { value: '400 Ah', basis: 'told', within: '5 %' } },
        }),
      ),
    derived: named(derivedSchema)
      .optional()
      .meta(
        doc({
          about: 'Values computed from points and specs.',
          example: { usable: { from: '0.5 * capacity', quantity: 'charge' } },
        }),
      ),
    tests: named(testSchema)
      .optional()
      .meta(
        doc({
          about: 'Procedures with readings and what is required of them.',
          example: { 'capacity-test': { requires: { capacity: '>= 320 Ah' } } },
        }),
      ),
    upkeep: named(upkeepSchema)
      .optional()
      .meta(
        doc({
          about: 'Work that comes back.',
          example: { terminals: { every: '6 months', what: 'Clean the terminals' } },
        }),
      ),
    private: z
      .array(hideableOfSystemSchema)
      .optional()
      .meta(
        doc({
          about:
            'What of this system only the owner is to see: its `prose`, the `photos` in it, or the whole `system` and all that names it.',
          example: ['prose'],
        }),
      ),
    'private-sections': privateSectionsSchema,
  })
  .meta({
    title: 'Ribband system',
    description:
      'Front matter of systems/NAME.md: what can be measured in a system and what is believed about it.',
  });

export type SystemFile = z.infer<typeof systemSchema>;
