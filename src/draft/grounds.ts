import { spentOnUnchecked } from '../check/messages.js';
import type { GroundFacts } from '../reckon/grounds.js';
import type { PartMoveWord } from './draft.js';
import type { Remark } from './remarks.js';
import { oneLine } from './yaml.js';

/**
 * What a part, a job or a decision is said to rest on, while it is written: what there is to choose from, how it
 * stands, and what to say where money or work would go into a claim that nobody has checked.
 */

/** A ground as a line to choose: `rated output: 4 kW, only told`. */
export function groundWords(ground: GroundFacts): string {
  const value = ground.written === null ? '' : `${oneLine(ground.written)}, `;
  return `${oneLine(ground.title)}: ${value}${standingWords(ground)}`;
}

function standingWords({ claimed, readOn, isReckoned, doubts }: GroundFacts): string {
  if (isReckoned) return doubts.length === 0 ? 'reckoned' : 'reckoned from what is not checked';
  if (claimed === null) return readOn === null ? 'never read yet' : `read on ${readOn}`;
  switch (claimed.standing) {
    case 'verified':
      return 'checked';
    case 'contradicted':
      return 'contradicted by a measurement';
    case 'undecided':
      return 'measured, but not decided';
    case 'lapsed':
      return 'checked too long ago';
    case 'unverified':
      return `only ${claimed.basis}`;
  }
}

/** The chosen names, each once and in the order in which they were to be chosen from: the order of ticking says nothing. */
export function reliesOn(
  refs: readonly string[],
  grounds: readonly GroundFacts[],
): { readonly 'rests-on'?: readonly string[] } {
  const chosen = grounds.map(({ ref }) => ref).filter((ref) => refs.includes(ref));
  return chosen.length === 0 ? {} : { 'rests-on': chosen };
}

/** Whether money is being spent on a part, so that it is asked what it was chosen by: at its order, or at its coming where it was never ordered. */
export function isSpentOn(move: PartMoveWord, isNew: boolean): boolean {
  return move === 'ordered' || (isNew && (move === 'arrived' || move === 'fitted'));
}

/** What is said to rest on something. */
export type Resting =
  | { readonly is: 'part'; readonly part: string; readonly move: PartMoveWord }
  | { readonly is: 'job' | 'decision' };

/**
 * What there is to say of unchecked ground: of a part in the words of the checker. Each spec is told of once, by
 * however many names it comes in. Never an error: it may be known, and meant.
 */
export function remarkGrounds(
  resting: Resting,
  refs: readonly string[],
  grounds: readonly GroundFacts[],
): readonly Remark[] {
  const doubts = new Map(
    grounds
      .filter(({ ref }) => refs.includes(ref))
      .flatMap((ground) => ground.doubts.map((doubt) => [doubt.spec, doubt] as const)),
  );
  return [...doubts.values()].map(({ spec, standing, next }): Remark => {
    if (resting.is !== 'part') {
      const hint = standing === 'contradicted' ? 'Decide anew whether it is still right.' : next;
      return {
        severity: 'warning',
        message: `This ${resting.is} rests on \`${spec}\`, which is ${standing}.`,
        hint,
      };
    }
    // Come without an order, it was bought.
    const move = resting.move === 'arrived' ? 'bought' : resting.move;
    const { message, hint } = spentOnUnchecked(resting.part, move, spec, standing, next);
    return { severity: 'warning', message, hint };
  });
}
