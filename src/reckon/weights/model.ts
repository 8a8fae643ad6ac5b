import type { Figure, Rest } from '../uncertain.js';

/**
 * What is computed from weights and where they sit. Positions are forward of the origin, to starboard of the
 * centreline and up from the origin. Trim is draught aft less draught forward: positive by the stern. Heel is
 * positive to starboard.
 */

/** Three lengths: forward, to starboard, up. */
export type PositionFigures = readonly [Figure<'length'>, Figure<'length'>, Figure<'length'>];

/** Why a line is in the ledger. */
export type LineSort = 'plan' | 'fitted' | 'removed' | 'moved-from' | 'moved-to';

/** One line of the ledger: a mass put somewhere, or, with a negative mass, taken from there. */
export interface LedgerLine {
  readonly sort: LineSort;
  /** Id of the part, or of the weight in the plan. */
  readonly id: string;
  readonly title: string;
  readonly system: string | null;
  /** Day of the move; for a weight of the plan since when it is aboard, null: always. */
  readonly date: string | null;
  /** The entry that tells of the move. */
  readonly entry: string | null;
  readonly mass: Figure<'mass'>;
  readonly at: PositionFigures;
  /** Its part in the moments: mass times position. */
  readonly moments: Moments;
  /** Whether it is a change since the boat floated as the hydrostatics say. */
  readonly counts: boolean;
  readonly note: string | null;
}

export interface Moments {
  readonly forward: Figure<'moment-of-mass'>;
  readonly starboard: Figure<'moment-of-mass'>;
  readonly up: Figure<'moment-of-mass'>;
}

/** A move of a part that changes the weights but of which something is not on record. */
export interface NotWeighed {
  readonly part: string;
  readonly title: string;
  readonly move: string;
  readonly date: string;
  readonly entry: string;
  readonly missing: readonly ('mass' | 'position')[];
}

/** How the boat floated when the hydrostatics were found. */
export interface Floated {
  readonly on: string;
  readonly source: string | null;
  readonly length: Figure<'length'>;
  readonly aftMark: Figure<'length'>;
  readonly displacement: Figure<'mass'>;
  readonly draughtFwd: Figure<'length'>;
  readonly draughtAft: Figure<'length'>;
  readonly lcf: Figure<'length'>;
  readonly lcg: Figure<'length'> | null;
  readonly kg: Figure<'length'> | null;
  readonly gm: Figure<'length'> | null;
}

/** What a change does to how the boat floats; no number outside the limits of validity. */
export type Effect =
  | {
      readonly status: 'given';
      /** Change of draught at the centre of flotation; positive is deeper. */
      readonly sinkage: Figure<'length'>;
      readonly trimChange: Figure<'length'>;
      readonly trim: Figure<'length'>;
      readonly draughtFwd: Figure<'length'>;
      readonly draughtAft: Figure<'length'>;
      readonly draughtFwdChange: Figure<'length'>;
      readonly draughtAftChange: Figure<'length'>;
      /** Null where no metacentric height is on record. */
      readonly heel: Figure<'angle'> | null;
      readonly gm: Figure<'length'> | null;
    }
  | { readonly status: 'outside-limits'; readonly reasons: readonly string[] }
  | { readonly status: 'no-hydrostatics'; readonly reasons: readonly string[] };

export interface WeightsReckoning {
  readonly title: string;
  readonly origin: string;
  readonly floated: Floated | null;
  /** Oldest first; what was always aboard before all. */
  readonly lines: readonly LedgerLine[];
  readonly notWeighed: readonly NotWeighed[];
  /** Sums over the lines that count. */
  readonly massChange: Figure<'mass'>;
  readonly moments: Moments;
  /** Null where it was not known before. */
  readonly displacement: Figure<'mass'> | null;
  /** Centre of gravity now; each null where it was not known before. */
  readonly centre: {
    readonly forward: Figure<'length'> | null;
    readonly starboard: Figure<'length'> | null;
    readonly up: Figure<'length'> | null;
  };
  readonly effect: Effect;
  /** What was left out or taken for granted, in sentences. */
  readonly remarks: readonly string[];
  readonly restsOn: readonly Rest[];
  readonly caution: Caution;
}

/** A warning, and where what it says is published. */
export interface Caution {
  readonly text: string;
  readonly source: string;
}

/** What stands with every figure of weights. */
export const STABILITY_CAUTION: Caution = {
  text: 'Adding, taking off or shifting weight changes stability. Weights that hang, liquids that are free to run and alterations to the boat change it beyond what is reckoned here. These figures are arithmetic from what the book says, not a finding on stability: a naval architect decides.',
  // FAO Fisheries Technical Paper 517 (2009), contents.
  source: 'FAO Fisheries Technical Paper 517 (2009)',
};
