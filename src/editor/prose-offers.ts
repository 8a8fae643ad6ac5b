import { ALL_KINDS, kindInfo } from '../quantity/index.js';
import { scalarsIn, type WrittenScalar } from '../read/scalars.js';
import type { ProseCursor } from './cursor.js';
import { nameOffers, refOffers } from './name-offers.js';
import { choice, fromName, type Offer, type Offers, type Typing } from './offer.js';
import { schemasAt } from './schema-at.js';
import { unitsAfter } from './unit-offers.js';
import { picturesOf } from './value-offers.js';

/** What can be written in a reading that the prose of an entry tells. */
export function proseOffers(cursor: ProseCursor, typing: Typing): Offers | null {
  const { start } = cursor;
  const end = typing.offset;
  switch (cursor.at) {
    case 'mark':
      return { start, end, offers: [beginning()] };
    case 'value': {
      const point = typing.around.reckoning?.timelines.get(cursor.given.get('point') ?? '')?.point;
      return point === undefined ? null : unitsAfter(cursor.before, end, point.kind, null);
    }
    case 'attribute':
      return { start, end, offers: attributes(cursor.given) };
    case 'attribute-value':
      return { start, end, offers: valuesOf(cursor.attribute ?? '', typing) };
  }
}

function beginning(): Offer {
  const insert = ':reading[$1]{point="$2"}';
  return { ...choice(':reading', 'a reading told here'), insert, snippet: true };
}

const ATTRIBUTES = ['point', 'what', 'with', 'by', 'system', 'quantity', 'basis', 'see', 'note'] as const;

function attributes(given: ReadonlyMap<string, string>): readonly Offer[] {
  // Attributes are the fields of a reading in full.
  const fields = new Map(
    schemasAt('entry', ['measurements', 0], () => ['value']).flatMap(({ properties = {} }) =>
      Object.entries(properties),
    ),
  );
  return ATTRIBUTES.filter((name) => !given.has(name)).map((name, rank): Offer => {
    const field = fields.get(name);
    const about = field === undefined ? null : { field };
    return { ...choice(name), insert: `${name}="$1"`, snippet: true, sort: 'field', about, rank };
  });
}

const SPACES = new Map([
  ['with', 'instrument'],
  ['by', 'person'],
  ['system', 'system'],
] as const);

function valuesOf(attribute: string, { file, around, systems }: Typing): readonly Offer[] {
  const { reckoning } = around;
  const space = SPACES.get(attribute as 'with');
  if (space !== undefined && reckoning !== null)
    return nameOffers(space, reckoning, systems, null).map((offer) => fromName(offer, null));
  switch (attribute) {
    case 'point':
      return reckoning === null
        ? []
        : refOffers('point', reckoning, systems).map((offer) => fromName(offer, null));
    case 'quantity':
      return ALL_KINDS.map((kind) => choice(kind, kindInfo(kind).title));
    case 'basis':
      return ['marked', 'measured', 'witnessed'].map((word) => choice(word));
    case 'see':
      return picturesOf(fieldsOf(file.text)).map((picture) => choice(picture));
    default:
      return [];
  }
}

function fieldsOf(text: string): readonly WrittenScalar[] {
  return scalarsIn(text, false);
}
