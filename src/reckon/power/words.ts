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

/** How a power plan is reckoned, for whoever reads the figures. */
export const CONVENTIONS: readonly string[] = [
  'What the plan states without ± is taken as laid down; what comes from the book has the uncertainty it has there.',
  'At every moment all loads that may run then are taken as running, and any one of them may be the last to start.',
  'Volt-amperes of loads are added as numbers, which is never less than what their currents come to together.',
  'A start is held against the short-time rating, or against the rating without derating where there is none; how long it takes is not looked at.',
  'In the day, a load that runs fewer hours than its windows are long counts with its mean power over them.',
  'All that a day takes is put back by charging, by one source after another as they stand in the plan; a source charges with what its own loads leave.',
  'Fuel is counted at the rate for the full rating, which is more than is burnt at part load.',
];
