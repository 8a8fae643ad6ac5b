import { SpecPage, Specs } from '../../../site/templates/specs.js';
import type { Basis } from '../../check/model.js';
import { printInterval } from '../../quantity/index.js';
import type { Agreement, SpecState, Standing } from '../../reckon/model.js';
import { type IntervalChart, intervalChart } from '../charts/intervals.js';
import { type Link, type Links, paths } from '../links.js';
import { makePage } from '../make-page.js';
import type { Page } from '../page.js';
import { shownPhoto } from '../photo-index.js';
import type { ShownPhoto } from '../prose-tree.js';
import type { Reliance } from '../reliance.js';
import { instrumentName, personName, type Site } from '../site-context.js';
import { type SpecRow, specRow } from '../spec-row.js';
import { type ShownValue, showClaim, showMeasured } from '../values.js';
import { STANDING_MEANS, STANDING_ORDER } from '../words.js';
import { checkFirst } from './now.js';

/** All specs by how they stand. */
export interface SpecsView {
  readonly groups: readonly {
    readonly standing: Standing;
    readonly means: string;
    readonly specs: readonly (SpecRow & { readonly reliance: Reliance | null })[];
  }[];
  readonly total: number;
}

/** One piece of evidence. */
export interface EvidenceRow {
  readonly date: string;
  readonly entry: Link;
  readonly basis: Basis;
  readonly value: ShownValue;
  readonly agreement: Agreement;
  readonly by: string | null;
  readonly with: string | null;
  readonly note: string | null;
  readonly from: 'reading' | 'statement';
  readonly decides: boolean;
  readonly see: { readonly photo: ShownPhoto; readonly alt: string } | null;
}

/** One spec with its evidence and what rests on it. */
export interface SpecView extends SpecRow {
  readonly ref: string;
  readonly title: string;
  readonly means: string;
  readonly since: string | null;
  readonly point: Link | null;
  readonly againEvery: string | null;
  readonly checkBy: string | null;
  /** What is to be believed from now on, where that is not what is stated. */
  readonly holds: string | null;
  readonly evidence: readonly EvidenceRow[];
  readonly chart: IntervalChart | null;
  readonly dependents: Dependents;
}

/** What rests on a spec directly. */
export interface Dependents {
  readonly decisions: readonly Link[];
  readonly parts: readonly Link[];
  readonly items: readonly Link[];
  readonly derived: readonly Link[];
}

/** Makes the list of specs and a page for each. */
export function specPages(site: Site): Page[] {
  const states = [...site.reckoning.specs.values()];
  const dependents = dependentsByRef(site, site.nested);
  return [specsPage(site, states), ...states.map((state) => specPage(site, state, dependents))];
}

function specsPage(site: Site, states: readonly SpecState[]): Page {
  const sorted = [...checkFirst(states, site), ...states.filter(({ standing }) => standing === 'verified')];
  const view: SpecsView = {
    total: states.length,
    groups: STANDING_ORDER.map((standing) => ({
      standing,
      means: STANDING_MEANS[standing],
      specs: sorted
        .filter((state) => state.standing === standing)
        .map((state) => ({
          ...specRow(site, site.nested, state),
          reliance: site.reliance.get(state.spec.ref) ?? null,
        })),
    })),
  };
  return makePage(site, { path: paths.specs, title: 'Specs', section: 'specs', template: Specs, view });
}

function specPage(site: Site, state: SpecState, dependents: ReadonlyMap<string, Dependents>): Page {
  const { spec } = state;
  const links = site.nested;
  const contradicted = state.standing === 'contradicted';
  const view: SpecView = {
    ...specRow(site, links, state),
    ref: spec.ref,
    title: spec.title,
    means: STANDING_MEANS[state.standing],
    since: spec.since,
    point: spec.point === null ? null : links.point(spec.point),
    againEvery: spec.againEvery === null ? null : printInterval(spec.againEvery),
    checkBy: spec.checkBy,
    holds: contradicted ? showClaim(state.holds, site.display) : null,
    evidence: evidenceRows(site, links, state),
    chart: intervalChart(site, state),
    dependents: dependents.get(spec.ref) ?? { decisions: [], parts: [], items: [], derived: [] },
  };
  const parts = {
    path: paths.spec(spec.ref),
    title: spec.title,
    section: 'specs',
    template: SpecPage,
    view,
  } as const;
  return makePage(site, parts);
}

function evidenceRows(site: Site, links: Links, { evidence, deciding }: SpecState): EvidenceRow[] {
  return evidence.map((piece) => ({
    date: piece.date,
    entry: links.entry(piece.entry),
    basis: piece.basis,
    value: showMeasured(piece.value, piece.uncertainty, site.display),
    agreement: piece.agreement,
    by: personName(site, piece.by),
    with: instrumentName(site, piece.with),
    note: piece.note,
    from: piece.from,
    decides: piece === deciding,
    see: seenPhoto(site, links, piece.see, piece.entry),
  }));
}

function seenPhoto(site: Site, links: Links, see: string | null, entryId: string): EvidenceRow['see'] {
  const photo = see === null ? null : shownPhoto(site.photos, see, links.root);
  if (photo === null) return null;
  const alt = site.reckoning.entries.get(entryId)?.photos.find(({ file }) => file === see)?.alt;
  return { photo, alt: alt ?? 'The photo that shows it' };
}

/** For each ref, what names it directly; in one pass over the book. */
function dependentsByRef({ reckoning }: Site, links: Links): Map<string, Dependents> {
  const found = new Map<string, { [Key in keyof Dependents]: Link[] }>();
  const add = (refs: readonly string[], what: keyof Dependents, link: Link) => {
    for (const ref of new Set(refs)) {
      const row = found.get(ref) ?? { decisions: [], parts: [], items: [], derived: [] };
      row[what].push(link);
      found.set(ref, row);
    }
  };
  for (const { decision } of reckoning.decisions.values()) {
    add(decision.restsOn, 'decisions', links.decision(decision.id));
  }
  for (const part of reckoning.parts.values()) add(part.restsOn, 'parts', links.part(part.id));
  for (const { opened } of reckoning.items.values()) add(opened.restsOn, 'items', links.item(opened.id));
  for (const system of reckoning.book.systems.values()) {
    for (const derived of system.derived.values()) add(derived.uses, 'derived', links.anything(derived.ref));
  }
  return found;
}
