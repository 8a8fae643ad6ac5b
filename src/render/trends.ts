import type { Timeline } from '../reckon/model.js';
import { trendOf } from '../reckon/trend.js';
import type { Trend } from '../reckon/trend-model.js';
import type { Site } from './site-context.js';

/** The trend of a point. Several pages show it and it takes long: it is reckoned once, when one of them is made. */
export function trendFor(site: Site, timeline: Timeline): Trend {
  const { ref } = timeline.point;
  const known = site.trends.get(ref);
  if (known !== undefined) return known;
  const made = trendOf(timeline, site.reckoning.asOf, site.fits);
  site.trends.set(ref, made);
  return made;
}
