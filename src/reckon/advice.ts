import * as m from '../check/messages.js';
import type { PartMove, Place } from '../check/model.js';
import type { Problem } from '../check/problem.js';
import type { Ground } from './findings.js';
import { askedOf, fittedWords } from './fitted-since.js';
import type { PartState, Reckoning, SpecState } from './model.js';

/**
 * What the book, once reckoned, has to say about its lines: money spent on what is not checked, and findings on
 * evidence after which a part was fitted. It speaks of the standing of today, and only of parts that have not gone back.
 */
export function adviceOn(reckoning: Reckoning): readonly Problem[] {
  return [
    ...[...reckoning.parts.values()].filter(isOurs).flatMap((part) => onPart(part, reckoning)),
    ...reckoning.findings.flatMap(({ grounds }) => grounds.flatMap((ground) => onGround(ground, reckoning))),
  ];
}

/** Asks, at the point, the spec or the test, whether it is another thing since a part was fitted. */
function onGround({ about, date, fittedSince }: Ground, { book }: Reckoning): readonly Problem[] {
  const place = placeOf(about, book);
  const found = FOUND[about.sort];
  if (fittedSince === null || place === null || found === undefined) return [];
  const said = m.fittedSince(
    `\`${about.id}\` ${found} on ${date}`,
    fittedWords(fittedSince, (day) => day),
    askedOf(fittedSince),
  );
  return [{ ...said, at: place, part: 'key' }];
}

const FOUND: Readonly<Partial<Record<Ground['about']['sort'], string>>> = {
  test: 'failed',
  point: 'was out of its limits',
  spec: 'was contradicted',
};

function placeOf({ sort, id }: Ground['about'], { systems }: Reckoning['book']): Place | null {
  const [system = '', name = ''] = id.split('.');
  const declared = systems.get(system);
  if (sort === 'test') return declared?.tests.get(name)?.place ?? null;
  if (sort === 'point') return declared?.points.get(name)?.place ?? null;
  return sort === 'spec' ? (declared?.specs.get(name)?.place ?? null) : null;
}

function isOurs(part: PartState): boolean {
  return part.now === 'ordered' || part.now === 'ashore' || part.now === 'fitted';
}

function onPart(part: PartState, reckoning: Reckoning): readonly Problem[] {
  const told = new Set<string>();
  return part.moves.flatMap((move) => {
    for (const ref of move.restsOn) told.add(ref);
    if (move.move !== 'ordered' && move.move !== 'fitted') return [];
    // A spec that comes in by several names is told of once, at the first.
    const found = new Map<SpecState, string>();
    for (const ref of told) {
      for (const state of unchecked(ref, reckoning)) if (!found.has(state)) found.set(state, ref);
    }
    return [...found].map(([state, ref]) => advise(move, ref, state));
  });
}

/**
 * The specs at or below a name that are not to be relied on: through derived values, and through a point that
 * nobody has read yet, which is known only by what is claimed of it.
 */
export function unchecked(ref: string, { book, specs, timelines }: Reckoning): readonly SpecState[] {
  const below = new Set([ref]);
  for (const name of below) {
    const [system = '', own = ''] = name.split('.');
    for (const used of book.systems.get(system)?.derived.get(own)?.uses ?? []) below.add(used);
    const timeline = timelines.get(name);
    if (timeline?.last === null) for (const spec of timeline.specs) below.add(spec);
  }
  return [...below].flatMap((name) => {
    const state = specs.get(name);
    return state?.standing === 'unverified' || state?.standing === 'contradicted' ? [state] : [];
  });
}

/** What to do about a spec that is not to be relied on. */
export function nextFor({ spec, standing }: SpecState): string {
  if (standing === 'contradicted') return 'Decide anew whether it is still the right part.';
  return spec.checkBy ?? 'Check it before more is spent on it.';
}

function advise(move: PartMove, ref: string, state: SpecState): Problem {
  const { spec, standing } = state;
  const index = move.restsOn.indexOf(ref);
  const path = index >= 0 ? [...move.place.path, 'rests-on', index] : [...move.place.path, 'part'];
  return {
    ...m.spentOnUnchecked(move.part, move.move, spec.ref, standing, nextFor(state)),
    at: { file: move.place.file, path },
  };
}
