import { matchAt } from '../number.js';
import { MAX_LENGTH } from './formula.js';
import { readLiteral } from './literal.js';

/** A name in the text of a formula. */
export interface NamePlace {
  readonly name: string;
  readonly offset: number;
  readonly length: number;
}

const NAME = /[\p{L}\d]+(?:-[\p{L}\d]+)*(?:\.[\p{L}\d]+(?:-[\p{L}\d]+)*)*/uy;
const CALLED = /\s*\(/y;
const DIGITS = /\d[\d.]*/y;
const WORDS: ReadonlySet<string> = new Set(['and', 'between']);

/**
 * The names in a formula, each as often as it stands there, by the same rules by which it is read: what is
 * followed by a bracket is a function, and a unit behind a number is no name. A formula with a fault gives the
 * names that can be made out.
 *
 * @param isName whether something is a name of the book: such a one may begin with a digit.
 */
export function namesIn(text: string, isName: (name: string) => boolean): readonly NamePlace[] {
  const found: NamePlace[] = [];
  let at = 0;
  while (at < text.length) {
    const name = matchAt(NAME, text, at)?.[0];
    if (name === undefined) {
      at += 1;
    } else if (/^\p{L}/u.test(name) || isName(name)) {
      if (!WORDS.has(name) && !matchAt(CALLED, text, at + name.length))
        found.push({ name, offset: at, length: name.length });
      at += name.length;
    } else {
      // Of a text that is too long for a formula nothing is taken for a unit: it would be looked at far too often.
      const literal = text.length > MAX_LENGTH ? null : readLiteral(text, at, false, isName);
      at =
        literal?.ok === true
          ? Math.max(literal.end, at + 1)
          : at + (matchAt(DIGITS, text, at)?.[0].length ?? 1);
    }
  }
  return found;
}
