import { distance } from 'fastest-levenshtein';

/**
 * Slips in the beginning of a reading told in the prose: `:Reading[`, `:readings[`, `: reading[`, `::reading[`.
 * To the parser all this is plain text, so that nothing of it would be counted.
 */

/** A stretch of a prose, in UTF-16 units from its beginning. */
export interface Stretch {
  readonly offset: number;
  readonly length: number;
}

/** A colon and a word in front of a square bracket; a blank behind the colon only where the word is plain. */
const BEGUN = /(?<![\\\w:])::?([a-z]{5,10})[ \t]?(?=\[)|(?<!\\):[ \t]{1,2}readings?(?=\[)/gi;

/** How many letters a word may differ in and still be meant for `reading`. */
const MOST_OFF = 2;

/** Where a text seems to begin a reading and does not, told without parsing it. */
export function begunIn(text: string): readonly Stretch[] {
  if (!text.includes('[')) return [];
  return [...text.matchAll(BEGUN)].flatMap(({ 0: begun, 1: word, index }) => {
    const isFar = word !== undefined && distance(word.toLowerCase(), 'reading') > MOST_OFF;
    return begun === ':reading' || isFar ? [] : [{ offset: index, length: begun.trimEnd().length }];
  });
}
