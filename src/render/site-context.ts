import { createHash } from 'node:crypto';
import type { Reading, TestRun } from '../check/model.js';
import type { DisplayPreference } from '../quantity/index.js';
import type { Reckoning, TestResult, TimelinePoint } from '../reckon/model.js';
import type { FitMemory } from '../reckon/trend.js';
import type { Trend } from '../reckon/trend-model.js';
import { copyFor, copyLacks } from './copy-words.js';
import { type Digests, digestBook } from './digests.js';
import { type Links, linksFrom } from './links.js';
import { once } from './once.js';
import type { PhotoIndex } from './photo-index.js';
import type { BodyContext } from './prose-tree.js';
import { type AtStake, stakesOf } from './stakes.js';

/** Makes the HTML of prose; `hash` stands for the text, and the context's `key` for the rest. */
export type RenderBody = (markdown: string, hash: string, context: BodyContext) => string;

/** Parts of the site. */
export const ALL_SECTIONS = [
  'now',
  'findings',
  'log',
  'systems',
  'specs',
  'readings',
  'tests',
  'parts',
  'decisions',
  'work',
  'upkeep',
  'power',
  'weights',
  'hours',
  'write',
  'seal',
  'about',
  'downloads',
  'reference',
] as const;

/** A part of the site that the navigation, or the foot of a page, leads to. */
export type Section = (typeof ALL_SECTIONS)[number];

/** What every page shows around its own contents. */
export interface SiteFrame {
  readonly subject: string;
  /** `wooden motor-sailer, built 1968`, or null where neither is said. */
  readonly description: string | null;
  readonly language: string;
  readonly asOf: string;
  /** Parts of the site that this book has nothing for. */
  readonly without: readonly Section[];
  /** What a copy made for an audience says of itself; null for the owner's own book. */
  readonly copy: { readonly for: string; readonly lacks: string } | null;
}

/** All that pages are made from, with the look-ups that more than one of them needs. */
export interface Site {
  readonly reckoning: Reckoning;
  readonly frame: SiteFrame;
  readonly photos: PhotoIndex;
  readonly renderBody: RenderBody;
  readonly display: DisplayPreference;
  /** Links of pages in the site's folder, and in a folder of it. */
  readonly top: Links;
  readonly nested: Links;
  /** What rests on each spec, by ref. */
  readonly stakes: ReadonlyMap<string, AtStake>;
  /** How a reading lies in the line of its point; undefined for a reading of none. */
  readonly inTimeline: (reading: Reading) => TimelinePoint | undefined;
  readonly testResults: ReadonlyMap<TestRun, TestResult>;
  readonly digests: Digests;
  /** Trends that were reckoned, by point. */
  readonly trends: Map<string, Trend>;
  readonly fits: FitMemory | undefined;
  /** Makes a page's key from what it shows. */
  readonly keyOf: (...shown: readonly unknown[]) => string;
}

/** Where the look-ups of a site come from. */
export interface SiteSource {
  readonly reckoning: Reckoning;
  readonly photos: PhotoIndex;
  readonly renderBody: RenderBody;
  /** Stands for the code that renders: another one, other bytes. */
  readonly rendererId: string;
  /** Whether the site will carry a seal, and so the page by which it checks itself. */
  readonly sealed?: boolean;
  /** Spares laying lines through readings anew. */
  readonly fits?: FitMemory | undefined;
}

/** What every page of a book shows around its contents. */
export function frameOf(reckoning: Reckoning, sealed = false): SiteFrame {
  const { subject, language, copy } = reckoning.book;
  const built = subject.built === null ? null : `built ${subject.built}`;
  return {
    subject: subject.name,
    description: [subject.type, built].filter((text) => text !== null).join(', ') || null,
    language,
    asOf: reckoning.asOf,
    without: [...emptySections(reckoning), ...(sealed ? [] : (['seal'] as const))],
    copy: copy === null ? null : { for: copyFor(copy), lacks: copyLacks(copy).join(' ') },
  };
}

/** What the pages need, each gathered when the first of them asks. Linear in the size of the book. */
export function siteContext(source: SiteSource): Site {
  const { reckoning, photos, renderBody, rendererId, sealed = false, fits } = source;
  const { display } = reckoning.book;
  const frame = frameOf(reckoning, sealed);
  const base = JSON.stringify([rendererId, frame]);
  const stakes = once(() => stakesOf(reckoning));
  const testResults = once(() => resultsByRun(reckoning));
  return {
    reckoning,
    frame,
    photos,
    renderBody,
    display,
    top: linksFrom('', reckoning),
    nested: linksFrom('../', reckoning),
    get stakes() {
      return stakes();
    },
    inTimeline: timelineFinder(reckoning),
    get testResults() {
      return testResults();
    },
    digests: digestBook(reckoning.book),
    trends: new Map(),
    fits,
    keyOf: (...shown) => createHash('sha1').update(base).update(JSON.stringify(shown)).digest('base64url'),
  };
}

function emptySections({ book, upkeep, power, weights, hours, money }: Reckoning): readonly Section[] {
  const empty: readonly (readonly [Section, boolean])[] = [
    ['upkeep', upkeep.size === 0],
    ['power', power === null],
    ['weights', weights === null],
    // Who was given a copy has nothing to write, and need not be shown where nothing is shown.
    ['write', book.copy !== null],
    ['hours', book.copy !== null && hours.total === 0 && money.length === 0],
  ];
  return empty.filter(([, isEmpty]) => isEmpty).map(([section]) => section);
}

function timelineFinder({ timelines }: Reckoning): Site['inTimeline'] {
  const byPoint = new Map<string, ReadonlyMap<Reading, TimelinePoint>>();
  return (reading) => {
    const { point } = reading;
    if (point === null) return undefined;
    const known =
      byPoint.get(point) ?? new Map(timelines.get(point)?.readings.map((one) => [one.reading, one] as const));
    byPoint.set(point, known);
    return known.get(reading);
  };
}

function resultsByRun(reckoning: Reckoning): Map<TestRun, TestResult> {
  const found = new Map<TestRun, TestResult>();
  for (const state of reckoning.tests.values()) {
    for (const result of state.results) found.set(result.run, result);
  }
  return found;
}

/** The name of a person of the book, or the short name where the book says no more. */
export function personName(site: Site, id: string | null): string | null {
  return id === null ? null : (site.reckoning.book.people.get(id)?.name ?? id);
}

/** The name of an instrument of the book. */
export function instrumentName(site: Site, id: string | null): string | null {
  return id === null ? null : (site.reckoning.book.instruments.get(id)?.name ?? id);
}
