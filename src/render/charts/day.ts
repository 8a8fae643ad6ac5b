import { type DisplayPreference, printQuantity } from '../../quantity/index.js';
import type { DayProfile } from '../../reckon/power/model.js';
import type { Figure } from '../../reckon/uncertain.js';
import { clock } from '../clock.js';

/** Power over a day as stacked steps, in watts. The template draws it. */
export interface DayChart {
  /** Tells its patterns from those of the other charts of the page. */
  readonly id: string;
  /** Pieces of the day, in hours from midnight. */
  readonly spans: readonly { readonly from: number; readonly to: number }[];
  /** From the bottom up. */
  readonly bands: readonly {
    readonly title: string;
    readonly watts: readonly number[];
    readonly most: string;
  }[];
  /** What the source gives for hours; null for a store, and where it is not known. */
  readonly limit: {
    readonly watts: number;
    /** Half-width, where it is known. */
    readonly spread: number | null;
    readonly words: string;
  } | null;
  readonly alternative: string;
}

/** What a chart of the day is made from. */
export interface DayFacts {
  readonly id: string;
  readonly title: string;
  readonly profile: DayProfile;
  readonly limit: Figure<'power'> | null;
}

/** The chart of a day; null where nothing is asked. Bands that ask nothing are left out. */
export function dayChart(
  { id, title, profile, limit }: DayFacts,
  display: DisplayPreference,
): DayChart | null {
  const bands = profile.bands.filter(({ watts }) => watts.some((value) => value > 0));
  if (bands.length === 0) return null;
  const words = limit === null ? null : printQuantity(limit.quantity, display);
  return {
    id,
    spans: profile.spans.map(({ from, to }) => ({ from: from / 3600, to: to / 3600 })),
    bands: bands.map(({ title: load, watts }) => ({
      title: load,
      watts,
      most: `${Math.round(Math.max(...watts))} W`,
    })),
    limit:
      limit === null || words === null
        ? null
        : { watts: limit.quantity.si, spread: limit.quantity.siUncertainty, words },
    alternative: alternative(title, { ...profile, bands }, words, display),
  };
}

function alternative(
  title: string,
  { spans, bands, active }: DayProfile,
  limit: string | null,
  display: DisplayPreference,
): string {
  const peak = active.reduce(
    (most, figure, at) => (figure.quantity.si > (active[most]?.quantity.si ?? 0) ? at : most),
    0,
  );
  const [span, figure] = [spans[peak], active[peak]];
  const most =
    span === undefined || figure === undefined
      ? ''
      : ` Most is asked from ${clock(span.from)} to ${clock(span.to)}: ${printQuantity(figure.quantity, display)}.`;
  const gives = limit === null ? '' : ` It gives ${limit} for hours.`;
  return `${title} over a day, stacked: ${bands.map((band) => band.title).join(', ')}.${most}${gives} The table has every piece of the day.`;
}
