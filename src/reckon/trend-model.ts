import type { Quantity } from '../quantity/index.js';
import type { TimelinePoint } from './model.js';

/** What becomes of a point over time: whether it drifts, how fast, and when it reaches its limits. */

export type TrendStatus = 'too-few' | 'no-trend' | 'trend';

export type Direction = 'rising' | 'falling';

/** A reading that the trend is reckoned from. */
export interface TrendReading {
  readonly point: TimelinePoint;
  /** The value in SI, corrected as the point declares. */
  readonly si: number;
  /** The 95 % prediction interval, in SI, of the readings of the days before; null where those are under four. */
  readonly foretold: { readonly low: number; readonly high: number } | null;
  /** Outside `foretold` by more than its own uncertainty and last digit. */
  readonly flagged: boolean;
}

/** A reading that cannot be compared, and why. */
export interface LeftOut {
  readonly point: TimelinePoint;
  /** `conditions`: not taken as `compare-at` asks; `no-temperature`: the correction lacks its temperature. */
  readonly because: 'conditions' | 'no-temperature';
}

/**
 * Change in a month of 365.25/12 days, by Theil and Sen, with its 95 % interval; `null` ends are unbounded. In
 * the point's unit; as a share of the value, in %, where the trend is on a logarithmic scale.
 */
export interface Rate {
  readonly perMonth: Quantity;
  readonly low: Quantity | null;
  readonly high: Quantity | null;
}

/** The Mann–Kendall test by which a trend is claimed. */
export interface TrendTest {
  readonly s: number;
  readonly tau: number;
  readonly p: number;
  /** One-sided towards what the point expects, else two-sided. */
  readonly sided: 'two-sided' | Direction;
  readonly method: 'exact' | 'normal';
}

/** The state of things on a day, in SI: two lines and their intervals. */
export interface BandRow {
  readonly date: string;
  /** The line of Theil and Sen. */
  readonly trend: number;
  /** The line of least squares. */
  readonly fit: number;
  /** Where one more reading would lie: 95 % prediction interval of least squares. */
  readonly low: number;
  readonly high: number;
  /** Where the line itself lies: 95 % confidence interval of least squares. */
  readonly lineLow: number;
  readonly lineHigh: number;
}

/** When a trend reaches a limit. Days are `YYYY-MM-DD`. */
export interface Crossing {
  readonly which: 'at-least' | 'at-most';
  readonly limit: Quantity;
  readonly status: 'crosses' | 'already-crossed' | 'none-within-5-years';
  /** Earliest day, not before the as-of day. */
  readonly from: string | null;
  /** The day on which the line of Theil and Sen crosses; for `already-crossed` the day on which it did. */
  readonly central: string | null;
  /** Latest day; null where it cannot be bounded or lies more than five years off. */
  readonly to: string | null;
}

export interface Trend {
  readonly asOf: string;
  readonly status: TrendStatus;
  readonly direction: Direction | null;
  readonly scale: 'linear' | 'log';
  /** Oldest first. */
  readonly used: readonly TrendReading[];
  readonly leftOut: readonly LeftOut[];
  /** Days with at least one comparable reading. */
  readonly days: number;
  /** Null for `too-few`. */
  readonly rate: Rate | null;
  readonly test: TrendTest | null;
  /** From the first reading to the end of what can be said, evenly spaced; empty for `too-few`. */
  readonly band: readonly BandRow[];
  /** One for each limit; empty where there is no trend. */
  readonly crossings: readonly Crossing[];
  /** What a person would say of it. */
  readonly sentence: string;
}
