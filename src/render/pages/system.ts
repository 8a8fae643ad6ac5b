import { SystemPage } from '../../../site/templates/system.js';
import type { Derived, Hazard, Point, System } from '../../check/model.js';
import { type DisplayPreference, fromSi, printQuantity } from '../../quantity/index.js';
import { correctionOf } from '../../reckon/corrections.js';
import type { SpecState, Standing, Timeline } from '../../reckon/model.js';
import { limitsTold } from '../../reckon/timelines.js';
import type { Trend } from '../../reckon/trend-model.js';
import { shownInUnit } from '../../reckon/values.js';
import { type Caution, cautionsFor } from '../cautions.js';
import { type TimelineChart, timelineChart } from '../charts/timeline.js';
import { type Link, type Links, paths } from '../links.js';
import { makeLatePage } from '../make-page.js';
import { once } from '../once.js';
import type { Page } from '../page.js';
import { type ProseView, proseHtml, proseView } from '../prose.js';
import { type ReadingRow, readingRow } from '../rows.js';
import type { Site } from '../site-context.js';
import { type SpecRow, specRow } from '../spec-row.js';
import { trendFor } from '../trends.js';
import { type ShownValue, showHours, showMeasured } from '../values.js';
import { datesInWords, dayWords, STANDING_ORDER } from '../words.js';
import { type DecisionRow, decisionRows } from './decisions.js';
import { type EntryRow, entryRow } from './log.js';
import { type PartDetail, partDetail } from './parts.js';
import { type SeriesView, seriesView } from './series.js';
import { type TestDetail, testDetail } from './tests.js';
import { type UpkeepRow, upkeepRow } from './upkeep.js';
import { type ItemRow, itemRow, openItems } from './work.js';

/** As many readings as a point shows on its system's page; the readings pages have them all. */
const POINT_ROWS = 12;
const LATEST_ENTRIES = 10;

/** A point with its readings. */
export interface PointView {
  readonly name: string;
  readonly title: string;
  readonly where: string | null;
  /** Since when, or until when, what it is measured on was there; null where nothing is said of that. */
  readonly period: string | null;
  /** Whether nothing is there any more. */
  readonly gone: boolean;
  readonly limits: string | null;
  readonly comparedAt: string | null;
  readonly expect: string | null;
  readonly count: number;
  readonly last: ReadingRow | null;
  readonly chart: TimelineChart | null;
  readonly trend: PointTrend | null;
  /** Newest first. */
  readonly readings: readonly ReadingRow[];
  /** What a logger has read here; null where there is none. */
  readonly series: SeriesView | null;
}

/** What is said of a point's trend; null where so few readings can be compared that nobody would ask. */
export interface PointTrend {
  readonly sentence: string;
  /** Values are as they would be under the conditions of the comparison: `at 40 °C`. */
  readonly corrected: string | null;
  /** Readings that are not what those before them led to expect. */
  readonly flagged: readonly { readonly date: string; readonly value: string; readonly expected: string }[];
}

/** A derived value: its formula, what it comes to, and what it rests on. */
export interface DerivedRow {
  readonly name: string;
  readonly title: string;
  readonly from: string;
  /** Null where something in its formula has no value. */
  readonly value: ShownValue | null;
  /** Day of the newest reading or statement in it. */
  readonly date: string | null;
  readonly restsOn: readonly { readonly what: Link; readonly standing: Standing | null }[];
}

/** One system. */
export interface SystemView {
  readonly id: string;
  readonly title: string;
  readonly group: string | null;
  readonly inService: string | null;
  readonly hours: string;
  readonly cautions: readonly Caution[];
  readonly specs: readonly SpecRow[];
  readonly derived: readonly DerivedRow[];
  readonly points: readonly PointView[];
  readonly allReadings: string;
  readonly meters: readonly {
    readonly title: string;
    readonly last: string | null;
    readonly date: string | null;
  }[];
  readonly parts: readonly PartDetail[];
  readonly tests: readonly TestDetail[];
  readonly decisions: readonly DecisionRow[];
  readonly items: readonly ItemRow[];
  readonly upkeep: readonly UpkeepRow[];
  readonly entries: readonly EntryRow[];
  readonly entryCount: number;
  readonly prose: ProseView;
}

/** Makes a page for each system. */
export function systemPages(site: Site): Page[] {
  const gathered = once(() => gatherBySystem(site));
  return [...site.reckoning.book.systems.values()].map((system) => {
    let plain: SystemView | undefined;
    const withoutTrends = () => {
      plain ??= systemView(site, system, gathered());
      return plain;
    };
    // Trends take long, and follow from what the rest of the page and its points' readings say.
    const standsFor = () => [withoutTrends(), trendOrigins(site, system)];
    return makeLatePage(site, {
      path: paths.system(system.id),
      title: system.title,
      section: 'systems',
      template: SystemPage,
      standsFor,
      gather: () => withTrends(site, system, withoutTrends()),
      html: ({ prose }) => proseHtml(site, prose),
    });
  });
}

/** What entries hold for each system, gathered in one pass over the book. */
interface Gathered {
  readonly entries: ReadonlyMap<string, readonly EntryRow[]>;
}

function gatherBySystem(site: Site): Gathered {
  const entries = new Map<string, EntryRow[]>();
  for (const entry of [...site.reckoning.book.entries].reverse()) {
    const row = entryRow(site.nested, entry);
    for (const system of entry.systems) push(entries, system, row);
  }
  return { entries };
}

function push<T>(map: Map<string, T[]>, key: string, value: T): void {
  const list = map.get(key);
  if (list === undefined) map.set(key, [value]);
  else list.push(value);
}

/** What trends hang on that the page does not show without them: declarations, conditions, last digits. */
function trendOrigins({ reckoning, digests }: Site, system: System): unknown {
  const readings = [...system.points.values()].map(({ ref, correct }) =>
    (reckoning.timelines.get(ref)?.readings ?? []).map(({ reading }) => [
      reading.quantity.resolution,
      correct === null ? null : reading.under,
    ]),
  );
  return [digests.systems.get(system.id), readings];
}

function withTrends(site: Site, { id }: System, view: SystemView): SystemView {
  const points = view.points.map((point) => {
    const timeline = site.reckoning.timelines.get(`${id}.${point.name}`);
    return timeline === undefined ? point : pointWithTrend(site, timeline, point);
  });
  return { ...view, points };
}

function systemView(site: Site, system: System, gathered: Gathered): SystemView {
  const { reckoning } = site;
  const links = site.nested;
  const entries = gathered.entries.get(system.id) ?? [];
  const hours = reckoning.hours.bySystem.find(({ key }) => key === system.id)?.hours ?? 0;
  return {
    id: system.id,
    title: system.title,
    group: system.group,
    inService: system.inService,
    hours: showHours(hours),
    cautions: cautionsFor(hazardsOf(system)),
    specs: specRows(site, links, system),
    derived: [...system.derived.values()].map((derived) => derivedRow(site, links, derived)),
    points: [...system.points.values()].flatMap(({ ref }) => {
      const timeline = reckoning.timelines.get(ref);
      return timeline === undefined ? [] : [pointView(site, timeline)];
    }),
    allReadings: links.to(paths.systemReadings(system.id, 1)),
    meters: [...system.meters.values()].map((meter) => meterRow(site, meter.ref, meter.title)),
    parts: [...reckoning.parts.values()]
      .filter((part) => part.system === system.id)
      .map((part) => partDetail(site, links, part)),
    tests: [...system.tests.values()].flatMap(({ ref }) => {
      const state = reckoning.tests.get(ref);
      return state === undefined ? [] : [testDetail(site, links, state)];
    }),
    decisions: decisionRows(site, links, system.id),
    items: openItems(site)
      .filter((item) => item.opened.system === system.id)
      .map((item) => itemRow(links, item, site)),
    upkeep: [...system.upkeep.values()].flatMap(({ ref }) => {
      const state = reckoning.upkeep.get(ref);
      return state === undefined ? [] : [upkeepRow(site, links, state)];
    }),
    entries: entries.slice(0, LATEST_ENTRIES),
    entryCount: entries.length,
    prose: proseView(site, links, system.body, 3),
  };
}

/** Dangers of the system and of the tests and the upkeep that belong to it. */
export function hazardsOf(system: System): Hazard[] {
  const all = [
    system.hazards,
    ...[...system.tests.values()].map((test) => test.hazards),
    ...[...system.upkeep.values()].map((upkeep) => upkeep.hazards),
  ].flat();
  return [...new Set(all)];
}

function specRows(site: Site, links: Links, system: System): SpecRow[] {
  const states = [...system.specs.values()].flatMap(({ ref }): SpecState[] => {
    const state = site.reckoning.specs.get(ref);
    return state === undefined ? [] : [state];
  });
  states.sort((a, b) => STANDING_ORDER.indexOf(a.standing) - STANDING_ORDER.indexOf(b.standing));
  return states.map((state) => specRow(site, links, state));
}

/** One point with its trend, in words and drawn. */
export function pointWithTrend(site: Site, timeline: Timeline, view: PointView): PointView {
  const trend = trendFor(site, timeline);
  return {
    ...view,
    chart: timelineChart(site, timeline, trend),
    trend: trendView(site, timeline.point, trend),
  };
}

/** `since 12 Apr 2025`, `there until 11 Apr 2025`. */
function periodWords({ since, until }: Point): string | null {
  const words = [
    since === null ? '' : `put there ${dayWords(since)}`,
    until === null ? '' : `there until ${dayWords(until)}`,
  ].filter((word) => word !== '');
  return words.length === 0 ? null : words.join(', ');
}

/** The limits of a point: `at least 12 V, at most 15 V`; empty where it has none. */
export function limitWords(point: Point, display: DisplayPreference): string {
  return limitsTold(point, (limit) => printQuantity(limit, display)).join(', ');
}

/** One point with its latest readings, without its trend. */
export function pointView(site: Site, timeline: Timeline): PointView {
  const { point, readings, last } = timeline;
  const limits = limitWords(point, site.display);
  const compared = point.compareAt.map(
    ({ condition, written }) => `${condition.replaceAll('-', ' ')} ${written}`,
  );
  return {
    name: point.name,
    title: point.title,
    where: point.where,
    period: periodWords(point),
    gone: timeline.gone,
    limits: limits === '' ? null : limits,
    comparedAt: compared.length === 0 ? null : compared.join(', '),
    expect: point.expect,
    count: readings.length,
    last: last === null ? null : readingRow(site, last.reading),
    chart: timelineChart(site, timeline, null),
    trend: null,
    readings: readings
      .slice(-POINT_ROWS)
      .reverse()
      .map(({ reading }) => readingRow(site, reading)),
    series: seriesView(site, point),
  };
}

/** Below this many readings a point has no trend, and that goes without saying. */
const WORTH_A_WORD = 3;

function trendView(site: Site, point: Point, trend: Trend): PointTrend | null {
  if (trend.used.length + trend.leftOut.length < WORTH_A_WORD) return null;
  const show = (si: number) =>
    printQuantity(fromSi(point.kind, { si, siUncertainty: null }, point.unit), site.display);
  return {
    sentence: datesInWords(trend.sentence),
    corrected: trend.used.length === 0 ? null : (correctionOf(point)?.words ?? null),
    flagged: trend.used.flatMap(({ point: taken, foretold, flagged }) => {
      if (!flagged || foretold === null) return [];
      const { date, quantity } = taken.reading;
      return [
        {
          date,
          value: printQuantity(quantity, site.display),
          expected: `${show(foretold.low)} to ${show(foretold.high)}`,
        },
      ];
    }),
  };
}

/** One derived value, with links as seen from a page. */
export function derivedRow(
  site: Site,
  links: Links,
  { ref, name, title, from, unit, uses }: Derived,
): DerivedRow {
  const { values } = site.reckoning;
  const found = values.of(ref);
  const shown = found === undefined ? null : shownInUnit(found, unit);
  return {
    name,
    title,
    from,
    value: shown === null ? null : showMeasured(shown.claim, shown.uncertainty, site.display),
    date: found?.date ?? null,
    restsOn: (found?.restsOn ?? uses)
      .filter((below) => below !== ref)
      .map((below) => ({ what: links.anything(below), standing: values.standing(below) })),
  };
}

function meterRow(site: Site, ref: string, title: string): SystemView['meters'][number] {
  const last = site.reckoning.meters.get(ref)?.readings.at(-1);
  return {
    title,
    last: last === undefined ? null : printQuantity(last.reads, site.display),
    date: last?.date ?? null,
  };
}
