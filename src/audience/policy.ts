import type { BookFile } from '../../schemas/book.js';
import type { Basis, Hideable } from '../check/model.js';

/** For whom a copy can be made, and what each is not to see. */

/** What is kept from an audience. */
export interface Policy {
  readonly id: string;
  readonly hides: ReadonlySet<Hideable>;
  readonly hidesSystems: ReadonlySet<string>;
  readonly needsAtLeast: Basis | null;
}

/** Who sees everything. */
export const OWNER = 'owner';

/** What audiences are not to see of which the book says nothing. */
const USUAL: Readonly<Record<string, readonly Hideable[]>> = {
  public: ['cost', 'suppliers', 'people', 'serials', 'places', 'hours'],
  buyer: ['cost', 'suppliers', 'people'],
  surveyor: ['cost', 'suppliers', 'hours'],
};

/** The audiences that a copy of a book can be made for, and the owner. */
export function audienceNames({ audiences }: Pick<BookFile, 'audiences'>): readonly string[] {
  return [...new Set([OWNER, ...Object.keys(USUAL), ...Object.keys(audiences ?? {})])];
}

/** What is kept from an audience: as the book says, else the usual; null for one that nobody knows. */
export function policyOf({ audiences }: Pick<BookFile, 'audiences'>, id: string): Policy | null {
  const said = Object.hasOwn(audiences ?? {}, id) ? audiences?.[id] : undefined;
  const usual = Object.hasOwn(USUAL, id) ? USUAL[id] : undefined;
  if (said === undefined && usual === undefined) return null;
  return {
    id,
    hides: new Set(said === undefined ? usual : said.hides),
    hidesSystems: new Set(said?.['hides-systems']),
    needsAtLeast: said?.['needs-at-least'] ?? null,
  };
}
