import type { Basis, Claim, System } from '../check/model.js';
import { nextFor, unchecked } from './advice.js';
import type { Reckoning, Standing } from './model.js';

/** What something new of a system can be said to rest on: what is claimed of it, reckoned and read. */

/** A spec that is not to be relied on, and what to do about it. */
export interface DoubtFacts {
  readonly spec: string;
  readonly standing: Standing;
  readonly next: string;
}

export interface GroundFacts {
  readonly ref: string;
  readonly title: string;
  /** What it comes to, as written; null where nothing is written of it. */
  readonly written: string | null;
  /** How a spec stands and on what its claim is based; null for what is read or reckoned. */
  readonly claimed: { readonly standing: Standing; readonly basis: Basis } | null;
  /** Day of the last reading of a point; null for one that nobody has read, and for all others. */
  readonly readOn: string | null;
  readonly isReckoned: boolean;
  /** The specs at or below it that are not to be relied on. */
  readonly doubts: readonly DoubtFacts[];
}

/** Specs first, then what is reckoned from them, then what is still there to be read. */
export function groundsOf(system: System, reckoning: Reckoning): readonly GroundFacts[] {
  const ground = (ref: string, title: string, own: Partial<GroundFacts>): GroundFacts => ({
    ref,
    title,
    written: null,
    claimed: null,
    readOn: null,
    isReckoned: false,
    doubts: unchecked(ref, reckoning).map((state) => ({
      spec: state.spec.ref,
      standing: state.standing,
      next: nextFor(state),
    })),
    ...own,
  });
  const specs = [...system.specs.values()].flatMap(({ ref, title, claim, basis }) => {
    const state = reckoning.specs.get(ref);
    if (state === undefined) return [];
    return [ground(ref, title, { written: claimWords(claim), claimed: { standing: state.standing, basis } })];
  });
  const derived = [...system.derived.values()].map(({ ref, title }) =>
    ground(ref, title, { isReckoned: true }),
  );
  const points = [...system.points.values()].flatMap(({ ref, title }) => {
    const timeline = reckoning.timelines.get(ref);
    if (timeline === undefined || timeline.gone) return [];
    const last = timeline.last?.reading;
    return [ground(ref, title, { written: last?.quantity.written ?? null, readOn: last?.date ?? null })];
  });
  return [...specs, ...derived, ...points];
}

function claimWords(claim: Claim): string {
  return claim.type === 'text' ? claim.text : claim.quantity.written;
}
