import { Findings } from '../../../site/templates/findings.js';
import type { Finding, Ground } from '../../reckon/findings.js';
import { FINDING_RULES, GRADES, type Grade, RULE_INFO } from '../../reckon/grading.js';
import { cautionsFor } from '../cautions.js';
import { type Link, type Links, paths } from '../links.js';
import { makePage } from '../make-page.js';
import type { Page } from '../page.js';
import type { Site } from '../site-context.js';
import { datesInWords, GRADE_WORD, RULE_WORD } from '../words.js';

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
  const view = () => findingsView(site, site.top);
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
export function findingsView(site: Site, links: Links): FindingsView {
  const { findings } = site.reckoning;
  return {
    total: findings.length,
    groups: GRADES.map((grade) => ({
      grade,
      word: GRADE_WORD[grade],
      rows: findings
        .filter((finding) => finding.grade === grade)
        .map((finding) => findingRow(links, finding)),
    })),
    rules: FINDING_RULES.map((rule) => {
      const { lists, grade, raisedTo } = RULE_INFO[rule];
      const raised = grade === raisedTo ? '' : `; ${GRADE_WORD[raisedTo]} where a danger in use raises it`;
      return { lists, grade: `${GRADE_WORD[grade]}${raised}` };
    }),
  };
}

/** One finding, with links as seen from a page. */
export function findingRow(links: Links, { grade, system, grounds }: Finding): FindingRow {
  const [first, ...rest] = grounds;
  return {
    ...groundRow(links, first),
    grade,
    system: links.system(system),
    also: rest.map((ground) => groundRow(links, ground)),
  };
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
