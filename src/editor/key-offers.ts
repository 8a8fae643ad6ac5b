import { isKind, kindInfo } from '../quantity/index.js';
import { fieldAt } from '../read/name-fields.js';
import type { FieldCursor } from './cursor.js';
import { keysIn, textAt } from './keys.js';
import { systemOf } from './mentions.js';
import { nameOffers, refOffers } from './name-offers.js';
import { choice, fromName, named, type Offer, scalar, type Typing } from './offer.js';
import { type JsonSchema, schemasAt } from './schema-at.js';

/** Keys that can be written: fields of the format, and names where a key is a name. */

type Path = readonly (string | number)[];

/** What the format says of the thing at a path, by the keys that it has so far. */
export function schemasHere(cursor: FieldCursor, path: Path): readonly JsonSchema[] {
  return schemasAt(cursor.role, path, (at) => keysIn(cursor.scalars, at));
}

/** Fields of the group at a path that are not there yet; those that have to be come first. */
export function fieldOffers(cursor: FieldCursor, path: Path): readonly Offer[] {
  const there = new Set(keysIn(cursor.scalars, path));
  const offers = new Map<string, Offer>();
  for (const { properties = {}, required = [] } of schemasHere(cursor, path)) {
    for (const [key, field] of Object.entries(properties)) {
      if (there.has(key) || offers.has(key)) continue;
      const due = required.includes(key);
      offers.set(key, {
        ...choice(key, due ? 'has to be there' : ''),
        insert: cursor.hasColon ? key : `${key}: `,
        sort: 'field',
        about: { field },
        rank: due ? 0 : 2,
      });
    }
  }
  return [...offers.values()];
}

/** Names that can be keys of the group at a path: points, what a test requires, kinds, conditions, cases. */
export function keyNameOffers(cursor: FieldCursor, path: Path, typing: Typing): readonly Offer[] {
  const there = new Set(keysIn(cursor.scalars, path));
  const colon = cursor.hasColon ? '' : ': ';
  return namesFor(cursor, path, there, typing)
    .filter(({ label }) => !there.has(label))
    .map((offer) => ({ ...offer, insert: `${scalar(offer.label)}${colon}` }));
}

function namesFor(
  cursor: FieldCursor,
  path: Path,
  there: ReadonlySet<string>,
  typing: Typing,
): readonly Offer[] {
  const kinds = schemasHere(cursor, path).flatMap((schema) => schema.propertyNames?.enum ?? []);
  if (kinds.length > 0) return kinds.map((kind) => choice(kind, isKind(kind) ? kindInfo(kind).title : ''));
  const { reckoning } = typing.around;
  if (reckoning === null) return [];
  if (isReading(cursor, path)) {
    // The short form is a point and nothing besides.
    return there.size > 0
      ? []
      : refOffers('point', reckoning, typing.systems).map((offer) => fromName(offer, null));
  }
  const field = fieldAt(cursor.role, [...path, 'name'], 'key');
  if (field?.holds === 'requirement') return requirementOffers(cursor, path, typing);
  if (field?.holds === 'name' && !field.declares)
    return nameOffers(field.space, reckoning, typing.systems, typing.entry).map((offer) =>
      fromName(offer, null),
    );
  return path.at(-1) === 'under' ? conditionOffers(cursor, path, typing) : [];
}

function isReading({ role }: FieldCursor, path: Path): boolean {
  return role === 'entry' && path.length === 2 && path[0] === 'measurements';
}

/** In an entry the names that the test requires; in a system file the points of the system. */
function requirementOffers(cursor: FieldCursor, path: Path, { file, around }: Typing): readonly Offer[] {
  const { reckoning } = around;
  if (reckoning === null) return [];
  if (cursor.role === 'system') {
    const points = reckoning.book.systems.get(systemOf(file, cursor.scalars))?.points.values() ?? [];
    return [...points].map(({ name, title, ref }) => named(name, title, 'ref', ref));
  }
  const test = textAt(cursor.scalars, [...path.slice(0, -1), 'test']);
  const requires = reckoning.tests.get(test ?? '')?.test.requires ?? [];
  return requires.map((one) =>
    one.type === 'band' && one.point !== null
      ? named(one.name, one.written, 'ref', one.point)
      : named(one.name, one.written, 'requirement', `${test}/${one.name}`),
  );
}

/** Conditions at which the point is compared, and those that were noted with it before. */
function conditionOffers(cursor: FieldCursor, path: Path, { around }: Typing): readonly Offer[] {
  const point = textAt(cursor.scalars, [...path.slice(0, -1), 'point']);
  const timeline = around.reckoning?.timelines.get(point ?? '');
  if (timeline === undefined) return [];
  const compared = timeline.point.compareAt.map(({ condition }) => condition);
  const noted = timeline.readings.flatMap(({ reading }) => reading.under.map(({ name }) => name));
  return [...new Set([...compared, ...noted])].map((name) => choice(name, 'condition'));
}
