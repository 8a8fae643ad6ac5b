import { listed } from '../words.js';

/** Sentences of the pack that name places in it. */

/** A text, or the page on which something stands. */
export type Piece = string | { readonly page: string };

/** Several pieces of a paragraph. */
export type Said = readonly Piece[];

/** The page on which something stands, to be put between other pieces. */
export function pageOf(place: string): Piece {
  return { page: place };
}

/** As many words as are wanted, and how many more there are. */
export function listedUpTo(most: number, words: readonly string[]): string {
  const more = words.length - most;
  return more <= 0 ? listed(words) : `${words.slice(0, most).join(', ')} and ${more} more`;
}
