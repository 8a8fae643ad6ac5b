import { SeriesDaysPage } from '../../../site/templates/series.js';
import type { Point } from '../../check/model.js';
import { parseQuantity, printQuantity } from '../../quantity/index.js';
import type { Extreme, SeriesState } from '../../reckon/series.js';
import { type SeriesChart, seriesLines } from '../charts/series.js';
import { limitLines } from '../charts/timeline.js';
import { type Link, paths } from '../links.js';
import { makeLatePage } from '../make-page.js';
import type { Page } from '../page.js';
import type { Site } from '../site-context.js';
import { count, dayWords } from '../words.js';

/** Days in one table: a season. */
const PAGE_DAYS = 100;

/** What a logger has read at a point, summed up. */
export interface SeriesView {
  /** `10,420 readings from 1 October 2025 to 31 March 2026`. */
  readonly extent: string;
  readonly lowest: string;
  readonly mean: string;
  readonly highest: string;
  /** How many lie beyond the limits; null where none is set. */
  readonly beyond: string | null;
  readonly chart: SeriesChart;
  /** The days one by one. */
  readonly days: string;
}

/** The days of a logger, one page of them. */
export interface SeriesDaysView {
  readonly system: Link;
  readonly point: Link;
  readonly page: number;
  readonly pages: readonly Link[];
  readonly summary: SeriesView;
  /** Newest first. */
  readonly rows: readonly {
    readonly date: string;
    readonly count: number;
    readonly lowest: string;
    readonly mean: string;
    readonly highest: string;
  }[];
}

/** What is shown of a point's series on the page of its system; null where it has none, or an empty one. */
export function seriesView(site: Site, point: Point): SeriesView | null {
  const state = site.reckoning.series.get(point.ref);
  if (state === undefined || state.lowest === null || state.highest === null) return null;
  const show = shower(site, point, state);
  const limits = limitLines(site, point);
  const rows = state.series.times.length;
  const [first, last] = [state.days[0]?.date ?? '', state.days.at(-1)?.date ?? ''];
  const extent = `${count(rows, 'logged reading')} from ${dayWords(first)} to ${dayWords(last)}`;
  const lowest = `${show(state.lowest.value)} on ${momentWords(state.lowest)}`;
  const highest = `${show(state.highest.value)} on ${momentWords(state.highest)}`;
  const mean = show(state.mean ?? 0);
  const beyond = limits.length === 0 ? null : beyondWords(state, limits);
  const alternative = [
    `${point.title}, ${extent}: lowest ${lowest}, mean ${mean}, highest ${highest}.`,
    beyond === null
      ? 'No limit is set.'
      : `Limit: ${limits.map(({ words }) => words).join(', ')}. ${beyond}.`,
  ].join(' ');
  return {
    extent,
    lowest,
    mean,
    highest,
    beyond,
    chart: { unit: point.unit, lines: seriesLines(state), limits, alternative },
    days: site.nested.to(paths.seriesDays(point.ref, 1)),
  };
}

function momentWords({ time }: Extreme): string {
  const iso = new Date(time * 1000).toISOString();
  return `${dayWords(iso.slice(0, 10))}, ${iso.slice(11, 16)}`;
}

/** A reading of a logger carries no ±, so that it is held against a limit as it is. */
function beyondWords({ series }: SeriesState, limits: SeriesChart['limits']): string {
  const outside = series.values.reduce(
    (sum, value) =>
      limits.some((limit) => (limit.side === 'at least' ? value < limit.value : value > limit.value))
        ? sum + 1
        : sum,
    0,
  );
  if (outside === 0) return 'None beyond the limit';
  const share = (100 * outside) / series.values.length;
  return `${share < 0.1 ? 'Under 0.1' : share.toFixed(1)} % of them beyond the limit`;
}

/** Prints a value in the point's unit with as many decimals as the logger gives. */
function shower(site: Site, point: Point, { series }: SeriesState): (value: number) => string {
  const decimals = decimalsOf(series.values);
  const unit = point.unit === '1' ? '' : ` ${point.unit}`;
  return (value) => {
    const written = `${value.toFixed(decimals)}${unit}`;
    const parsed = parseQuantity(written, point.kind);
    return parsed.ok ? printQuantity(parsed.quantity, site.display) : written;
  };
}

const MOST_DECIMALS = 4;
const LOOKED_AT = 500;

function decimalsOf(values: Float64Array): number {
  const decimals = Array.from(
    values.subarray(0, LOOKED_AT),
    (value) => String(value).split('.')[1]?.length ?? 0,
  );
  return Math.min(MOST_DECIMALS, Math.max(0, ...decimals));
}

/** Makes the pages of days for each point that has a logger. */
export function seriesPages(site: Site): Page[] {
  return [...site.reckoning.series.values()].flatMap((state) => daysPages(site, state));
}

function daysPages(site: Site, state: SeriesState): Page[] {
  const { reckoning, nested: links, digests } = site;
  const point = reckoning.timelines.get(state.series.point)?.point;
  if (point === undefined || state.days.length === 0) return [];
  const newestFirst = [...state.days].reverse();
  const numbers = Array.from({ length: Math.ceil(newestFirst.length / PAGE_DAYS) }, (_, at) => at + 1);
  const pages = numbers.map((page) => ({
    text: String(page),
    href: links.to(paths.seriesDays(point.ref, page)),
  }));
  const gather = (page: number): SeriesDaysView => {
    const show = shower(site, point, state);
    return {
      system: links.system(point.system),
      point: links.point(point.ref),
      page,
      pages,
      summary: seriesView(site, point) as SeriesView,
      rows: newestFirst.slice((page - 1) * PAGE_DAYS, page * PAGE_DAYS).map((day) => ({
        date: day.date,
        count: day.count,
        lowest: show(day.min),
        mean: show(day.mean),
        highest: show(day.max),
      })),
    };
  };
  return numbers.map((page) =>
    makeLatePage(site, {
      path: paths.seriesDays(point.ref, page),
      title: `Day by day: ${point.title}${page === 1 ? '' : `, page ${page}`}`,
      section: 'systems',
      template: SeriesDaysPage,
      standsFor: () => [
        page,
        state.series.hash,
        state.days.length,
        links.system(point.system),
        digests.names,
        digests.systems.get(point.system),
      ],
      gather: () => gather(page),
    }),
  );
}
