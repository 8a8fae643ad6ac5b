import type { Basis, Hazard, HIDEABLE } from '../../schemas/common.js';
import type { PowerPlanFile } from '../../schemas/power-plan.js';
import type { CORRECTIONS } from '../../schemas/system.js';
import type { WeightsPlanFile } from '../../schemas/weights-plan.js';
import type { Band, DisplayPreference, Formula, Interval, Kind, Money, Quantity } from '../quantity/index.js';

/**
 * The checked book: what the checker makes of the files of a book. Everything that is computed or shown
 * comes from this and from a date. All of it is plain data.
 *
 * Names: `ref` is `system.name`; an `id` stands alone. Dates are texts `YYYY-MM-DD`, which sort as they are.
 */

export type { Band, Basis, Hazard };
export type Hideable = (typeof HIDEABLE)[number];
export type CorrectionName = (typeof CORRECTIONS)[number];

/** Where in the files something is written: a file of the book and the path of keys inside its front matter. */
export interface Place {
  readonly file: string;
  readonly path: readonly (string | number)[];
}

/** A value as somebody stated it. */
export type Claim =
  | { readonly type: 'quantity'; readonly quantity: Quantity }
  | { readonly type: 'text'; readonly text: string };

/** The half-width within which a value can be trusted, in SI units, and where it is known from. */
export interface Uncertainty {
  readonly si: number | null;
  readonly from: 'written' | 'instrument' | 'unknown';
}

export interface Person {
  readonly id: string;
  readonly name: string;
  readonly role: string | null;
  readonly thirdParty: boolean;
  readonly licence: string | null;
}

/** What an instrument can do for one kind of quantity. `share` is relative, `amount` in SI units. */
export interface Ability {
  readonly kind: Kind;
  readonly range: { readonly low: Quantity; readonly high: Quantity } | null;
  readonly accuracy: { readonly share: number; readonly amount: number; readonly written: string } | null;
}

export interface Instrument {
  readonly id: string;
  readonly name: string;
  readonly serial: string | null;
  readonly abilities: readonly Ability[];
  readonly checked: string | null;
  readonly againEvery: Interval | null;
}

export interface Audience {
  readonly id: string;
  readonly hides: readonly Hideable[];
  readonly hidesSystems: readonly string[];
  readonly needsAtLeast: Basis | null;
}

/** What a copy of a book made for an audience says of itself. */
export interface Copy {
  readonly for: string;
  /** What is left out everywhere. */
  readonly without: readonly Hideable[];
  /** Whether single things that the owner keeps private are left out besides. */
  readonly alsoPrivate: boolean;
  /** Whether some of the readings, statements or tests are not in it. */
  readonly evidenceLeftOut: boolean;
  /** Weakest basis that counts as proof, whatever a spec itself needs; null where the owner asks for no more. */
  readonly needsAtLeast: Basis | null;
  /** Of what no total can be given, since some of its parts are not in it. */
  readonly noTotalsOf: readonly ('cost' | 'hours')[];
  /** Open items that wait on something that is not in it. */
  readonly waitsOnHidden: readonly string[];
}

export interface Subject {
  readonly name: string;
  readonly type: string | null;
  readonly built: string | null;
  readonly about: string | null;
  readonly homePort: string | null;
  readonly particulars: readonly { readonly label: string; readonly value: Claim }[];
}

export interface CompareAt {
  readonly condition: string;
  readonly value: Quantity;
  /** Half-width of "near enough", in SI units. */
  readonly within: number;
  readonly written: string;
}

export interface Point {
  readonly ref: string;
  readonly system: string;
  readonly name: string;
  readonly title: string;
  readonly kind: Kind;
  readonly unit: string;
  readonly atLeast: Quantity | null;
  readonly atMost: Quantity | null;
  readonly expect: 'rising' | 'falling' | 'steady' | null;
  readonly compareAt: readonly CompareAt[];
  /** Correction by which its readings are made alike for a trend. */
  readonly correct: CorrectionName | null;
  readonly plausible: { readonly low: Quantity; readonly high: Quantity } | null;
  readonly where: string | null;
  /** First and last day on which what it is measured on was there. */
  readonly since: string | null;
  readonly until: string | null;
  /** Path of the file with a logger's readings of it, from the book's folder. */
  readonly series: string | null;
  readonly place: Place;
}

/** What a logger has read at a point: columns, since there may be a million rows. */
export interface Series {
  readonly point: string;
  /** Path of its file from the book's folder. */
  readonly file: string;
  /** SHA-256 of that file. */
  readonly hash: string;
  /** Seconds since the beginning of 1970 by the clock on the wall, rising. No zone, no summer time. */
  readonly times: Float64Array;
  /** In the point's unit. */
  readonly values: Float64Array;
}

export interface Meter {
  readonly ref: string;
  readonly system: string;
  readonly name: string;
  readonly title: string;
  readonly unit: string;
  readonly wrapsAt: Quantity | null;
  readonly place: Place;
}

export interface Spec {
  readonly ref: string;
  readonly system: string;
  readonly name: string;
  readonly title: string;
  readonly claim: Claim;
  readonly basis: Basis;
  readonly source: string | null;
  readonly since: string | null;
  /** Where a measured value has to lie to agree; null for a text. */
  readonly band: Band | null;
  /** How far a value may lie off: a share of it, plus an amount in SI. */
  readonly allowance: { readonly share: number; readonly amount: number };
  /** The band in words, as written: `within 5 %`, `at least`. */
  readonly bandWritten: string | null;
  readonly means: 'about' | 'at-least' | 'at-most';
  readonly point: string | null;
  readonly needs: Basis;
  readonly againEvery: Interval | null;
  readonly checkBy: string | null;
  readonly place: Place;
}

export interface Derived {
  readonly ref: string;
  readonly system: string;
  readonly name: string;
  readonly title: string;
  readonly from: string;
  readonly kind: Kind;
  readonly unit: string;
  /** The formula with full refs for names; null where it could not be read. */
  readonly formula: Formula | null;
  /** Full refs that the formula names. */
  readonly uses: readonly string[];
  /** Inputs, by full ref, whose errors go together, and how far: from -1 to 1. */
  readonly correlated: readonly { readonly between: readonly [string, string]; readonly by: number }[];
  readonly place: Place;
}

/** One thing that a test requires: a value inside a band, or a text. */
export type Requirement =
  | {
      readonly type: 'band';
      readonly name: string;
      readonly kind: Kind;
      readonly band: Band;
      readonly written: string;
      /** The point of the same name in the test's system, if there is one. */
      readonly point: string | null;
    }
  | { readonly type: 'text'; readonly name: string; readonly text: string; readonly written: string };

export interface TestProcedure {
  readonly ref: string;
  readonly system: string;
  readonly name: string;
  readonly title: string;
  readonly requires: readonly Requirement[];
  readonly steps: readonly string[];
  readonly hazards: readonly Hazard[];
  readonly againEvery: Interval | null;
  readonly place: Place;
}

export interface Upkeep {
  readonly ref: string;
  readonly system: string;
  readonly name: string;
  readonly what: string;
  /** Calendar part of the interval. */
  readonly every: Interval | null;
  /** Hours part of the interval, and the meter that counts them. */
  readonly everyHours: Quantity | null;
  readonly meter: string | null;
  readonly everyWritten: string;
  readonly counts: 'from-done' | 'from-due';
  readonly safety: boolean;
  readonly hazards: readonly Hazard[];
  readonly place: Place;
}

export interface System {
  readonly id: string;
  readonly file: string;
  readonly title: string;
  readonly group: string | null;
  readonly inService: string | null;
  readonly hazards: readonly Hazard[];
  readonly points: ReadonlyMap<string, Point>;
  readonly meters: ReadonlyMap<string, Meter>;
  readonly specs: ReadonlyMap<string, Spec>;
  readonly derived: ReadonlyMap<string, Derived>;
  readonly tests: ReadonlyMap<string, TestProcedure>;
  readonly upkeep: ReadonlyMap<string, Upkeep>;
  readonly body: string;
}

export interface Condition {
  readonly name: string;
  readonly value: Claim;
}

/** What readings, test readings and statements say about how they were come by. */
export interface Provenance {
  readonly with: string | null;
  readonly by: string | null;
  readonly under: readonly Condition[];
  /** Path of the photo that shows it, from the book's folder. */
  readonly see: string | null;
  readonly note: string | null;
}

export interface Reading extends Provenance {
  readonly date: string;
  readonly system: string;
  /** `system.name` of the point, or null where named in plain words. */
  readonly point: string | null;
  readonly what: string | null;
  readonly quantity: Quantity;
  readonly uncertainty: Uncertainty;
  readonly basis: 'marked' | 'measured' | 'witnessed';
  /** Ref of the test in which it was read, or null. */
  readonly test: string | null;
  readonly entry: string;
  readonly place: Place;
}

export interface Statement extends Provenance {
  readonly date: string;
  readonly spec: string;
  readonly says: Claim;
  readonly uncertainty: Uncertainty;
  readonly basis: Basis;
  readonly entry: string;
  readonly place: Place;
}

export interface TestReading {
  readonly name: string;
  readonly value: Claim;
  readonly uncertainty: Uncertainty;
}

export interface TestRun extends Provenance {
  readonly date: string;
  readonly test: string;
  readonly readings: readonly TestReading[];
  readonly basis: 'measured' | 'witnessed';
  readonly entry: string;
  readonly place: Place;
}

export interface Hours {
  readonly date: string;
  readonly by: string;
  /** Hours. */
  readonly spent: number;
  readonly on: string | null;
  readonly entry: string;
  readonly place: Place;
}

export interface MeterReading {
  readonly date: string;
  readonly meter: string;
  readonly reads: Quantity;
  readonly replaced: boolean;
  readonly wrapped: boolean;
  readonly entry: string;
  readonly place: Place;
}

export type PartMoveName =
  | 'ordered'
  | 'arrived'
  | 'fitted'
  | 'removed'
  | 'moved'
  | 'returned'
  | 'sold'
  | 'scrapped';

/** Three lengths in metres: forward, to starboard, up. */
export type Position = readonly [number, number, number];

export interface PartMove {
  readonly date: string;
  readonly part: string;
  readonly move: PartMoveName;
  readonly what: string | null;
  readonly system: string;
  readonly quantity: number | null;
  readonly cost: Money | null;
  readonly supplier: string | null;
  readonly due: string | null;
  readonly serial: string | null;
  readonly mass: Quantity | null;
  readonly at: Position | null;
  readonly from: Position | null;
  readonly restsOn: readonly string[];
  readonly see: string | null;
  readonly note: string | null;
  readonly entry: string;
  readonly place: Place;
}

export interface DecisionOption {
  readonly option: string;
  readonly figures: readonly { readonly name: string; readonly value: Claim }[];
  readonly note: string | null;
}

export interface Decision {
  readonly date: string;
  readonly id: string;
  readonly question: string;
  readonly options: readonly DecisionOption[];
  readonly chose: string;
  readonly because: string;
  readonly system: string;
  readonly restsOn: readonly string[];
  /** The comparison that has to stay true, as written; names in it are full refs. */
  readonly holdsWhile: string | null;
  readonly holdsFormula: Formula | null;
  readonly undoes: string | null;
  readonly entry: string;
  readonly place: Place;
}

export interface WaitsOn {
  readonly kind: 'part' | 'item' | 'decision';
  readonly id: string;
}

export interface Opened {
  readonly date: string;
  readonly id: string;
  readonly what: string;
  readonly system: string;
  readonly size: Quantity | null;
  readonly waitsOn: readonly WaitsOn[];
  readonly by: string | null;
  readonly goal: boolean;
  readonly defect: boolean;
  readonly safety: boolean;
  readonly restsOn: readonly string[];
  readonly entry: string;
  readonly place: Place;
}

export interface Photo {
  /** Path from the book's folder. */
  readonly file: string;
  readonly alt: string;
  readonly caption: string | null;
  readonly entry: string;
}

export interface Entry {
  /** The file's name without its ending: `2026-04-18-capacity-test`. */
  readonly id: string;
  readonly file: string;
  /** SHA-256 of the file as it lies on disk. */
  readonly hash: string;
  readonly date: string;
  readonly title: string;
  readonly systems: readonly string[];
  readonly location: string | null;
  readonly hours: readonly Hours[];
  readonly meters: readonly MeterReading[];
  readonly readings: readonly Reading[];
  readonly statements: readonly Statement[];
  readonly tests: readonly TestRun[];
  readonly parts: readonly PartMove[];
  readonly decisions: readonly Decision[];
  readonly opens: readonly Opened[];
  readonly closes: readonly string[];
  readonly done: readonly string[];
  readonly photos: readonly Photo[];
  readonly private: readonly Hideable[];
  readonly body: string;
}

export interface CheckedBook {
  readonly id: string;
  readonly subject: Subject;
  readonly language: string;
  readonly currency: string | null;
  /** Where the built site lies, with a slash at its end; null where that is not said. */
  readonly address: string | null;
  readonly display: DisplayPreference;
  readonly people: ReadonlyMap<string, Person>;
  readonly instruments: ReadonlyMap<string, Instrument>;
  readonly audiences: ReadonlyMap<string, Audience>;
  /** Null for the owner's own book. */
  readonly copy: Copy | null;
  readonly systems: ReadonlyMap<string, System>;
  /** In order of date, then of file name. */
  readonly entries: readonly Entry[];
  /** By the point that it belongs to. */
  readonly series: ReadonlyMap<string, Series>;
  readonly plans: { readonly power: PowerPlanFile | null; readonly weights: WeightsPlanFile | null };
}
