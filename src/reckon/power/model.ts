import type { Figure, Fit, Rest } from '../uncertain.js';
import type { Span } from './day.js';

/**
 * What is computed from the power plan. Times of the day are seconds from midnight; figures carry their
 * uncertainty and what they rest on; plain numbers are for drawing.
 */

/** Whether something works; `cannot-say` where a value is missing that would decide it. */
export type PowerVerdict = Fit | 'cannot-say';

/** One sentence on why a case works or does not, and what it rests on. */
export interface Reason {
  readonly verdict: PowerVerdict;
  readonly about: { readonly sort: 'source' | 'store' | 'load'; readonly id: string };
  readonly text: string;
  readonly restsOn: readonly Rest[];
}

/** One load's part in a profile: its mean power in each piece of the day, in watts and volt-amperes. */
export interface Band {
  readonly load: string;
  readonly title: string;
  readonly watts: readonly number[];
  readonly voltAmperes: readonly number[];
}

/**
 * The power asked over a day as a step function. A load that runs fewer hours than its windows are long
 * counts with its mean power over them, so the area under the steps is the day's energy exactly.
 */
export interface DayProfile {
  /** Pieces of the day, from midnight to midnight; the same ones for everything in one case. */
  readonly spans: readonly Span[];
  /** Stacked in this order. */
  readonly bands: readonly Band[];
  /** Sum of the bands in each piece. */
  readonly active: readonly Figure<'power'>[];
  /** Empty for a store, which gives direct current. */
  readonly apparent: readonly Figure<'apparent-power'>[];
}

/** How a source stands in one piece of the day, when all that may run then runs. */
export interface Moment extends Span {
  readonly verdict: PowerVerdict;
  /** Loads that may run then. */
  readonly mayRun: readonly string[];
  /** Those of them that have to be off for it to work, in the order in which they are switched off. */
  readonly shed: readonly string[];
  /** What the others ask together. */
  readonly active: Figure<'power'>;
  readonly apparent: Figure<'apparent-power'>;
  /** The hardest start: what is asked while that load starts and the others run. */
  readonly start: { readonly load: string; readonly active: Figure<'power'> } | null;
}

/** A set of loads that can run together, to which no other can be added. */
export interface LargestSet {
  readonly loads: readonly string[];
  /** By interval: a set is found by the values alone, and may be undecided. */
  readonly verdict: Fit;
  readonly active: Figure<'power'>;
  readonly apparent: Figure<'apparent-power'>;
}

/** What can run together on one source. */
export interface Together {
  /** Loads in the order of rows and columns of `pairs`. */
  readonly loads: readonly string[];
  /** Whether two loads can run at once; on the diagonal whether one can by itself. */
  readonly pairs: readonly (readonly PowerVerdict[])[];
  /** How many largest sets there are; null where there are too many loads, or a rating is missing. */
  readonly count: number | null;
  /** The first of them, most loads first. */
  readonly sets: readonly LargestSet[];
  /** Loads of which a value is missing; they are in no set. */
  readonly unknown: readonly string[];
}

export interface SourceCase {
  readonly id: string;
  readonly title: string;
  readonly system: string | null;
  /** Not there in this case. */
  readonly absent: boolean;
  readonly verdict: PowerVerdict;
  /** What it gives for hours, derated. */
  readonly rating: Figure<'power'> | null;
  /** The same before derating. */
  readonly fullRating: Figure<'power'> | null;
  readonly apparentRating: Figure<'apparent-power'> | null;
  readonly shortTime: Figure<'power'> | null;
  readonly profile: DayProfile;
  readonly moments: readonly Moment[];
  readonly together: Together;
  /** What its loads take in a day. */
  readonly energy: Figure<'energy'>;
  /** Hours a day that it runs, for its own loads and for charging; null for one that draws on a store. */
  readonly hours: Figure<'time'> | null;
  /** Fuel a day at the rate for its full rating, which is more than it burns at part load. */
  readonly fuel: Figure<'volume'> | null;
}

/** What one source does for a store in a day. */
export interface Filler {
  readonly source: string;
  /** Hours that it charges, after the sources before it in the plan. */
  readonly hours: Figure<'time'>;
  /** Charge that it puts back, as it comes out again. */
  readonly puts: Figure<'charge'>;
  /** Hours in which it would put back a day's use by itself; null where a day does not hold them. */
  readonly alone: Figure<'time'> | null;
}

export interface StoreCase {
  readonly id: string;
  readonly title: string;
  readonly system: string | null;
  readonly verdict: PowerVerdict;
  readonly capacity: Figure<'charge'> | null;
  /** What may be taken out, from the level to which it is charged. */
  readonly usable: Figure<'charge'> | null;
  readonly profile: DayProfile;
  readonly energy: Figure<'energy'>;
  /** What is taken out in a day. */
  readonly used: Figure<'charge'> | null;
  /** How long it lasts when nothing charges it; null where nothing draws on it or a value is missing. */
  readonly alone: Figure<'time'> | null;
  readonly fillers: readonly Filler[];
  /** Whether a source gives at every moment what is drawn, so that the store is not drawn on. */
  readonly carried: boolean;
  /** What is left to put back at the end of the day; null where all of it is, or a value is missing. */
  readonly short: Figure<'charge'> | null;
  /** How long it lasts with its sources running as they may; null where they keep up. */
  readonly lasts: Figure<'time'> | null;
}

export interface LoadCase {
  readonly id: string;
  readonly title: string;
  readonly system: string | null;
  readonly from: string;
  readonly hours: Figure<'time'>;
  readonly spans: readonly Span[];
  /** Whether its windows were declared; otherwise it may run at any time of the day. */
  readonly declared: boolean;
  readonly running: Figure<'power'> | null;
  readonly starting: Figure<'power'> | null;
  readonly apparent: Figure<'apparent-power'> | null;
  readonly energy: Figure<'energy'> | null;
  readonly shed: number | null;
}

export interface PowerCase {
  readonly id: string;
  readonly title: string;
  readonly about: string | null;
  readonly days: Figure<'time'> | null;
  readonly verdict: PowerVerdict;
  /** Worst first. */
  readonly reasons: readonly Reason[];
  /** What is taken for granted since the plan does not say it. */
  readonly assumes: readonly string[];
  /** All loads of the case. */
  readonly profile: DayProfile;
  readonly energy: Figure<'energy'>;
  readonly loads: readonly LoadCase[];
  readonly sources: readonly SourceCase[];
  readonly stores: readonly StoreCase[];
  /** Fuel a day of all sources together; null where none burns any. */
  readonly fuel: Figure<'volume'> | null;
  readonly restsOn: readonly Rest[];
}

export interface PowerReckoning {
  readonly title: string;
  /** How it is reckoned, in sentences for whoever reads the figures. */
  readonly conventions: readonly string[];
  readonly cases: readonly PowerCase[];
}
