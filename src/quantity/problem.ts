import { plainLine } from './plain-line.js';

/** What can be wrong with a quantity, a formula, a period or an amount of money, as data. */

/** The codes, a closed union. */
export type QuantityProblemCode =
  | 'empty'
  | 'too-long'
  | 'bad-number'
  | 'comma'
  | 'no-unit'
  | 'unknown-unit'
  | 'ambiguous-unit'
  | 'wrong-kind'
  | 'bad-uncertainty'
  | 'bad-compound'
  | 'two-values'
  | 'bad-gauge'
  | 'bad-period'
  | 'bad-money'
  | 'bad-formula'
  | 'unknown-name'
  | 'bad-requirement';

/** One thing wrong with a text. `offset` and `length` mark the place within the text. */
export interface QuantityProblem {
  readonly code: QuantityProblemCode;
  readonly offset: number;
  readonly length: number;
  /** One full sentence. */
  readonly message: string;
  /** How to mend it, as a full sentence. */
  readonly hint?: string;
  /** Texts that may be meant instead, likeliest first. */
  readonly choices: readonly string[];
}

/** The failing half of every result of this module. */
export interface Failure {
  readonly ok: false;
  readonly problem: QuantityProblem;
}

/** Where a problem is. */
export interface Span {
  readonly offset: number;
  readonly length: number;
}

/** Makes a failure. */
export function fail(
  code: QuantityProblemCode,
  span: Span,
  message: string,
  more: { readonly hint?: string; readonly choices?: readonly string[] } = {},
): Failure {
  const problem: QuantityProblem = Object.freeze({
    code,
    offset: span.offset,
    length: Math.max(1, span.length),
    message,
    ...(more.hint === undefined ? {} : { hint: more.hint }),
    choices: Object.freeze([...(more.choices ?? [])]),
  });
  return Object.freeze({ ok: false, problem });
}

/** `a`, `a or b`, `a, b or c`. */
export function orList(words: readonly string[]): string {
  if (words.length <= 1) return words[0] ?? '';
  return `${words.slice(0, -1).join(', ')} or ${words[words.length - 1]}`;
}

/** A piece of a user's text, short enough for a message. */
export function quoted(text: string): string {
  return `\`${plainLine(text, 40)}\``;
}
