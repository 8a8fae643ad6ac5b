import { z } from 'zod';
import {
  dateSchema,
  doc,
  idSchema,
  lineSchema,
  named,
  positionSchema,
  quantitySchema,
  refSchema,
} from './common.js';

const restsOn = z
  .array(refSchema)
  .optional()
  .meta(doc({ about: 'Specs and points that it stands or falls with.', example: ['hull.draught-aft'] }));

const hydrostaticsSchema = z.strictObject({
  on: dateSchema.meta(
    doc({ about: 'Day on which the boat floated like this.', example: '2024-09-14', unit: 'date' }),
  ),
  source: lineSchema
    .optional()
    .meta(doc({ about: 'Where the figures come from.', example: 'lines taken off, then computed' })),
  length: quantitySchema.meta(
    doc({ about: 'Length between the draught marks.', example: '9.80 m', unit: 'length' }),
  ),
  'aft-mark': quantitySchema.optional().meta(
    doc({
      about: 'Where the aft draught mark is, forward of the origin. At the origin, where left out.',
      example: '0.15 m',
      unit: 'length',
    }),
  ),
  displacement: quantitySchema.meta(
    doc({ about: 'Mass of water displaced on that day.', example: '9.6 t', unit: 'mass' }),
  ),
  'draught-fwd': quantitySchema.meta(
    doc({ about: 'Draught at the forward mark.', example: '1.12 m', unit: 'length' }),
  ),
  'draught-aft': quantitySchema.meta(
    doc({ about: 'Draught at the aft mark.', example: '1.43 m', unit: 'length' }),
  ),
  tpc: quantitySchema.meta(doc({ about: 'Tonnes per centimetre immersion (TPC).', example: '0.21 t/cm' })),
  mctc: quantitySchema.meta(
    doc({ about: 'Moment to change trim by one centimetre (MCT 1 cm).', example: '0.11 t m/cm' }),
  ),
  lcf: quantitySchema.meta(
    doc({ about: 'Centre of flotation, forward of the origin.', example: '4.6 m', unit: 'length' }),
  ),
  lcg: quantitySchema.optional().meta(
    doc({
      about: 'Centre of gravity on that day, forward of the origin.',
      example: '4.8 m',
      unit: 'length',
    }),
  ),
  kg: quantitySchema
    .optional()
    .meta(
      doc({ about: 'Centre of gravity on that day, above the origin.', example: '0.9 m', unit: 'length' }),
    ),
  gm: quantitySchema
    .optional()
    .meta(
      doc({ about: 'Metacentric height from an inclining experiment.', example: '0.74 m', unit: 'length' }),
    ),
  valid: z
    .strictObject({
      'mass-change': quantitySchema.meta(
        doc({ about: 'Largest change of displacement for which the figures hold.', example: '10 %' }),
      ),
      'trim-change': quantitySchema
        .optional()
        .meta(
          doc({ about: 'Largest change of trim for which they hold.', example: '15 cm', unit: 'length' }),
        ),
      heel: quantitySchema
        .optional()
        .meta(doc({ about: 'Largest heel for which they hold.', example: '7 °', unit: 'angle' })),
    })
    .meta(
      doc({
        about: 'Limits outside which no draught, trim or heel is given.',
        example: { 'mass-change': '10 %' },
      }),
    ),
  'rests-on': restsOn,
});

const weightSchema = z.strictObject({
  title: lineSchema
    .optional()
    .meta(doc({ about: 'What it is, in plain words.', example: 'Anchor and 40 m of chain' })),
  mass: quantitySchema.meta(
    doc({ about: 'Its mass; negative for something taken away.', example: '92 kg', unit: 'mass' }),
  ),
  at: positionSchema.meta(
    doc({
      about: 'Its centre: forward, to starboard, up.',
      example: ['9.4 m', '0 m', '0.8 m'],
      unit: 'length',
    }),
  ),
  since: dateSchema
    .optional()
    .meta(doc({ about: 'Aboard since that day.', example: '2024-09-14', unit: 'date' })),
  system: idSchema.optional().meta(doc({ about: 'The system it belongs to.', example: 'deck' })),
  note: lineSchema.optional().meta(doc({ about: 'A remark.', example: 'weighed on the yard crane' })),
  'rests-on': restsOn,
});

/** `plans/weights.yaml`: how the boat floated, and the weights that no entry brings. */
export const weightsPlanSchema = z
  .strictObject({
    title: lineSchema.optional().meta(doc({ about: 'Name of the plan.', example: 'Weights' })),
    origin: lineSchema.meta(
      doc({
        about: 'The point from which positions count: forward, to starboard, up.',
        example: 'aft face of the sternpost, centreline, underside of the keel',
      }),
    ),
    hydrostatics: hydrostaticsSchema.optional().meta(
      doc({
        about: 'How the boat floated when it was last known.',
        example: {
          on: '2024-09-14',
          length: '9.80 m',
          displacement: '9.6 t',
          'draught-fwd': '1.12 m',
          'draught-aft': '1.43 m',
          tpc: '0.21 t/cm',
          mctc: '0.11 t m/cm',
          lcf: '4.6 m',
          valid: { 'mass-change': '10 %' },
        },
      }),
    ),
    weights: named(weightSchema)
      .optional()
      .meta(
        doc({
          about: 'Weights that no entry brings.',
          example: { 'anchor-gear': { mass: '92 kg', at: ['9.4 m', '0 m', '0.8 m'] } },
        }),
      ),
  })
  .meta({
    title: 'Ribband weights plan',
    description: 'plans/weights.yaml: how the boat floated, and the weights that no entry brings.',
  });

export type WeightsPlanFile = z.infer<typeof weightsPlanSchema>;
