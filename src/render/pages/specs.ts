import { SpecPage, Specs } from '../../../site/templates/specs.js';
import type { Basis } from '../../check/model.js';
import { printInterval } from '../../quantity/index.js';
import type { Agreement, Evidence, SpecState, Standing } from '../../reckon/model.js';
import { type IntervalChart, intervalChart } from '../charts/intervals.js';
import { type Link, type Links, paths } from '../links.js';
import { makeLatePage, makePage } from '../make-page.js';
import type { Page } from '../page.js';
import { shownPhoto } from '../photo-index.js';
import type { ShownPhoto } from '../prose-tree.js';
import { instrumentName, personName, type Site } from '../site-context.js';
import { type SpecRow, specRow } from '../spec-row.js';
import { type Branch, dependentTree, type Stake } from '../stakes.js';
import { type ShownValue, showClaim, showMeasured } from '../values.js';
import { datesInWords, STANDING_MEANS, STANDING_ORDER } from '../words.js';

/** All specs by how they stand. */
export interface SpecsView {
  readonly groups: readonly {
    readonly standing: Standing;
    readonly means: string;
    readonly specs: readonly (SpecRow & { readonly stake: Stake | null })[];
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
  /** Readings that are evidence too and not in the list, and where they can be read; null where there are none. */
  readonly further: { readonly count: number; readonly all: Link } | null;
  readonly chart: IntervalChart | null;
  /** Bases that would settle it, and what to do; null where it is verified. */
  readonly next: string | null;
  readonly stake: Stake | null;
  /** What rests on it, each at the end of the shortest way to it. */
  readonly dependents: readonly Branch[];
}

/** Readings that a spec's page lists as its evidence. A point read every week for years has hundreds. */
const MOST_READINGS = 60;

/** Makes the list of specs and a page for each. */
export function specPages(site: Site): Page[] {
  const states = [...site.reckoning.specs.values()];
  const next = new Map(site.reckoning.exposures.map((exposure) => [exposure.spec, exposure.next]));
  return [specsPage(site), ...states.map((state) => specPage(site, state, next.get(state.spec.ref) ?? null))];
}

function specsPage(site: Site): Page {
  const { specs, exposures } = site.reckoning;
  // Those not verified by what is at stake, the others in the order of the files.
  const verified = [...specs.values()].filter(({ standing }) => standing === 'verified');
  const sorted = [...exposures.flatMap(({ spec }) => specs.get(spec) ?? []), ...verified];
  const view = (): SpecsView => ({
    total: specs.size,
    groups: STANDING_ORDER.map((standing) => ({
      standing,
      means: STANDING_MEANS[standing],
      specs: sorted
        .filter((state) => state.standing === standing)
        .map((state) => ({
          ...specRow(site, site.nested, state),
          stake: site.stakes.get(state.spec.ref)?.stake ?? null,
        })),
    })),
  });
  return makePage(site, { path: paths.specs, title: 'Specs', section: 'specs', template: Specs, view });
}

function specPage(site: Site, state: SpecState, next: string | null): Page {
  const { spec } = state;
  const links = site.nested;
  const contradicted = state.standing === 'contradicted';
  const atStake = site.stakes.get(spec.ref);
  const { shown, left } = listed(state);
  const gather = (): SpecView => ({
    ...specRow(site, links, state),
    ref: spec.ref,
    title: spec.title,
    means: STANDING_MEANS[state.standing],
    since: spec.since,
    point: spec.point === null ? null : links.point(spec.point),
    againEvery: spec.againEvery === null ? null : printInterval(spec.againEvery),
    checkBy: spec.checkBy,
    holds: contradicted ? showClaim(state.holds, site.display) : null,
    evidence: evidenceRows(site, links, shown, state.deciding),
    further: left === 0 ? null : { count: left, all: allReadings(links, spec.system) },
    chart: intervalChart(site, state),
    next: next === null ? null : datesInWords(next),
    stake: atStake?.stake ?? null,
    dependents: dependentTree(site, links, atStake?.dependents ?? []),
  });
  return makeLatePage(site, {
    path: paths.spec(spec.ref),
    title: spec.title,
    section: 'specs',
    template: SpecPage,
    standsFor: () => [gather()],
    gather,
  });
}

/** The evidence that is listed: every statement, the newest readings of each basis, and whatever decides. */
function listed({ evidence, deciding }: SpecState): {
  readonly shown: readonly Evidence[];
  readonly left: number;
} {
  let readings = 0;
  const shown = evidence.filter((piece) => {
    if (piece.from === 'statement' || piece === deciding) return true;
    readings += 1;
    return readings <= MOST_READINGS;
  });
  return { shown, left: evidence.length - shown.length };
}

function allReadings(links: Links, system: string): Link {
  return { text: links.system(system).text, href: links.to(paths.systemReadings(system, 1)) };
}

function evidenceRows(
  site: Site,
  links: Links,
  evidence: readonly Evidence[],
  deciding: Evidence | null,
): EvidenceRow[] {
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
