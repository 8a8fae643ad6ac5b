import type { Kind, Quantity } from '../quantity/index.js';
import * as m from './messages.js';
import type { Said } from './problem.js';

/** As much of an instrument as tells what it can show. */
export interface Showing {
  readonly id: string;
  readonly abilities: readonly {
    readonly kind: Kind;
    readonly range: { readonly low: Bound; readonly high: Bound } | null;
  }[];
}

interface Bound {
  readonly si: number;
  readonly written: string;
}

/** What speaks against an instrument having shown a value: it does not measure that kind, or not that much. */
export function instrumentSaid(value: Quantity, instrument: Showing): readonly Said[] {
  const ability = instrument.abilities.find((able) => able.kind === value.kind);
  if (ability === undefined) {
    // A value that states its own ± was worked out with more than the instrument alone: amperes and a clock.
    const known = instrument.abilities.length > 0 && value.siUncertainty === null;
    return known ? [m.instrumentKind(instrument.id, value.kind)] : [];
  }
  if (ability.range === null) return [];
  const { low, high } = ability.range;
  if (value.si >= low.si && value.si <= high.si) return [];
  return [m.outOfRange(value.written, instrument.id, `${low.written} to ${high.written}`)];
}
