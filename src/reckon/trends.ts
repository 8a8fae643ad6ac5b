import type { Reckoning } from './model.js';
import { trendOf } from './trend.js';
import type { Trend } from './trend-model.js';

/**
 * The trend of every point, by its ref. It is reckoned apart from the rest, since only pages and exports show
 * it and its statistics take longer to load than a small book takes to check.
 */
export function trendsOf({
  timelines,
  asOf,
}: Pick<Reckoning, 'timelines' | 'asOf'>): ReadonlyMap<string, Trend> {
  return new Map([...timelines].map(([ref, timeline]) => [ref, trendOf(timeline, asOf)]));
}
