import * as m from '../check/messages.js';
import type { PartMove } from '../check/model.js';
import type { Problem } from '../check/problem.js';
import type { PartState, Reckoning, SpecState } from './model.js';

/**
 * What the book, once reckoned, has to say about lines of its entries: money spent on what is not checked.
 * It speaks of the standing of today, and only of parts that have not gone back.
 */
export function adviceOn(reckoning: Reckoning): readonly Problem[] {
  return [...reckoning.parts.values()].filter(isOurs).flatMap((part) => onPart(part, reckoning));
}

function isOurs(part: PartState): boolean {
  return part.now === 'ordered' || part.now === 'ashore' || part.now === 'fitted';
}

function onPart(part: PartState, reckoning: Reckoning): readonly Problem[] {
  const told = new Set<string>();
  return part.moves.flatMap((move) => {
    for (const ref of move.restsOn) told.add(ref);
    if (move.move !== 'ordered' && move.move !== 'fitted') return [];
    return [...told].flatMap((ref) => unchecked(ref, reckoning).map((state) => advise(move, ref, state)));
  });
}

/** The specs at or below a name that are not to be relied on. */
function unchecked(ref: string, { specs, values }: Reckoning): readonly SpecState[] {
  const below = values.of(ref)?.restsOn ?? [ref];
  return below.flatMap((name) => {
    const state = specs.get(name);
    return state !== undefined && (state.standing === 'unverified' || state.standing === 'contradicted')
      ? [state]
      : [];
  });
}

function advise(move: PartMove, ref: string, { spec, standing }: SpecState): Problem {
  const index = move.restsOn.indexOf(ref);
  const path = index >= 0 ? [...move.place.path, 'rests-on', index] : [...move.place.path, 'part'];
  const next =
    standing === 'contradicted'
      ? 'Decide anew whether it is still the right part.'
      : (spec.checkBy ?? 'Check it before more is spent on it.');
  return {
    ...m.spentOnUnchecked(move.part, move.move, spec.ref, standing, next),
    at: { file: move.place.file, path },
  };
}
