import { entryId } from '../check/build/entry.js';
import { scalarsIn, type WrittenScalar } from '../read/scalars.js';
import { cursorAt, type FieldCursor } from './cursor.js';
import { fieldOffers, keyNameOffers, schemasHere } from './key-offers.js';
import { textsIn } from './keys.js';
import { kindDue } from './kind-due.js';
import { type NamedFile, systemOf } from './mentions.js';
import type { Offer, Offers, Surroundings, Typing } from './offer.js';
import { proseOffers } from './prose-offers.js';
import { unitsAfter } from './unit-offers.js';
import { formulaOffers, valueOffers } from './value-offers.js';

/** Everything that can be written at a place in a file; null where nothing can be told. */
export function completionsAt(file: NamedFile, offset: number, around: Surroundings): Offers | null {
  const cursor = cursorAt(file, offset);
  if (cursor === null) return null;
  const scalars = cursor.in === 'fields' ? cursor.scalars : scalarsIn(file.text, false);
  const entry = file.role === 'entry' ? entryId(file.path) : null;
  const typing: Typing = { file, offset, around, systems: systemsOf(file, scalars), entry };
  return cursor.in === 'fields' ? inFields(cursor, typing) : proseOffers(cursor, typing);
}

function systemsOf(file: NamedFile, scalars: readonly WrittenScalar[]): ReadonlySet<string> {
  return new Set(file.role === 'system' ? [systemOf(file, scalars)] : textsIn(scalars, ['systems']));
}

function inFields(cursor: FieldCursor, typing: Typing): Offers | null {
  const { path, part } = cursor;
  const whole = (offers: readonly Offer[]): Offers => ({ start: cursor.start, end: cursor.wordEnd, offers });
  if (part === 'key') return whole([...fieldOffers(cursor, path), ...keyNameOffers(cursor, path, typing)]);
  return unitOffers(cursor, typing) ?? formulaOffers(cursor, typing) ?? whole(itemOffers(cursor, typing));
}

function unitOffers({ role, path, scalars, before }: FieldCursor, { offset, around }: Typing): Offers | null {
  const { reckoning } = around;
  const due = kindDue(role, path, scalars, reckoning);
  return due === null ? null : unitsAfter(before, offset, due, reckoning?.book.currency ?? null);
}

/**
 * What can stand where a value is due. Behind the hyphen of a list, or below a key, it may as well be the
 * beginning of a group, and below the key of a list the beginning of the list.
 */
function itemOffers(cursor: FieldCursor, typing: Typing): readonly Offer[] {
  const { path, ownLine, quoted } = cursor;
  if (!ownLine || quoted) return valueOffers(cursor, path, typing);
  if (schemasHere(cursor, path).some((schema) => schema.type === 'array')) {
    const items = startOffers(cursor, [...path, 0], typing);
    return items.map((offer) => ({ ...offer, insert: `- ${offer.insert}` }));
  }
  return startOffers(cursor, path, typing);
}

function startOffers(cursor: FieldCursor, path: FieldCursor['path'], typing: Typing): readonly Offer[] {
  return [
    ...fieldOffers(cursor, path),
    ...keyNameOffers(cursor, path, typing),
    ...valueOffers(cursor, path, typing),
  ];
}
