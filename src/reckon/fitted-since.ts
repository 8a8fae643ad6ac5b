import type { Basis, PartMove } from '../check/model.js';
import type { PartState } from './model.js';
import { fittedOn } from './parts.js';

/**
 * Parts that were fitted after the evidence on which a finding stands: the thing may be another one by now. Whether
 * it is, the record does not say, so that this is a question to the owner and takes nothing off the finding.
 */

/** A part that is fitted, and since when. */
export interface Fitted {
  readonly part: string;
  /** The part in words. */
  readonly what: string;
  readonly date: string;
}

/** What no entry has done since the parts were fitted. */
export const LACKS = ['tested', 'measured', 'witnessed', 'looked-at'] as const;
export type Lack = (typeof LACKS)[number];

/** Parts that were fitted after some evidence, the oldest first, and what has not been done since. */
export interface FittedSince {
  readonly parts: readonly [Fitted, ...Fitted[]];
  readonly lacks: Lack;
}

/** What the evidence is about: the words by which the book calls it, and those of its system. */
export interface Thing {
  readonly system: string;
  /** Short names and titles. */
  readonly called: readonly string[];
}

/** A fitted part with the words for what it is. */
interface Named extends Fitted {
  readonly heads: readonly string[];
}

/**
 * Finds the parts that may have taken the place of a thing: fitted in its system after a day, fitted still, and called
 * as it or as its system is called. A filter of an engine is not the engine. What was fitted on the day itself is left
 * out: nothing tells what came first. The parts are gone through once, when the first is asked for.
 */
export function fittedAfter(
  parts: ReadonlyMap<string, Pick<PartState, 'moves'>>,
): (thing: Thing, date: string, lacks: Lack) => FittedSince | null {
  let bySystem: ReadonlyMap<string, readonly Named[]> | undefined;
  return ({ system, called }, date, lacks) => {
    bySystem ??= sorted(parts);
    const words = new Set(called.flatMap(wordsOf));
    const [first, ...rest] = (bySystem.get(system) ?? [])
      .filter((part) => part.date > date && part.heads.some((head) => words.has(head)))
      .map(({ heads: _, ...part }) => part);
    return first === undefined ? null : { parts: [first, ...rest], lacks };
  };
}

function sorted(parts: ReadonlyMap<string, Pick<PartState, 'moves'>>): ReadonlyMap<string, Named[]> {
  const bySystem = new Map<string, Named[]>();
  for (const [part, { moves }] of parts) {
    const move = fittedOn(moves);
    if (move === null) continue;
    const list = bySystem.get(move.system) ?? [];
    const what = whatOf(moves) ?? part.replaceAll('-', ' ');
    list.push({ part, what, date: move.date, heads: [part, what].flatMap(headOf) });
    bySystem.set(move.system, list);
  }
  for (const list of bySystem.values()) list.sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
  return bySystem;
}

/** Words of three letters and more in the singular; what has a digit in it is a number or a type. */
function wordsOf(text: string): readonly string[] {
  return (text.toLowerCase().match(/[\p{L}\p{N}]+/gu) ?? [])
    .filter((word) => word.length > 2 && !/\p{N}/u.test(word))
    .map((word) => word.replace(/ies$/, 'y').replace(/(?<=..[^s])s$/, ''));
}

/** The word for what a part is: the last before a comma or a word that begins what it is for or made of. */
function headOf(what: string): readonly string[] {
  const [before = ''] = what.split(/[,;:(]|\b(?:at|by|for|from|if|in|of|on|to|with)\b/i);
  return wordsOf(before).slice(-1);
}

function whatOf(moves: readonly PartMove[]): string | null {
  return moves.findLast(({ what }) => what !== null)?.what ?? null;
}

/** What evidence of a basis has to be made anew by. */
export function lackOf(basis: Basis): Lack {
  return basis === 'measured' || basis === 'witnessed' ? basis : 'looked-at';
}

const AGAIN: Readonly<Record<Lack, string>> = {
  tested: 'test again',
  measured: 'measure again',
  witnessed: 'have it witnessed again',
  'looked-at': 'look at it again',
};

/** As many parts as are named. */
const NAMED = 3;

/** `new bank was fitted on 2026-05-02`; several are told up to three of them. */
export function fittedWords({ parts }: FittedSince, day: (date: string) => string): string {
  const [first, ...rest] = parts;
  const named = [
    `${first.what} was fitted on ${day(first.date)}`,
    ...rest.slice(0, NAMED - 1).map(({ what, date }) => `${what} on ${day(date)}`),
  ];
  const more = parts.length - named.length;
  const all = more > 0 ? [...named, `${more} more`] : named;
  return all.length === 1 ? named.join('') : `${all.slice(0, -1).join(', ')} and ${all.at(-1)}`;
}

/**
 * What the owner can do about it. A test carries no `since`: it is done again.
 *
 * @returns in the middle of a sentence, without a stop; the day in `since` is as it is to be written.
 */
export function askedOf({ parts, lacks }: FittedSince): string {
  if (lacks === 'tested') return AGAIN.tested;
  const since = parts.length === 1 ? `\`since: ${parts[0].date}\`` : '`since` with the day';
  return `${AGAIN[lacks]}, or write ${since} where it is another thing now`;
}

/** The bare fact, for those who cannot write into the book. */
export function lackWords({ lacks }: FittedSince): string {
  return `no entry has ${lacks.replaceAll('-', ' ')} it since`;
}
