import SearchableMap from 'minisearch/SearchableMap';
import { stemmer } from 'stemmer';

/** How well a word of a text answers to a word that is looked for; 0 is not at all. */
export const FIT = { same: 10, form: 8, start: 6, slip: 4 } as const;

/** Small letters without accents. */
export function fold(text: string): string {
  return text.toLowerCase().normalize('NFD').replace(/\p{M}/gu, '');
}

const WORDS = /[\p{L}\p{N}]+/gu;

/** Letters of scripts that leave no gaps between words. */
const UNGAPPED = /[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Thai}]/gu;

/**
 * The words of a text: runs of letters and digits, folded. `TL-200` is two words, and so is `rest-voltage`. In
 * scripts without gaps every letter is one.
 */
export function wordsOf(text: string): string[] {
  return fold(text).replace(UNGAPPED, ' $& ').match(WORDS) ?? [];
}

/** All words of some texts, each with a number, so that a text is a list of numbers. */
export interface Lexicon {
  /** Takes the words of a text in. @returns their numbers */
  readonly add: (text: string) => number[];
  readonly size: () => number;
  readonly word: (number: number) => string;
  /**
   * The words that answer to one, with how well: itself, its other forms, words that begin with it; where
   * there is none of these, words a slip of the pen away.
   */
  readonly answers: (word: string) => ReadonlyMap<number, number>;
}

/** An empty lexicon. */
export function lexicon(): Lexicon {
  const numbers = new SearchableMap<number>();
  const known = new Map<string, number>();
  const words: string[] = [];
  const forms = new Map<string, number[]>();

  const numberOf = (word: string): number => {
    const at = known.get(word);
    if (at !== undefined) return at;
    const number = words.push(word) - 1;
    known.set(word, number);
    numbers.set(word, number);
    const stem = stemmer(word);
    const same = forms.get(stem);
    if (same === undefined) forms.set(stem, [number]);
    else same.push(number);
    return number;
  };

  const plainly = (word: string): Map<number, number> => {
    const found = new Map<number, number>();
    // One letter begins too many words to tell anything.
    if (word.length > 1) for (const [, number] of numbers.atPrefix(word)) found.set(number, FIT.start);
    for (const number of forms.get(stemmer(word)) ?? []) found.set(number, FIT.form);
    const same = known.get(word);
    if (same !== undefined) found.set(same, FIT.same);
    return found;
  };

  return {
    add: (text) => wordsOf(text).map(numberOf),
    size: () => words.length,
    word: (number) => words[number] ?? '',
    answers: (word) => {
      const found = plainly(word);
      if (found.size > 0 || /^\d+$/.test(word)) return found;
      return new Map(nearest(word, numbers, known).map((number) => [number, FIT.slip]));
    },
  };
}

/** How many letters of a word may be wrong. */
function slipsIn({ length }: string): number {
  return length < 4 ? 0 : length < 8 ? 1 : 2;
}

/** Numbers of the words nearest to one that there is not: those with the fewest slips, and only them. */
function nearest(
  word: string,
  numbers: SearchableMap<number>,
  known: ReadonlyMap<string, number>,
): readonly number[] {
  const swapped = swaps(word).flatMap((other) => known.get(other) ?? []);
  if (swapped.length > 0) return swapped;
  for (let most = 1; most <= slipsIn(word); most++) {
    const found = [...numbers.fuzzyGet(word, most).values()].map(([number]) => number);
    if (found.length > 0) return found;
  }
  return [];
}

/** A word with two neighbouring letters changed round, in every place: that is one slip, not two. */
function swaps(word: string): string[] {
  const letters = [...word];
  if (letters.length < 3) return [];
  return letters
    .slice(1)
    .map((letter, at) => [...letters.slice(0, at), letter, letters[at], ...letters.slice(at + 2)].join(''));
}
