import { Drift } from '../../../site/templates/drift.js';
import type { Timeline } from '../../reckon/model.js';
import type { Crossing, Trend } from '../../reckon/trend-model.js';
import { type Link, paths } from '../links.js';
import { makeLatePage } from '../make-page.js';
import type { Page } from '../page.js';
import type { Site } from '../site-context.js';
import { trendFor } from '../trends.js';
import { type ShownValue, showReading } from '../values.js';
import { datesInWords } from '../words.js';

/** A point that drifts. */
export interface DriftRow {
  readonly point: Link;
  readonly system: Link;
  readonly last: { readonly value: ShownValue; readonly date: string; readonly entry: Link };
  readonly sentence: string;
}

/** All points that drift, the soonest first to reach a limit. */
export interface DriftView {
  /** By their trend past a limit. */
  readonly past: readonly DriftRow[];
  readonly reaching: readonly DriftRow[];
  readonly drifting: readonly DriftRow[];
  /** Whose last reading is not what those before it led to expect. */
  readonly odd: readonly DriftRow[];
  /** Points that are read, and those with too few comparable readings for a trend. */
  readonly read: number;
  readonly tooFew: number;
}

/** Makes the page of what drifts, where anything is read. */
export function driftPages(site: Site): Page[] {
  const read = pointsRead(site);
  if (read.length === 0) return [];
  const { digests, reckoning } = site;
  const page = makeLatePage(site, {
    path: paths.drift,
    title: 'What drifts',
    section: 'readings',
    template: Drift,
    // Trends follow from the readings and from what the systems declare of their points.
    standsFor: () => [
      digests.names,
      [...digests.systems],
      reckoning.book.entries
        .filter(({ readings, tests }) => readings.length + tests.length > 0)
        .map(({ hash }) => hash),
    ],
    gather: () => driftView(site, read),
  });
  return [page];
}

/** Points at which anything was read. */
export function pointsRead({ reckoning }: Site): readonly Timeline[] {
  return [...reckoning.timelines.values()].filter(({ last }) => last !== null);
}

interface Known {
  readonly timeline: Timeline;
  readonly trend: Trend;
}

/** What the page, and the pack, say of what drifts. */
export function driftView(site: Site, read: readonly Timeline[]): DriftView {
  const all = read.map((timeline): Known => ({ timeline, trend: trendFor(site, timeline) }));
  const drifting = all.filter(({ trend }) => trend.status === 'trend');
  const has =
    (status: Crossing['status']) =>
    ({ trend }: Known) =>
      trend.crossings.some((crossing) => crossing.status === status);
  const past = drifting.filter(has('already-crossed'));
  const reaching = drifting.filter((one) => has('crosses')(one) && !past.includes(one));
  const rows = (known: readonly Known[]) => known.map((one) => driftRow(site, one));
  return {
    past: rows(past),
    reaching: rows([...reaching].sort((a, b) => (firstDay(a) < firstDay(b) ? -1 : 1))),
    drifting: rows(drifting.filter((one) => !past.includes(one) && !reaching.includes(one))),
    odd: rows(all.filter(({ trend }) => trend.used.at(-1)?.flagged === true)),
    read: read.length,
    tooFew: all.filter(({ trend }) => trend.status === 'too-few').length,
  };
}

function firstDay({ trend }: Known): string {
  const days = trend.crossings.flatMap(({ status, from }) =>
    status === 'crosses' && from !== null ? [from] : [],
  );
  return days.sort()[0] ?? '9999';
}

function driftRow(site: Site, { timeline, trend }: Known): DriftRow {
  const { point, readings } = timeline;
  const links = site.top;
  const last = readings.at(-1)?.reading;
  if (last === undefined) throw new Error(`${point.ref} has no reading`);
  return {
    point: links.point(point.ref),
    system: links.system(point.system),
    last: {
      value: showReading(last.quantity, last.uncertainty, site.display),
      date: last.date,
      entry: links.entry(last.entry),
    },
    sentence: datesInWords(trend.sentence),
  };
}
