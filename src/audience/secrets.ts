import type { BookFile } from '../../schemas/book.js';
import type { EntryFile } from '../../schemas/entry.js';
import type { Hideable } from '../check/model.js';
import type { ParsedFile } from '../check/parse.js';
import { parseMoney } from '../quantity/index.js';
import { type Sort, sortAt } from './shape.js';
import { leavesOf, valueAt } from './tree.js';
import { commonWords, isTelling, type Secret, tellingWords } from './words.js';

/** What a book knows by name that some texts must not name: people, suppliers, serial numbers and places. */

type Named = Exclude<Hideable, 'cost' | 'hours' | 'photos' | 'prose' | 'entry'>;

/** Every name that the book knows, by what it is. */
export type Known = Readonly<Record<Named, readonly Secret[]>>;

/** Gathers the names that a book knows. */
export function knownNames(files: readonly ParsedFile[]): Known {
  const book = (files.find(({ source }) => source.role === 'book')?.data ?? {}) as BookFile;
  const entries = files.flatMap(({ source, data }) => (source.role === 'entry' ? [data as EntryFile] : []));
  const common = commonWords(files.flatMap(textsOf));
  const withWords = (name: string, says: string): readonly Secret[] => [
    { text: name, says },
    ...tellingWords(name, common).map((text) => ({ text, says })),
  ];
  const parts = entries.flatMap((entry) => entry.parts ?? []);
  const suppliers = distinct(parts.map((part) => part['from-supplier']));
  const places = distinct([...entries.map(({ place }) => place), book.subject?.['home-port']]);
  return {
    people: Object.entries(book.people ?? {}).flatMap(([id, person]): readonly Secret[] => {
      const says = person['shown-as'] ?? (person['third-party'] === true ? 'a third party' : 'someone');
      const plain = `${person.role ?? ''} ${person['shown-as'] ?? ''}`.toLowerCase().split(/[^\p{L}\p{N}]+/u);
      // A short name that only says what they are to the work names nobody.
      const byId = id.split('-').every((word) => plain.includes(word)) ? [] : [{ text: id, says }];
      const licence = person.licence === undefined ? [] : [{ text: person.licence, says: 'a licence' }];
      return [...withWords(person.name, says), ...byId, ...licence];
    }),
    suppliers: suppliers.flatMap((name) => withWords(name, 'a supplier')),
    serials: distinct([
      ...parts.map(({ serial }) => serial),
      ...Object.values(book.instruments ?? {}).map(({ serial }) => serial),
      ...serialValues(files),
    ])
      .filter(isTelling)
      .map((text) => ({ text, says: 'a serial number' })),
    places: places.flatMap((place) =>
      [place, ...place.split(/\s*,\s*/)]
        .filter((name) => /\p{Lu}/u.test(name))
        .flatMap((name) => withWords(name, 'a place')),
    ),
  };
}

function serialValues(files: readonly ParsedFile[]): readonly string[] {
  return files.flatMap(({ source: { role }, data }) =>
    leavesOf(data).flatMap(({ path, part, value }): string[] => {
      const inSpec =
        role === 'system' &&
        path[0] === 'specs' &&
        path[2] === 'value' &&
        /(?:^|-)serial(?:-|$)/.test(String(path[1]));
      const inParticulars =
        role === 'book' && path[1] === 'particulars' && /\bserial\b/i.test(String(path[2]));
      const inStatement =
        role === 'entry' &&
        path[0] === 'statements' &&
        path[2] === 'says' &&
        /\..*(?:^|-|\.)serial(?:-|$)/.test(String(valueAt(data, [...path.slice(0, 2), 'spec'])));
      return part === 'value' && (inSpec || inParticulars || inStatement) ? [String(value)] : [];
    }),
  );
}

/** All that a file says in its own words. */
function textsOf({ source: { role }, data, body }: ParsedFile): readonly string[] {
  const fields = leavesOf(data).flatMap(({ path, part, value }) =>
    typeof value === 'string' && isOwnWords(sortAt(role, path, part)) && !parseMoney(value).ok ? [value] : [],
  );
  return [...fields, body];
}

function isOwnWords(sort: Sort): boolean {
  return sort === 'words' || sort === 'value';
}

function distinct(texts: readonly (string | undefined)[]): readonly string[] {
  return [...new Set(texts.flatMap((text) => (text === undefined || text.trim() === '' ? [] : [text])))];
}
