import { Findings } from '../../../site/templates/findings.js';
import type { Finding, Ground } from '../../reckon/findings.js';
import { askedOf, fittedWords, lackWords } from '../../reckon/fitted-since.js';
import { FINDING_RULES, GRADES, type Grade, RULE_INFO } from '../../reckon/grading.js';
import { cautionsFor } from '../cautions.js';
import { type Link, type Links, paths } from '../links.js';
import { makePage } from '../make-page.js';
import type { Page } from '../page.js';
import type { Site } from '../site-context.js';
import { capital, datesInWords, dayWords, GRADE_WORD, RULE_WORD } from '../words.js';

/** One fact that shows a finding. */
export interface GroundRow {
  /** What the rule finds: `Test failed`. */
  readonly why: string;
  readonly what: Link;
  readonly says: string;
  readonly entry: Link | null;
  readonly date: string | null;
  /** Dangers that raised its grade, in words. */
  readonly raisedBy: readonly string[];
}

/** A finding as a row: the fact that decides its grade, and the others. */
export interface FindingRow extends GroundRow {
  readonly grade: Grade;
  readonly system: Link;
  readonly also: readonly GroundRow[];
  /** Parts that were fitted after the evidence: to the owner a question, to others the fact. Each sentence once. */
  readonly fitted: readonly string[];
}

/** Whether the reader can write into the book, and so is asked rather than told. */
export type Reader = 'owner' | 'other';

/** Who reads the pages of a site. */
export function readerOf({ reckoning }: Site): Reader {
  return reckoning.book.copy === null ? 'owner' : 'other';
}

/** A rule in words: `settle soon, before use where …`. */
export interface RuleRow {
  readonly lists: string;
  readonly grade: string;
}

/** All findings by their grade, and the rules. */
export interface FindingsView {
  readonly groups: readonly {
    readonly grade: Grade;
    readonly word: string;
    readonly rows: readonly FindingRow[];
  }[];
  readonly total: number;
  readonly rules: readonly RuleRow[];
}

/** Makes the page of findings. */
export function findingsPage(site: Site): Page {
  const view = () => findingsView(site, site.top, readerOf(site));
  const parts = {
    path: paths.findings,
    title: 'Findings',
    section: 'findings',
    template: Findings,
    view,
  } as const;
  return makePage(site, parts);
}

/** What the page, and the pack, say of the findings. */
export function findingsView(site: Site, links: Links, reader: Reader): FindingsView {
  const { findings } = site.reckoning;
  return {
    total: findings.length,
    groups: GRADES.map((grade) => ({
      grade,
      word: GRADE_WORD[grade],
      rows: findings
        .filter((finding) => finding.grade === grade)
        .map((finding) => findingRow(links, finding, reader)),
    })),
    rules: FINDING_RULES.map((rule) => {
      const { lists, grade, raisedTo } = RULE_INFO[rule];
      const raised = grade === raisedTo ? '' : `; ${GRADE_WORD[raisedTo]} where a danger in use raises it`;
      return { lists, grade: `${GRADE_WORD[grade]}${raised}` };
    }),
  };
}

/** One finding, with links as seen from a page. */
export function findingRow(links: Links, { grade, system, grounds }: Finding, reader: Reader): FindingRow {
  const [first, ...rest] = grounds;
  return {
    ...groundRow(links, first),
    grade,
    system: links.system(system),
    also: rest.map((ground) => groundRow(links, ground)),
    fitted: [...new Set(grounds.flatMap((ground) => fittedSentence(ground, reader)))],
  };
}

function fittedSentence({ fittedSince }: Ground, reader: Reader): readonly string[] {
  if (fittedSince === null) return [];
  const fitted = capital(fittedWords(fittedSince, dayWords));
  return [
    reader === 'owner'
      ? `${fitted}, after this: ${askedOf(fittedSince)}.`
      : `${fitted}, after this; ${lackWords(fittedSince)}.`,
  ];
}

function groundRow(links: Links, ground: Ground): GroundRow {
  return {
    why: RULE_WORD[ground.rule],
    what: { text: ground.title, href: aboutLink(links, ground.about).href },
    says: datesInWords(ground.says),
    entry: ground.entry === null ? null : links.entry(ground.entry),
    date: ground.date,
    raisedBy: cautionsFor(ground.raisedBy).map(({ title }) => title.toLowerCase()),
  };
}

function aboutLink(links: Links, { sort, id }: Ground['about']): Link {
  switch (sort) {
    case 'spec':
      return links.spec(id);
    case 'point':
      return links.point(id);
    case 'test':
      return links.test(id);
    case 'upkeep':
      return links.upkeep(id);
    case 'item':
      return links.item(id);
  }
}
