import { type DisplayPreference, type Kind, printQuantity } from '../../quantity/index.js';
import { figureOf, type Rest, restsOf, type Uncertain } from '../uncertain.js';
import type { Values } from '../values.js';
import type { PowerVerdict, Reason } from './model.js';

/** Putting verdicts into sentences. */

/** What sentences need: the values in force, and in what units the book shows. */
export interface Telling {
  readonly values: Values;
  readonly display: DisplayPreference;
}

/** A value in words, with its uncertainty where it is known. */
export function told(value: Uncertain<Kind>, unit: string, { values, display }: Telling): string {
  return printQuantity(figureOf(value, unit, values).quantity, display);
}

/** `a`, `a and b`, `a, b and c`. */
export function andList(names: readonly string[]): string {
  const last = names.at(-1) ?? '';
  return names.length < 2 ? last : `${names.slice(0, -1).join(', ')} and ${last}`;
}

/** A reason; `from` are values and things whose refs it rests on. */
export function reason(
  verdict: PowerVerdict,
  about: Reason['about'],
  text: string,
  from: readonly { readonly rests: Iterable<string> }[],
  { values }: Telling,
): Reason {
  const restsOn: readonly Rest[] = restsOf(
    from.flatMap(({ rests }) => [...rests]),
    values,
  );
  return { verdict, about, text, restsOn };
}

const ORDER: readonly PowerVerdict[] = ['fails', 'cannot-say', 'undecided', 'works'];

/** The verdict over several: one failure fails, else one gap leaves it unsaid, else one doubt undecided. */
export function worstVerdict(verdicts: readonly PowerVerdict[]): PowerVerdict {
  return ORDER.find((verdict) => verdicts.includes(verdict)) ?? 'works';
}

/** Worst first; otherwise in the order given. */
export function worstFirst(reasons: readonly Reason[]): readonly Reason[] {
  return [...reasons].sort((a, b) => ORDER.indexOf(a.verdict) - ORDER.indexOf(b.verdict));
}
