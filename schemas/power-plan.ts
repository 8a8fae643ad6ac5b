import { z } from 'zod';
import {
  doc,
  formulaSchema,
  idSchema,
  intervalSchema,
  lineSchema,
  named,
  quantitySchema,
  refSchema,
  textSchema,
} from './common.js';

/** A value of a plan: a quantity, or a formula over points and specs so that it moves with what is measured. */
const planValueSchema = z.union([quantitySchema, formulaSchema]);
const restsOn = z
  .array(refSchema)
  .optional()
  .meta(
    doc({
      about:
        'Specs, points and derived values that it stands or falls with, on top of those its formulas name.',
      example: ['shore-power.charger-output'],
    }),
  );
const systemField = idSchema
  .optional()
  .meta(doc({ about: 'The system it belongs to.', example: 'house-dc' }));
const titleField = lineSchema
  .optional()
  .meta(doc({ about: 'What it is, in plain words.', example: 'Shore charger' }));

const caseSchema = z.strictObject({
  title: lineSchema.meta(doc({ about: 'The case in plain words.', example: 'At anchor, winter' })),
  about: textSchema
    .optional()
    .meta(doc({ about: 'What is assumed.', example: 'Two aboard, heater running day and night.' })),
  days: quantitySchema
    .optional()
    .meta(doc({ about: 'How long it has to last without shore power.', example: '3 d', unit: 'time' })),
  without: z
    .array(idSchema)
    .optional()
    .meta(doc({ about: 'Sources that are not there in this case.', example: ['shore-charger'] })),
  'charge-to': quantitySchema.optional().meta(
    doc({
      about:
        'State of charge to which the stores are filled again each day. Full, where left out; the last part of a charge is slow.',
      example: '85 %',
    }),
  ),
});

const useSchema = z.strictObject({
  hours: quantitySchema.meta(
    doc({ about: 'Hours a day that it runs in this case.', example: '8 h', unit: 'time' }),
  ),
  between: z
    .array(
      z.string().regex(/^(?:[01]\d|2[0-3]):[0-5]\d-(?:(?:[01]\d|2[0-3]):[0-5]\d|24:00)$/, {
        error: 'this is written as `18:00-23:00`',
      }),
    )
    .optional()
    .meta(
      doc({
        about: 'When in the day; `22:00-06:00` goes over midnight. Any time of the day, where left out.',
        example: ['18:00-23:00'],
      }),
    ),
});

const sourceSchema = z.strictObject({
  title: titleField,
  system: systemField,
  continuous: planValueSchema.meta(
    doc({ about: 'Active power that it gives for hours.', example: '2000 W' }),
  ),
  apparent: planValueSchema.optional().meta(
    doc({
      about: 'Apparent power that it gives for hours, where it is limited by current.',
      example: '2500 VA',
    }),
  ),
  'short-time': z
    .strictObject({
      power: planValueSchema.meta(doc({ about: 'What it gives for a short time.', example: '4000 W' })),
      for: quantitySchema.meta(doc({ about: 'For how long.', example: '5 s', unit: 'time' })),
    })
    .optional()
    .meta(
      doc({
        about: 'Short-time rating, against which starting currents are held.',
        example: { power: '4000 W', for: '5 s' },
      }),
    ),
  derate: quantitySchema
    .optional()
    .meta(doc({ about: 'Share of the rating that may be used for hours.', example: '80 %' })),
  fuel: planValueSchema
    .optional()
    .meta(doc({ about: 'Fuel used an hour at the continuous rating.', example: '2.1 L/h' })),
  fills: z
    .array(idSchema)
    .optional()
    .meta(doc({ about: 'Stores that it charges.', example: ['house-bank'] })),
  runs: named(useSchema)
    .optional()
    .meta(
      doc({
        about:
          'Hours a day that it may run, for each case: a generator that is kept quiet at night, an engine under way. Without limit, where left out.',
        example: { winter: { hours: '2 h', between: ['17:00-19:00'] } },
      }),
    ),
  drains: idSchema.optional().meta(
    doc({
      about: 'Store that it takes its energy from, such as an inverter its bank.',
      example: 'house-bank',
    }),
  ),
  efficiency: quantitySchema.optional().meta(
    doc({
      about: 'Share of what it takes that it gives; of a source that fills a store, share that gets there.',
      example: '88 %',
    }),
  ),
  'rests-on': restsOn,
});

const acceptanceSchema = z.strictObject({
  at: quantitySchema.meta(doc({ about: 'State of charge.', example: '80 %' })),
  current: planValueSchema.meta(doc({ about: 'Largest current it takes there.', example: '25 A' })),
});

const storeSchema = z.strictObject({
  title: titleField,
  system: systemField,
  capacity: planValueSchema.meta(
    doc({
      about: 'Charge that it holds when new to the plan; best given as a formula over a point.',
      example: 'house-dc.capacity',
    }),
  ),
  voltage: quantitySchema.meta(doc({ about: 'Nominal voltage.', example: '12 V' })),
  usable: quantitySchema
    .optional()
    .meta(doc({ about: 'Share that may be taken out in use. All, where left out.', example: '50 %' })),
  'charging-voltage': quantitySchema.optional().meta(
    doc({
      about: 'Voltage while it is charged. The nominal voltage, where left out.',
      example: '14.1 V',
      unit: 'voltage',
    }),
  ),
  'charge-efficiency': quantitySchema.optional().meta(
    doc({
      about: 'Share of the charge put in that comes out again. All, where left out.',
      example: '90 %',
    }),
  ),
  acceptance: z
    .array(acceptanceSchema)
    .optional()
    .meta(
      doc({ about: 'Charging current it accepts as it fills.', example: [{ at: '80 %', current: '25 A' }] }),
    ),
  'rests-on': restsOn,
});

const loadSchema = z.strictObject({
  title: titleField,
  system: systemField,
  from: idSchema.meta(doc({ about: 'Source or store that feeds it.', example: 'inverter' })),
  running: planValueSchema.meta(doc({ about: 'Active power while it runs.', example: '60 W' })),
  starting: planValueSchema
    .optional()
    .meta(doc({ about: 'Active power while it starts.', example: '180 W' })),
  'power-factor': quantitySchema
    .optional()
    .meta(doc({ about: 'Active over apparent power.', example: '0.8' })),
  uses: named(useSchema).meta(
    doc({ about: 'Hours a day for each case.', example: { winter: { hours: '8 h' } } }),
  ),
  shed: z
    .int()
    .positive({ error: 'the order of switching off begins with 1' })
    .optional()
    .meta(
      doc({
        about: 'Order in which loads are switched off when it is too much: 1 first. Never, where left out.',
        example: 1,
      }),
    ),
  'rests-on': restsOn,
});

/** `plans/power.yaml`: sources, stores and loads of power, and the cases that they must do. */
export const powerPlanSchema = z
  .strictObject({
    title: lineSchema.optional().meta(doc({ about: 'Name of the plan.', example: 'Power' })),
    cases: named(caseSchema).meta(
      doc({
        about: 'Situations that the plan has to do.',
        example: { winter: { title: 'At anchor, winter' } },
      }),
    ),
    sources: named(sourceSchema)
      .optional()
      .meta(doc({ about: 'What gives power.', example: { 'shore-charger': { continuous: '360 W' } } })),
    stores: named(storeSchema)
      .optional()
      .meta(
        doc({
          about: 'What keeps it.',
          example: { 'house-bank': { capacity: 'house-dc.capacity', voltage: '12 V' } },
        }),
      ),
    loads: named(loadSchema)
      .optional()
      .meta(
        doc({
          about: 'What uses it.',
          example: { fridge: { from: 'house-bank', running: '45 W', uses: { winter: { hours: '6 h' } } } },
        }),
      ),
    review: intervalSchema.optional().meta(
      doc({
        about: 'How often the plan is to be gone over again.',
        example: '12 months',
        unit: 'calendar interval',
      }),
    ),
  })
  .meta({
    title: 'Ribband power plan',
    description: 'plans/power.yaml: sources, stores and loads of power, and the cases that they must do.',
  });

export type PowerPlanFile = z.infer<typeof powerPlanSchema>;
