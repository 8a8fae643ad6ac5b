import { Now } from '../../../site/templates/now.js';
import { addDays } from '../../reckon/calendar.js';
import { dueList } from '../../reckon/due.js';
import type { Exposure } from '../../reckon/exposure.js';
import type { Grade } from '../../reckon/grading.js';
import type { DecisionState, SpecState } from '../../reckon/model.js';
import { type DueRow, dueRow } from '../due-row.js';
import { type Links, paths } from '../links.js';
import { makePage } from '../make-page.js';
import type { Page } from '../page.js';
import type { Site } from '../site-context.js';
import { type SpecRow, specRow } from '../spec-row.js';
import type { Stake } from '../stakes.js';
import { showClaim } from '../values.js';
import { datesInWords, STANDING_ORDER } from '../words.js';
import { type DecisionView, decisionView } from './decisions.js';
import { pointsRead } from './drift.js';
import { type FindingRow, findingRow, readerOf } from './findings.js';
import { type EntryRow, entryRow } from './log.js';
import { onOrder, type PartRow, partRow } from './parts.js';
import { type LatestResults, latestResults } from './tests.js';
import { SOON_DAYS } from './upkeep.js';
import { type ItemRow, itemRow, openItems } from './work.js';

/** How many rows the first page shows of each list; the rest is a link away. */
const ROWS = {
  findings: 6,
  checkFirst: 12,
  overdue: 8,
  soon: 8,
  items: 12,
  parts: 8,
  entries: 8,
  passedTests: 4,
};

/** A spec that is not verified, with what rests on it and what would settle it. */
export interface CheckRow extends SpecRow {
  readonly stake: Stake | null;
  readonly next: string;
}

/** The first page: what needs looking at now. */
export interface NowView {
  readonly subject: string;
  readonly about: string | null;
  readonly particulars: readonly (readonly [string, string])[];
  /** How many specs stand how, worst first. */
  readonly standings: readonly (readonly [SpecState['standing'], number])[];
  /** What is to be settled before use. */
  readonly pressing: readonly FindingRow[];
  /** How many findings there are of each grade. */
  readonly findings: Readonly<Record<Grade, number>>;
  /** Those with most at stake, most first. */
  readonly checkFirst: readonly CheckRow[];
  readonly notVerified: number;
  /** Of those not verified, how many have something resting on them. */
  readonly restedOn: number;
  /** Decisions that no longer hold, those of the newest reading first. */
  readonly fallen: readonly DecisionView[];
  /** What is overdue, the longest first, and after it what comes due soon. */
  readonly due: { readonly overdue: readonly DueRow[]; readonly soon: readonly DueRow[] };
  readonly dueCounts: { readonly overdue: number; readonly soon: number };
  readonly items: readonly ItemRow[];
  readonly itemCounts: { readonly open: number; readonly ready: number; readonly overdue: number };
  readonly parts: readonly PartRow[];
  readonly partCounts: { readonly ordered: number; readonly late: number };
  readonly entries: readonly EntryRow[];
  readonly entryCount: number;
  readonly readingCount: number;
  /** Day of the first entry. */
  readonly first: string | null;
  /** Tests that did not pass when they were done last, and after them the latest that did. */
  readonly results: LatestResults;
  /** Address of the page of what drifts; null where nothing is read at a point. */
  readonly drift: string | null;
  readonly to: Readonly<
    Record<'findings' | 'specs' | 'decisions' | 'work' | 'upkeep' | 'parts' | 'log' | 'tests', string>
  >;
}

/** Makes the first page. */
export function nowPage(site: Site): Page {
  const links = site.top;
  const view = () => nowView(site, links);
  return makePage(site, { path: paths.now, title: site.frame.subject, section: 'now', template: Now, view });
}

function nowView(site: Site, links: Links): NowView {
  const { book, specs, exposures, findings } = site.reckoning;
  const { subject } = book;
  const pressing = findings.filter(({ grade }) => grade === 'before-use');
  const open = openItems(site);
  const due = dueList(site.reckoning, addDays(site.reckoning.asOf, SOON_DAYS));
  const overdue = due.filter((one) => one.overdue);
  const soon = due.filter((one) => !one.overdue);
  const ordered = onOrder(site);
  return {
    subject: subject.name,
    about: subject.about,
    particulars: particulars(site),
    standings: STANDING_ORDER.map((standing) => [standing, countStanding(specs, standing)] as const),
    pressing: pressing.slice(0, ROWS.findings).map((finding) => findingRow(links, finding, readerOf(site))),
    findings: {
      'before-use': pressing.length,
      soon: findings.filter(({ grade }) => grade === 'soon').length,
      'when-convenient': findings.filter(({ grade }) => grade === 'when-convenient').length,
    },
    checkFirst: exposures.slice(0, ROWS.checkFirst).flatMap((exposure) => checkRow(site, links, exposure)),
    notVerified: exposures.length,
    restedOn: exposures.filter(({ dependents }) => dependents.length > 0).length,
    fallen: fallenDecisions(site, links),
    due: {
      overdue: overdue.slice(0, ROWS.overdue).map((due) => dueRow(links, due)),
      soon: soon.slice(0, ROWS.soon).map((due) => dueRow(links, due)),
    },
    dueCounts: { overdue: overdue.length, soon: soon.length },
    items: open.slice(0, ROWS.items).map((item) => itemRow(links, item, site)),
    itemCounts: {
      open: open.length,
      ready: open.filter((item) => item.status === 'ready').length,
      overdue: open.filter((item) => item.overdue).length,
    },
    parts: ordered.slice(0, ROWS.parts).map((part) => partRow(links, part)),
    partCounts: { ordered: ordered.length, late: ordered.filter((part) => part.late).length },
    entries: book.entries
      .slice(-ROWS.entries)
      .reverse()
      .map((entry) => entryRow(links, entry)),
    entryCount: book.entries.length,
    readingCount: site.reckoning.readings.length,
    first: book.entries[0]?.date ?? null,
    results: latestResults(site, links, ROWS.passedTests),
    drift: pointsRead(site).length === 0 ? null : links.to(paths.drift),
    to: {
      findings: links.to(paths.findings),
      specs: links.to(paths.specs),
      decisions: links.to(paths.decisions),
      work: links.to(paths.work),
      upkeep: links.to(site.frame.without.includes('upkeep') ? paths.work : paths.upkeep),
      parts: links.to(paths.parts),
      log: links.to(paths.log),
      tests: links.to(paths.tests),
    },
  };
}

function particulars({ reckoning, display }: Site): [string, string][] {
  const { subject } = reckoning.book;
  const rows = subject.particulars.map(({ label, value }): [string, string] => [
    label,
    showClaim(value, display),
  ]);
  if (subject.homePort !== null) rows.push(['home port', subject.homePort]);
  return rows;
}

function countStanding(specs: ReadonlyMap<string, SpecState>, standing: SpecState['standing']): number {
  let found = 0;
  for (const state of specs.values()) if (state.standing === standing) found += 1;
  return found;
}

function fallenDecisions(site: Site, links: Links): DecisionView[] {
  const turnedOn = ({ holding, decision }: DecisionState) => holding?.turned?.date ?? decision.date;
  return [...site.reckoning.decisions.values()]
    .filter(({ undoneBy, holding }) => undoneBy === null && holding?.verdict === 'fails')
    .sort((a, b) => (turnedOn(a) < turnedOn(b) ? 1 : -1))
    .map((state) => decisionView(site, links, state));
}

function checkRow(site: Site, links: Links, { spec, next }: Exposure): readonly CheckRow[] {
  const state = site.reckoning.specs.get(spec);
  if (state === undefined) return [];
  return [
    { ...specRow(site, links, state), stake: site.stakes.get(spec)?.stake ?? null, next: datesInWords(next) },
  ];
}
