import type { Basis } from '../../schemas/common.js';
import type { Copy, Hideable } from '../check/model.js';
import { capital } from './words.js';

/** What a copy of a book says of itself: for whom it is, and which sorts of things are not in it. */

const LEFT_OUT: Readonly<Record<Hideable, string>> = {
  cost: 'money',
  suppliers: 'suppliers',
  people: 'the names of people',
  serials: 'serial numbers',
  places: 'places',
  hours: 'working time',
  photos: 'pictures',
  prose: 'the words of the owner',
  entry: 'entries',
};

/** What has to be there for a spec to be verified; less than being told by somebody there is not. */
const PROOF: Readonly<Record<Basis, string | null>> = {
  told: null,
  printed: 'when it is at least printed somewhere',
  marked: 'when it was at least read off the item itself',
  measured: 'when it was measured; a name, when it was read off the item itself',
  witnessed: 'when a third party saw it',
};

const PRIVATE = 'what the owner keeps private';

/** Whom a copy is for, in words. */
export function copyFor({ for: audience }: Copy): string {
  const known: Readonly<Record<string, string>> = {
    public: 'the public',
    buyer: 'a buyer',
    surveyor: 'a surveyor',
  };
  return `A copy of the record, made for ${Object.hasOwn(known, audience) ? known[audience] : audience.replaceAll('-', ' ')}.`;
}

/** Sentences that say what is not in a copy; never which entry, system or person. */
export function copyLacks(copy: Copy): readonly string[] {
  const { without, alsoPrivate, evidenceLeftOut, noTotalsOf, needsAtLeast } = copy;
  const proof = needsAtLeast === null ? null : PROOF[needsAtLeast];
  const sorts = without.map((what) => LEFT_OUT[what]);
  const things = [...sorts, ...(alsoPrivate ? [PRIVATE] : [])];
  const totals = noTotalsOf.map((what) => (what === 'cost' ? 'money' : 'working time'));
  return [
    ...(things.length === 0
      ? []
      : [`${capital(listed(things))} ${isOne(things) ? 'is' : 'are'} left out of this copy.`]),
    ...(totals.length === 0
      ? []
      : [`No totals of ${listed(totals)} are given, since some amounts are among what is left out.`]),
    ...(evidenceLeftOut
      ? ['Some of the evidence is not part of it: how a spec stands is computed from what is shown.']
      : []),
    ...(proof === null ? [] : [`In this copy a spec counts as verified only ${proof}.`]),
  ];
}

function isOne(things: readonly string[]): boolean {
  return things.length === 1 && ['money', 'working time', PRIVATE].includes(things[0] ?? '');
}

function listed(things: readonly string[]): string {
  return things.length < 2 ? things.join('') : `${things.slice(0, -1).join(', ')} and ${things.at(-1)}`;
}
