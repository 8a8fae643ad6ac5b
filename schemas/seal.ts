import { z } from 'zod';
import { dateSchema, doc } from './common.js';

/**
 * The seal of a book, or of a site: the SHA-256 of each of its files, with the entries chained in the order of
 * their dates. It is written by `ribband seal` and `ribband build --seal` and by nobody's hand, so its bytes are
 * fixed by what it says: a row a line, and nothing that could be written in two ways.
 */

/** The version of the file that is written now. It goes up when a field changes its meaning or goes. */
export const SEAL_VERSION = 1;

const sha256Schema = z
  .string()
  .regex(/^[0-9a-f]{64}$/, { error: 'a SHA-256 is 64 digits from 0 to f, in small letters' });

const HASH = 'b5bb9d8014a0f9b1d61e21e796d78dccdf1352f23cd32812f4850b878ae4944c';

const hash = (about: string) => sha256Schema.meta(doc({ about, example: HASH, unit: 'SHA-256' }));

const pathSchema = z
  .string()
  .min(1)
  .max(1000)
  .meta(
    doc({
      about: 'Path of the file from the folder that is sealed, with forward slashes.',
      example: 'entries/2026/2026-04-18-capacity-test.md',
    }),
  );

const fileRow = z.strictObject({
  path: pathSchema,
  sha256: hash('SHA-256 of the bytes of the file.'),
});

const entryRow = z.strictObject({
  date: dateSchema.meta(doc({ about: 'Date of the entry, as it says itself.', example: '2026-04-18' })),
  path: pathSchema,
  sha256: hash('SHA-256 of the bytes of the file.'),
  link: hash(
    'Link of the chain: SHA-256 of one line that holds the link before (64 noughts before the first), the date, the SHA-256 and the path of the entry, with a blank between each two and a line feed behind.',
  ),
});

const otherSeal = z.strictObject({
  file: z
    .string()
    .min(1)
    .max(200)
    .meta(doc({ about: 'Path of that seal in the book.', example: 'seals/2025-11-25.json' })),
  sha256: hash('SHA-256 of the bytes of that seal.'),
});

const EXAMPLE_SEAL = { file: 'seals/2025-11-25.json', sha256: HASH };

/** A seal as it lies on disk. */
export const sealSchema = z
  .strictObject({
    format: z.literal('ribband-seal').meta(doc({ about: 'What this is.', example: 'ribband-seal' })),
    version: z
      .literal(SEAL_VERSION)
      .meta(doc({ about: 'Version of the shape of this file.', example: SEAL_VERSION })),
    of: z.enum(['book', 'site']).meta(
      doc({
        about: '`book`: the files that were written; `site`: the files that were published.',
        example: 'book',
      }),
    ),
    subject: z
      .string()
      .max(500)
      .meta(doc({ about: 'What the book is about.', example: 'Marram' })),
    made: dateSchema.meta(
      doc({
        about: 'Day on which it was made, by the clock of whoever made it: no proof of that day.',
        example: '2026-11-25',
      }),
    ),
    key: z
      .string()
      .max(2000)
      .nullable()
      .meta(
        doc({
          about:
            'Public key of the signature beside it (the same name with `.sig` behind), as in a `.pub` file; null where it is not signed.',
          example: 'ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAIAggGCMOateT6d3N4TdTIjx8+4dj724d/5iiy/Y8WvAE',
        }),
      ),
    previous: otherSeal.nullable().meta(
      doc({
        about: "The book's seal before this one; null for the first, and for that of a site.",
        example: EXAMPLE_SEAL,
      }),
    ),
    book: otherSeal.nullable().meta(
      doc({
        about:
          "For the owner's site: the newest seal of the book from which it was built. Null where there is none, for a site made for somebody else, and for a book.",
        example: EXAMPLE_SEAL,
      }),
    ),
    files: z
      .array(fileRow)
      .max(1_000_000)
      .meta(
        doc({
          about: 'Every file but entries and seals, in the order of their paths.',
          example: [{ path: 'book.yaml', sha256: HASH }],
        }),
      ),
    entries: z
      .array(entryRow)
      .max(1_000_000)
      .meta(
        doc({
          about: 'The entries, chained in the order of their dates, then of their paths; none for a site.',
          example: [
            { date: '2026-04-18', path: 'entries/2026/2026-04-18-test.md', sha256: HASH, link: HASH },
          ],
        }),
      ),
    sum: hash(
      'SHA-256 of all the lines above this one: shows whether the seal itself has come through whole.',
    ),
  })
  .meta({
    title: 'Ribband seal',
    description:
      'The SHA-256 of every file of a book (`seals/DATE.json`) or of a site (`seal.json`), by which later change shows. It is made by `ribband seal` or `ribband build --seal`, a row a line; a file that is not to the byte what these would write is no seal.',
  });

export type Seal = z.infer<typeof sealSchema>;
