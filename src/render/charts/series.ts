import { type SeriesState, thinned } from '../../reckon/series.js';
import { BOX_COLUMNS } from './box.js';
import type { TimelineChart } from './timeline.js';

/** What a logger has read, thinned to what can be seen, in the point's unit. The template draws it. */
export interface SeriesChart {
  readonly unit: string;
  /** Pieces of line without a gap: pairs of seconds since 1970 by the logger's clock, and a value. */
  readonly lines: readonly (readonly (readonly [time: number, value: number])[])[];
  readonly limits: TimelineChart['limits'];
  /** All of it in words. */
  readonly alternative: string;
}

/** The lines of a series, broken where the logger was silent. No peak of it is lost. */
export function seriesLines({ series }: SeriesState): SeriesChart['lines'] {
  const lines: [number, number][][] = [];
  for (const { time, value, breaks } of thinned(series, BOX_COLUMNS)) {
    const last = lines.at(-1);
    if (last === undefined || breaks) lines.push([[time, value]]);
    else last.push([time, value]);
  }
  return lines;
}
