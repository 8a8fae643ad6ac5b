import type {
  Basis,
  CheckedBook,
  Claim,
  Decision,
  Entry,
  MeterReading,
  Opened,
  PartMove,
  Point,
  Reading,
  Spec,
  TestProcedure,
  TestRun,
  Uncertainty,
} from '../check/model.js';

import type { Exposure } from './exposure.js';
import type { Finding } from './findings.js';
import type { Holding } from './holds.js';
import type { PowerReckoning } from './power/model.js';
import type { Dependent } from './reliance.js';
import type { SeriesState } from './series.js';
import type { UpkeepState } from './upkeep.js';
import type { Values } from './values.js';
import type { WeightsReckoning } from './weights/model.js';
import type { WorkPlan } from './work.js';

/** What is computed from a checked book and a date. Plain data; nothing in it is read from anywhere else. */

export type Standing = 'verified' | 'contradicted' | 'undecided' | 'lapsed' | 'unverified';

/** How one piece of evidence compares with what is stated. */
export type Agreement = 'conforms' | 'does-not-conform' | 'undecided';

/** A reading or statement that bears on a spec. */
export interface Evidence {
  readonly date: string;
  readonly basis: Basis;
  readonly value: Claim;
  readonly uncertainty: Uncertainty;
  readonly agreement: Agreement;
  readonly by: string | null;
  readonly with: string | null;
  readonly see: string | null;
  readonly note: string | null;
  readonly entry: string;
  readonly from: 'reading' | 'statement';
}

export interface SpecState {
  readonly spec: Spec;
  readonly standing: Standing;
  /** Newest first within the highest basis, then the lower bases. */
  readonly evidence: readonly Evidence[];
  /** The piece of evidence that decides the standing; null where there is none. */
  readonly deciding: Evidence | null;
  /** What is to be believed from now on: the claim, or the evidence's value once the claim is contradicted. */
  readonly holds: Claim;
  /** Day on which a check stops holding, where it does. */
  readonly lapsesOn: string | null;
  /** One sentence that says why it stands so. */
  readonly because: string;
}

export type Outcome = 'pass' | 'fail' | 'undecided';

export interface RequirementResult {
  readonly name: string;
  readonly required: string;
  readonly value: Claim | null;
  readonly uncertainty: Uncertainty;
  readonly outcome: Outcome;
}

export interface TestResult {
  readonly run: TestRun;
  readonly outcome: Outcome;
  readonly results: readonly RequirementResult[];
}

export interface TestState {
  readonly test: TestProcedure;
  /** Newest first. */
  readonly results: readonly TestResult[];
  readonly last: TestResult | null;
}

/** `former`: a reading of what was at the point before, or of nothing that is there; it is held against no limit. */
export type LimitState = 'inside' | 'outside' | 'undecided' | 'no-limit' | 'former';

export interface TimelinePoint {
  readonly reading: Reading;
  readonly limit: LimitState;
  /** Whether it was taken under the conditions at which the point is compared. */
  readonly comparable: boolean;
}

export interface Timeline {
  readonly point: Point;
  /** Oldest first. */
  readonly readings: readonly TimelinePoint[];
  /** The last reading of what is there now; null where that was never read, or nothing is there any more. */
  readonly last: TimelinePoint | null;
  /** Whether what it is measured on is no longer there. */
  readonly gone: boolean;
  /** Specs that name this point. */
  readonly specs: readonly string[];
}

export interface MeterTimeline {
  readonly meter: string;
  readonly title: string;
  readonly unit: string;
  readonly readings: readonly MeterReading[];
}

export type PartPlace = 'ordered' | 'ashore' | 'fitted' | 'removed' | 'returned' | 'sold' | 'scrapped';

export interface PartState {
  readonly id: string;
  readonly what: string | null;
  readonly system: string;
  readonly now: PartPlace;
  readonly since: string;
  /** Dates of the last order. */
  readonly ordered: string | null;
  readonly arrived: string | null;
  readonly due: string | null;
  readonly supplier: string | null;
  readonly serial: string | null;
  /** Ordered, past its due date and not here: late now. */
  readonly late: boolean;
  /** Days from the day for which it was promised to that on which it came; null where it came in time, or not yet. */
  readonly cameLateDays: number | null;
  /** Days from order to arrival, where both are on record. */
  readonly leadDays: number | null;
  readonly costs: readonly { readonly amount: number; readonly currency: string }[];
  readonly restsOn: readonly string[];
  /** Oldest first. */
  readonly moves: readonly PartMove[];
}

export type ItemStatus = 'ready' | 'blocked' | 'waiting' | 'done';

export interface ItemState {
  readonly opened: Opened;
  readonly status: ItemStatus;
  /** Past the day by which it had to be done. */
  readonly overdue: boolean;
  /** Open items that have to be done first. */
  readonly blockedBy: readonly string[];
  /** Parts that have to come first. */
  readonly waitsFor: readonly string[];
  /** Decisions that have to be made first. */
  readonly undecided: readonly string[];
  /** Whether it waits on something besides that is not in this copy of the book. */
  readonly waitsOnHidden: boolean;
  readonly closed: { readonly date: string; readonly entry: string } | null;
  /** Open items that wait on this one; none once it is done. */
  readonly holdsUp: readonly string[];
}

export interface DecisionState {
  readonly decision: Decision;
  /** Whether its `holds-while` is still so; null where it has none. */
  readonly holding: Holding | null;
  /** The decision that took it back, if one did. */
  readonly undoneBy: string | null;
  /** Specs, points and derived values it rests on, with the standing of the specs among them. */
  readonly restsOn: readonly { readonly ref: string; readonly standing: Standing | null }[];
}

export interface HoursRow {
  readonly key: string;
  readonly hours: number;
}

export interface HoursRollup {
  readonly total: number;
  readonly bySystem: readonly HoursRow[];
  /** Keys are `YYYY-MM`, oldest first. */
  readonly byMonth: readonly HoursRow[];
  readonly byPerson: readonly HoursRow[];
}

/** One row for each currency; money is never added across currencies. */
export interface MoneyRow {
  readonly currency: string;
  readonly total: number;
  readonly bySystem: readonly { readonly key: string; readonly amount: number }[];
  readonly byMonth: readonly { readonly key: string; readonly amount: number }[];
  readonly bySupplier: readonly { readonly key: string; readonly amount: number }[];
}

/** The whole of what is computed from a book on a day. */
export interface Reckoning {
  readonly asOf: string;
  /** The book as it stood on that day: later entries are not in it. */
  readonly book: CheckedBook;
  readonly entries: ReadonlyMap<string, Entry>;
  /** Oldest first, in order of date and entry. */
  readonly readings: readonly Reading[];
  /** What loggers have read, summed up, by the point. */
  readonly series: ReadonlyMap<string, SeriesState>;
  readonly specs: ReadonlyMap<string, SpecState>;
  readonly tests: ReadonlyMap<string, TestState>;
  readonly timelines: ReadonlyMap<string, Timeline>;
  readonly meters: ReadonlyMap<string, MeterTimeline>;
  readonly parts: ReadonlyMap<string, PartState>;
  readonly items: ReadonlyMap<string, ItemState>;
  readonly decisions: ReadonlyMap<string, DecisionState>;
  readonly hours: HoursRollup;
  readonly money: readonly MoneyRow[];
  /** What points, specs and derived values come to. */
  readonly values: Values;
  /** Specs that are not verified, with what rests on each; the one with most at stake first. */
  readonly exposures: readonly Exposure[];
  /** Everything that rests on any of the given refs, nearest first, each once. */
  readonly affected: (refs: readonly string[]) => readonly Dependent[];
  readonly upkeep: ReadonlyMap<string, UpkeepState>;
  /** What is to be settled, the most pressing first. */
  readonly findings: readonly Finding[];
  readonly work: WorkPlan;
  /** Null for a book without a power plan. */
  readonly power: PowerReckoning | null;
  /** Null for a book without a weights plan. */
  readonly weights: WeightsReckoning | null;
}
