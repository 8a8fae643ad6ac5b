import { FORMULA_FUNCTIONS, isKind, kindInfo, unitsFor } from '../quantity/index.js';
import { type Field, fieldAt } from '../read/name-fields.js';
import type { WrittenScalar } from '../read/scalars.js';
import type { Reckoning } from '../reckon/model.js';
import type { FieldCursor } from './cursor.js';
import { schemasHere } from './key-offers.js';
import { fieldsIn, textAt, textsIn } from './keys.js';
import { systemOf } from './mentions.js';
import { nameOffers, refOffers } from './name-offers.js';
import { choice, fromName, type Offer, type Offers, scalar, type Typing } from './offer.js';
import { unitOffer } from './unit-offers.js';

/** Values that can be written: names of the book, words of the format, and what only one place asks for. */

type Path = readonly (string | number)[];

/** What can be written as the value at a path. What stands in the same list already is left out. */
export function valueOffers(cursor: FieldCursor, path: Path, typing: Typing): readonly Offer[] {
  const { reckoning } = typing.around;
  const field = fieldAt(cursor.role, path, 'value');
  const names = field === null || reckoning === null ? [] : namesFor(field, reckoning, cursor, typing);
  const there = new Set(typeof path.at(-1) === 'number' ? textsIn(cursor.scalars, path.slice(0, -1)) : []);
  return [...names, ...wordsFor(cursor, path), ...placeOffers(cursor, path, typing)]
    .filter(({ label }) => !there.has(label))
    .map((offer) =>
      cursor.quoted
        ? offer
        : { ...offer, insert: offer.sort === 'unit' ? offer.insert : inYaml(offer.insert) },
    );
}

/** True and false are no texts, and so stand without quotes. */
function inYaml(word: string): string {
  return word === 'true' || word === 'false' ? word : scalar(word);
}

function namesFor(
  field: Field,
  reckoning: Reckoning,
  cursor: FieldCursor,
  { systems, file, entry }: Typing,
): readonly Offer[] {
  switch (field.holds) {
    case 'name': {
      // A part is told of again and again; whatever else is declared has to have a new name.
      if (field.declares && field.space !== 'part') return [];
      return nameOffers(field.space, reckoning, systems, entry).map((offer) => fromName(offer, null));
    }
    case 'ref': {
      const own = field.local ? systemOf(file, cursor.scalars) : null;
      return refOffers(field.sort, reckoning, systems).map((offer) => fromName(offer, own));
    }
    case 'waits-on':
      return (['part', 'item', 'decision'] as const).flatMap((space) =>
        nameOffers(space, reckoning, systems, entry).map((offer) => {
          const written = `${space} ${offer.name}`;
          return { ...fromName(offer, null), label: written, insert: written };
        }),
      );
    case 'declared-ref':
    case 'requirement':
    case 'formula':
      return [];
  }
}

/** What the format itself lays down: words to choose from, true and false, kinds of quantity. */
function wordsFor(cursor: FieldCursor, path: Path): readonly Offer[] {
  const here = schemasHere(cursor, path);
  const listed = here.flatMap((schema) => schema.enum ?? []);
  const words =
    listed.length > 0 ? listed : here.some(({ type }) => type === 'boolean') ? ['true', 'false'] : [];
  return [...new Set(words)].map((word) => choice(word, isKind(word) ? kindInfo(word).title : ''));
}

/** What only this place asks for: units of a kind, pictures of the book, the options of a decision, today. */
function placeOffers(cursor: FieldCursor, path: Path, { around }: Typing): readonly Offer[] {
  const { role, scalars } = cursor;
  const key = path.at(-1);
  if (role === 'system' && key === 'unit') {
    const kind = path[0] === 'meters' ? 'time' : textAt(scalars, [...path.slice(0, -1), 'quantity']);
    return kind !== null && isKind(kind) ? unitsFor(kind).map(unitOffer) : [];
  }
  if (role === 'system' && key === 'series') return around.series.map((file) => choice(file));
  if (role !== 'entry') return [];
  if (key === 'date' && path.length === 1) return [choice(around.today, 'today')];
  if (key === 'chose')
    return fieldsIn(scalars, [...path.slice(0, -1), 'options'], 'option').map((one) => choice(one));
  if (key === 'file' && path[0] === 'photos') return around.pictures.map((picture) => choice(picture));
  return key === 'see' ? picturesOf(scalars).map((picture) => choice(picture)) : [];
}

/** The pictures that an entry lists, by their names alone. */
export function picturesOf(scalars: readonly WrittenScalar[]): readonly string[] {
  return fieldsIn(scalars, ['photos'], 'file').map((file) => file.slice(file.lastIndexOf('/') + 1));
}

/** A formula is completed at the name in which the cursor stands; null where no formula is due. */
export function formulaOffers(cursor: FieldCursor, { around, systems, file, offset }: Typing): Offers | null {
  const field = fieldAt(cursor.role, cursor.path, 'value');
  if (field?.holds !== 'formula' || around.reckoning === null) return null;
  const word = /[\p{L}\p{N}.-]*$/u.exec(cursor.before)?.[0] ?? '';
  const own = field.local ? systemOf(file, cursor.scalars) : null;
  const names = refOffers('value', around.reckoning, systems).map((offer) => fromName(offer, own));
  const functions = FORMULA_FUNCTIONS.map(
    ({ name, call, about }): Offer => ({ ...choice(call, about), insert: `${name}(`, rank: 3 }),
  );
  return { start: offset - word.length, end: cursor.wordEnd, offers: [...names, ...functions] };
}
