import { z } from 'zod';
import {
  allowanceSchema,
  basisSchema,
  dateSchema,
  doc,
  hideableSchema,
  idSchema,
  intervalSchema,
  KIND_UNIT,
  lineSchema,
  named,
  quantitySchema,
  textSchema,
} from './common.js';

const subjectSchema = z.strictObject({
  name: lineSchema.meta(doc({ about: 'What the subject is called.', example: 'Marram' })),
  type: lineSchema
    .optional()
    .meta(doc({ about: 'What sort of thing it is.', example: 'wooden motor-sailer' })),
  built: z
    .union([z.int(), lineSchema])
    .optional()
    .meta(doc({ about: 'Year or years in which it was built.', example: 1968, unit: 'year' })),
  about: textSchema.optional().meta(
    doc({
      about: 'A few sentences for the first page.',
      example: 'Larch on oak, built for coastal trade and converted.',
    }),
  ),
  'home-port': lineSchema.optional().meta(
    doc({
      about: 'Where it is kept; left out for an audience that is not to see `places`.',
      example: 'Saltmarsh Creek',
    }),
  ),
  particulars: z
    .record(z.string().min(1).max(80), z.union([quantitySchema, lineSchema]))
    .optional()
    .meta(
      doc({
        about:
          'Further particulars, in the order in which they are to be shown: a label, then a value with its unit or a text.',
        example: { 'length overall': '11.2 m', beam: '3.6 m' },
      }),
    ),
});

const personSchema = z.strictObject({
  name: lineSchema.meta(
    doc({
      about:
        'Name as shown. In a copy for an audience that is not to see people, `shown-as` stands for it, also where the name, one of its words or the short name stands in a text.',
      example: 'the owner',
    }),
  ),
  role: lineSchema.optional().meta(doc({ about: 'What they are to the work.', example: 'marine surveyor' })),
  'third-party': z
    .boolean()
    .optional()
    .meta(
      doc({
        about:
          'True for somebody other than the owner who answers for what they say (surveyor, yard, laboratory): what they measure counts as `witnessed`.',
        example: true,
      }),
    ),
  licence: lineSchema.optional().meta(
    doc({
      about: 'Licence or certificate under which they work, where one is due.',
      example: 'gas fitter, certificate 0000',
    }),
  ),
  'shown-as': lineSchema.optional().meta(
    doc({
      about:
        'What stands for this person where people are not shown; with the licence in it, if it is to be seen. `someone`, or `a third party`, where left out. Role and licence are then not shown.',
      example: 'the gas fitter, certificate 0000',
    }),
  ),
});

const rangeSchema = z
  .tuple([quantitySchema, quantitySchema])
  .meta(doc({ about: 'Lowest and highest value that the instrument can show.', example: ['0 V', '600 V'] }));

const abilitySchema = z.strictObject({
  range: rangeSchema.optional(),
  accuracy: allowanceSchema.optional().meta(
    doc({
      about:
        'Half-width within which a reading can be trusted: a share of the reading, an amount, or both added. Used where a reading states no ± of its own.',
      example: '0.5 % + 0.02 V',
    }),
  ),
});

const instrumentSchema = z.strictObject({
  name: lineSchema.meta(doc({ about: 'What it is, in plain words.', example: 'clamp meter, DC and AC' })),
  serial: lineSchema.optional().meta(
    doc({
      about: 'Serial number; left out for an audience that is not to see `serials`.',
      example: 'A-1042',
    }),
  ),
  measures: z
    .record(z.string(), abilitySchema)
    .optional()
    .meta(
      doc({
        about: 'Range and accuracy for each kind of quantity that it measures.',
        example: { voltage: { range: ['0 V', '600 V'], accuracy: '0.5 % + 0.02 V' } },
        unit: KIND_UNIT,
      }),
    ),
  checked: dateSchema
    .optional()
    .meta(doc({ about: 'Day of its last calibration or comparison.', example: '2025-11-02', unit: 'date' })),
  'again-every': intervalSchema.optional().meta(
    doc({
      about: 'How often it has to be calibrated or compared.',
      example: '2 years',
      unit: 'calendar interval',
    }),
  ),
});

const audienceSchema = z.strictObject({
  hides: z
    .array(hideableSchema)
    .optional()
    .meta(
      doc({
        about:
          'What this audience is not to see anywhere in the book: `cost` (every amount of money), `suppliers`, `people`, `serials`, `places`, `hours` (working time, done and estimated), `photos`, `prose` (of entries and systems) or `entry` (every entry).',
        example: ['cost', 'suppliers', 'people'],
      }),
    ),
  'hides-systems': z
    .array(idSchema)
    .optional()
    .meta(
      doc({
        about:
          'Systems this audience is not to see at all, nor what names them. An entry whose main system is one of them is left out whole.',
        example: ['gas'],
      }),
    ),
  'needs-at-least': basisSchema.optional().meta(
    doc({
      about:
        'Weakest basis that counts as proof for this audience: a spec needs this or what its own `needs` names, whichever is stronger. Weaker evidence is shown as what it is. A text that has to be `measured` needs to be `marked`, since nobody measures a name.',
      example: 'measured',
    }),
  ),
});

const unitsSchema = z.strictObject({
  show: z
    .enum(['as-written', 'metric', 'us'])
    .optional()
    .meta(
      doc({
        about: 'In which units values are shown: as they were written (the usual), or all in one system.',
        example: 'as-written',
      }),
    ),
  prefer: z
    .record(z.string(), z.string().min(1).max(20))
    .optional()
    .meta(
      doc({
        about: 'The unit to show for a kind of quantity, whatever was written.',
        example: { length: 'mm', torque: 'N m' },
        unit: KIND_UNIT,
      }),
    ),
});

const copySchema = z.strictObject({
  for: idSchema.meta(doc({ about: 'The audience for whom the copy was made.', example: 'buyer' })),
  without: z
    .array(hideableSchema)
    .optional()
    .meta(
      doc({
        about:
          'What this audience is not to see anywhere in the book, and what is therefore not in the copy.',
        example: ['cost', 'suppliers'],
      }),
    ),
  'also-private': z
    .boolean()
    .optional()
    .meta(
      doc({
        about: 'True where single things that the owner keeps private are left out too.',
        example: true,
      }),
    ),
  'evidence-left-out': z
    .boolean()
    .optional()
    .meta(
      doc({
        about: 'True where some of the readings, statements or tests are not in the copy.',
        example: true,
      }),
    ),
  'needs-at-least': basisSchema.optional().meta(
    doc({
      about: 'Weakest basis that counts as proof in the copy, whatever a spec itself needs.',
      example: 'measured',
    }),
  ),
  'no-totals-of': z
    .array(z.enum(['cost', 'hours']))
    .optional()
    .meta(
      doc({
        about: 'Of what no total is given, since some of its parts are not in the copy.',
        example: ['cost'],
      }),
    ),
  'waits-on-hidden': z
    .array(idSchema)
    .optional()
    .meta(
      doc({
        about: 'Open items that wait on something that is not in the copy.',
        example: ['fit-house-bank'],
      }),
    ),
});

/** `book.yaml`: the subject of the book and what holds for all of it. */
export const bookSchema = z
  .strictObject({
    book: idSchema.meta(
      doc({
        about: 'Short name of the book, used in file names and addresses of exports.',
        example: 'marram',
      }),
    ),
    subject: subjectSchema.meta(
      doc({ about: 'What the book is about.', example: { name: 'Marram', type: 'wooden motor-sailer' } }),
    ),
    language: z
      .string()
      .regex(/^[a-z]{2,3}(?:-[A-Z][a-z]{3})?(?:-[A-Z]{2})?$/, {
        error: 'a language is a code such as `en` or `en-GB`',
      })
      .optional()
      .meta(doc({ about: 'Language of the prose (BCP 47). English where left out.', example: 'en-GB' })),
    currency: z
      .string()
      .regex(/^[A-Z]{3}$/, { error: 'a currency is a code of three capitals, such as `EUR`' })
      .optional()
      .meta(doc({ about: 'Currency in which most money of the book is spent (ISO 4217).', example: 'EUR' })),
    address: z
      .string()
      .max(300)
      .regex(/^https?:\/\/[\w.~-]+(?::\d{1,5})?(?:\/[\w.~%-]+)*\/?$/, {
        error: 'an address is one such as `https://example.org/boat/`, without `?` and `#`',
      })
      .optional()
      .meta(
        doc({
          about:
            'Where the built site will lie, so that the calendar, the feed and the linked data can lead to its pages from anywhere. Left out, they carry no addresses, or such as count from the file itself. Copies for an audience do not carry it.',
          example: 'https://example.org/marram/',
        }),
      ),
    units: unitsSchema
      .optional()
      .meta(doc({ about: 'How values are shown.', example: { show: 'as-written' } })),
    people: named(personSchema)
      .optional()
      .meta(
        doc({
          about: 'Everybody that the book names, by a short name.',
          example: { owner: { name: 'the owner' } },
        }),
      ),
    instruments: named(instrumentSchema)
      .optional()
      .meta(
        doc({
          about: 'Instruments with which readings are taken, by a short name.',
          example: { 'clamp-meter': { name: 'clamp meter' } },
        }),
      ),
    audiences: named(audienceSchema)
      .optional()
      .meta(
        doc({
          about:
            'For whom `build --for` makes a copy, and what each is not to see. `owner` sees everything and is not named here. Where `public`, `buyer` and `surveyor` are not named, `public` does not see cost, suppliers, people, serials, places and hours, `buyer` not cost, suppliers and people, `surveyor` not cost, suppliers and hours.',
          example: { public: { hides: ['cost', 'people'] } },
        }),
      ),
    copy: copySchema.optional().meta(
      doc({
        about:
          'Says that this is a copy of a book made for an audience, with things left out. Ribband writes it; it is never written by hand.',
        example: { for: 'buyer', without: ['cost'] },
      }),
    ),
  })
  .meta({
    title: 'Ribband book',
    description: 'book.yaml: the subject of the book and what holds for all of it.',
  });

export type BookFile = z.infer<typeof bookSchema>;
