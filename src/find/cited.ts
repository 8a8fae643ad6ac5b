import { plainLine } from '../quantity/plain-line.js';

/** What somebody typed, as it is told back to them. */

const MOST = 60;
const MOST_WORDS = 8;

/** Part of a sentence. */
export function brief(text: string): string {
  return plainLine(text, MOST);
}

/** In signs that set it apart. */
export function cited(text: string): string {
  return `\`${brief(text)}\``;
}

/** Several words; of very many the first. */
export function citedWords(words: readonly string[]): readonly string[] {
  const more = words.length - MOST_WORDS;
  return more > 1 ? [...words.slice(0, MOST_WORDS).map(cited), `${more} more`] : words.map(cited);
}
