import { Write } from '../../../site/templates/write.js';
import { type BookFacts, bookFacts } from '../../reckon/facts.js';
import { CAUTIONS_DEFER, type Caution, cautionsFor } from '../cautions.js';
import { paths } from '../links.js';
import { makePage } from '../make-page.js';
import type { Page } from '../page.js';
import { fieldRows } from '../schema-fields.js';
import { scriptSafe } from '../script-safe.js';
import type { Site } from '../site-context.js';
import type { ReferenceInput } from './reference.js';

/** What the page knows of the book. */
export interface WriteData {
  readonly facts: BookFacts;
  readonly cautions: readonly Caution[];
  /** That others come first. */
  readonly cautionsDefer: string;
  /** The line by which an editor finds the schema of an entry, where the book carries schemas. */
  readonly modeline: string | null;
  /** What the format says of fields, by their way: `parts[].cost`. */
  readonly help: Readonly<Record<string, string>>;
}

/** What the page says to those without script. */
export interface WriteView {
  readonly subject: string;
  readonly reference: string;
}

/**
 * The writing page, and what it knows of the book as a script beside it.
 *
 * @param modeline the line by which an editor finds the schema of an entry, or null.
 */
export function writePages(
  site: Site,
  { schemas }: ReferenceInput,
  modeline: string | null,
): readonly Page[] {
  let made: string | undefined;
  const json = () => {
    made ??= JSON.stringify(writeData(site, schemas, modeline));
    return made;
  };
  const page = makePage(site, {
    path: paths.write,
    title: 'Write an entry',
    section: 'write',
    template: Write,
    view: (): WriteView => ({
      subject: site.reckoning.book.subject.name,
      reference: paths.referenceFile('entry'),
    }),
    scripts: [paths.writeData, 'assets/write.js'],
  });
  const script: Page = {
    path: paths.writeData,
    get key() {
      return site.keyOf(paths.writeData, json());
    },
    render: () => `window.ribbandWrite=${scriptSafe(json())};\n`,
  };
  return [page, script];
}

function writeData(site: Site, schemas: ReferenceInput['schemas'], modeline: string | null): WriteData {
  const facts = bookFacts(site.reckoning);
  const hazards = new Set(facts.systems.flatMap(({ tests }) => tests.flatMap((test) => test.hazards)));
  const entry = schemas.find(({ name }) => name === 'entry')?.schema ?? {};
  return {
    facts,
    cautions: cautionsFor([...hazards]),
    cautionsDefer: CAUTIONS_DEFER,
    modeline,
    help: Object.fromEntries(fieldRows(entry).map(({ path, about }) => [path, about])),
  };
}
