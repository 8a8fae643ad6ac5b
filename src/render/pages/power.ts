import { Power } from '../../../site/templates/power.js';
import type { Hazard } from '../../check/model.js';
import { type Kind, printQuantity } from '../../quantity/index.js';
import type { Standing } from '../../reckon/model.js';
import type {
  LoadCase,
  Moment,
  PowerCase,
  PowerReckoning,
  PowerVerdict,
  SourceCase,
  StoreCase,
} from '../../reckon/power/model.js';
import type { Figure, Rest } from '../../reckon/uncertain.js';
import { type Caution, cautionsFor } from '../cautions.js';
import { type DayChart, dayChart } from '../charts/day.js';
import { type MatrixView, matrixView } from '../charts/matrix.js';
import { clock } from '../clock.js';
import { type Link, paths } from '../links.js';
import { makePage } from '../make-page.js';
import type { Page } from '../page.js';
import type { Site } from '../site-context.js';
import { listed } from '../words.js';

/** A name with how it stands. */
export interface RestView {
  readonly what: Link;
  readonly standing: Standing | null;
}

/** Why a case works or does not. */
export interface ReasonView {
  readonly verdict: PowerVerdict;
  readonly text: string;
  readonly restsOn: readonly RestView[];
}

/** One piece of the day on a source. */
export interface MomentRow {
  readonly when: string;
  readonly verdict: PowerVerdict;
  readonly mayRun: readonly string[];
  /** To be switched off, in this order. */
  readonly shed: readonly string[];
  readonly asked: string;
  readonly start: string | null;
}

/** A source or a store in one case. */
export interface FeederView {
  readonly id: string;
  readonly title: string;
  readonly verdict: PowerVerdict;
  readonly facts: readonly (readonly [string, string])[];
  readonly chart: DayChart | null;
  readonly table: DayTable | null;
  readonly moments: readonly MomentRow[];
  readonly matrix: MatrixView | null;
}

/** The chart of the day as numbers. */
export interface DayTable {
  readonly loads: readonly string[];
  readonly rows: readonly {
    readonly when: string;
    readonly watts: readonly string[];
    readonly sum: string;
  }[];
}

/** One load in one case. */
export interface LoadRow {
  readonly title: string;
  readonly system: Link | null;
  readonly from: string;
  readonly running: string | null;
  readonly starting: string | null;
  readonly apparent: string | null;
  readonly hours: string;
  readonly when: string;
  readonly energy: string | null;
  readonly shed: number | null;
}

/** One case of the plan. */
export interface CaseView {
  readonly id: string;
  readonly title: string;
  readonly about: string | null;
  readonly verdict: PowerVerdict;
  /** What a case that works takes on trust: `if Heat output is as stated (unverified)`; null for nothing. */
  readonly provided: string | null;
  readonly facts: readonly (readonly [string, string])[];
  readonly reasons: readonly ReasonView[];
  readonly feeders: readonly FeederView[];
  readonly absent: readonly string[];
  readonly loads: readonly LoadRow[];
  readonly assumes: readonly string[];
}

/** The power plan. */
export interface PowerView {
  readonly title: string;
  readonly cases: readonly CaseView[];
  readonly cautions: readonly Caution[];
}

/** Makes the page of the power plan, where the book has one. */
export function powerPages(site: Site): Page[] {
  const { power } = site.reckoning;
  if (power === null) return [];
  const view = () => powerView(site, power);
  return [makePage(site, { path: paths.power, title: power.title, section: 'power', template: Power, view })];
}

/** What the page, and the pack, say of the power plan. */
export function powerView(site: Site, power: PowerReckoning): PowerView {
  return {
    title: power.title,
    cases: power.cases.map((one) => caseView(site, one)),
    cautions: cautionsFor(hazardsOf(power)),
  };
}

function hazardsOf({ cases }: PowerReckoning): readonly Hazard[] {
  const sources = cases.flatMap((one) => one.sources);
  const has = (hazard: Hazard, there: boolean) => (there ? [hazard] : []);
  return [
    ...has('mains-ac', sources.length > 0),
    ...has(
      'dc-battery',
      cases.some((one) => one.stores.length > 0),
    ),
    ...has(
      'exhaust',
      sources.some(({ fuel }) => fuel !== null),
    ),
  ];
}

const WORST: readonly PowerVerdict[] = ['fails', 'cannot-say', 'undecided', 'works'];

/** Prints a figure, or says that it is not known. */
type Show = (figure: Figure<Kind> | null) => string;

function caseView(site: Site, one: PowerCase): CaseView {
  const show: Show = (figure) =>
    figure === null ? 'cannot say' : printQuantity(figure.quantity, site.display);
  const titles = new Map(one.loads.map(({ id, title }) => [id, title]));
  const titleOf = (id: string) => titles.get(id) ?? id;
  const feeders = new Map([...one.sources, ...one.stores].map(({ id, title }) => [id, title]));
  const facts: [string, string][] = [['Energy a day', show(one.energy)]];
  if (one.fuel !== null) facts.push(['Fuel a day, at most', show(one.fuel)]);
  if (one.days !== null) facts.unshift(['Has to last', show(one.days)]);
  return {
    id: one.id,
    title: one.title,
    about: one.about,
    verdict: one.verdict,
    provided: one.verdict === 'works' ? providedWords(site, one.reasons) : null,
    facts,
    reasons: one.reasons.map(({ verdict, text, restsOn }) => ({
      verdict,
      text,
      restsOn: restViews(site, restsOn),
    })),
    feeders: [
      ...one.stores.map((store) => storeView(site, one, store, show)),
      ...one.sources
        .filter(({ absent }) => !absent)
        .map((source) => sourceView(site, one, source, { show, titleOf })),
    ].sort((a, b) => WORST.indexOf(a.verdict) - WORST.indexOf(b.verdict)),
    absent: one.sources.filter(({ absent }) => absent).map(({ title }) => title),
    loads: one.loads.map((load) => loadRow(site, load, feeders.get(load.from) ?? load.from, show)),
    assumes: one.assumes,
  };
}

/** Specs whose stated value is counted on and not verified; of one that is contradicted the evidence is counted. */
function providedWords({ top: links }: Site, reasons: PowerCase['reasons']): string | null {
  const trusted = new Map(
    reasons
      .flatMap(({ restsOn }) => restsOn)
      .flatMap(({ ref, standing }) =>
        standing === null || standing === 'verified' || standing === 'contradicted'
          ? []
          : [[ref, `${links.anything(ref).text} (${standing})`] as const],
      ),
  );
  if (trusted.size === 0) return null;
  return `if ${listed([...trusted.values()])} ${trusted.size === 1 ? 'is' : 'are'} as stated`;
}

function restViews(site: Site, restsOn: readonly Rest[]): readonly RestView[] {
  return restsOn.map(({ ref, standing }) => ({ what: site.top.anything(ref), standing }));
}

function sourceView(
  site: Site,
  one: PowerCase,
  source: SourceCase,
  { show, titleOf }: { readonly show: Show; readonly titleOf: (id: string) => string },
): FeederView {
  const id = `${one.id}-${source.id}`;
  const facts: [string, string][] = [['Gives for hours', `${show(source.rating)}${derated(source, show)}`]];
  if (source.apparentRating !== null) facts.push(['Apparent, for hours', show(source.apparentRating)]);
  facts.push(['For a start', show(source.shortTime)]);
  if (source.energy.quantity.si > 0) facts.push(['Its loads a day', show(source.energy)]);
  if (source.hours !== null) facts.push(runsADay(source.hours, show));
  if (source.fuel !== null) facts.push(['Fuel a day, at most', show(source.fuel)]);
  return {
    id,
    title: source.title,
    verdict: source.verdict,
    facts,
    chart: dayChart({ id, title: source.title, profile: source.profile, limit: source.rating }, site.display),
    table: dayTable(source, show),
    moments: joinedMoments(source.moments).map((moment) => momentRow(moment, show, titleOf)),
    matrix: matrixView(source.together, titleOf, site.display),
  };
}

/** `, 90 % of 2580 W`, where what is counted on is not the whole rating. */
function derated({ rating, fullRating }: SourceCase, show: Show): string {
  if (rating === null || fullRating === null || rating.quantity.si === fullRating.quantity.si) return '';
  const share = Math.round((100 * rating.quantity.si) / fullRating.quantity.si);
  return `: the plan counts on ${share} % of ${show(fullRating)}`;
}

/** A source that is never asked for anything still gives it: what is told is that it has nothing to do. */
function runsADay(hours: Figure<'time'>, show: Show): [string, string] {
  return hours.quantity.si === 0
    ? ['Asked for', 'no hours of its own in this case: what it gives is only held against what is drawn']
    : ['Runs a day', show(hours)];
}

/** Pieces of the day in which something may run, those that follow each other and are alike made one. */
function joinedMoments(moments: readonly Moment[]): readonly Moment[] {
  const alike = ({ from: _from, to: _to, ...rest }: Moment) => JSON.stringify(rest);
  return moments
    .filter(({ mayRun }) => mayRun.length > 0)
    .reduce<Moment[]>((joined, moment) => {
      const last = joined.at(-1);
      if (last !== undefined && last.to === moment.from && alike(last) === alike(moment))
        joined[joined.length - 1] = { ...last, to: moment.to };
      else joined.push(moment);
      return joined;
    }, []);
}

function momentRow(moment: Moment, show: Show, titleOf: (id: string) => string): MomentRow {
  const { start } = moment;
  return {
    when: spanWords(moment),
    verdict: moment.verdict,
    mayRun: moment.mayRun.map(titleOf),
    shed: moment.shed.map(titleOf),
    asked: `${show(moment.active)}, ${show(moment.apparent)}`,
    start: start === null ? null : `${titleOf(start.load)}: ${show(start.active)}`,
  };
}

function storeView(site: Site, one: PowerCase, store: StoreCase, show: Show): FeederView {
  const id = `${one.id}-${store.id}`;
  const titles = new Map(one.sources.map(({ id: source, title }) => [source, title]));
  const facts: [string, string][] = [
    ['Capacity', show(store.capacity)],
    ['Of that usable', show(store.usable)],
    ['Taken out a day', show(store.used)],
  ];
  if (store.alone !== null) facts.push(['Lasts by itself', show(store.alone)]);
  for (const { source, hours, puts } of store.fillers)
    facts.push([`${titles.get(source) ?? source} puts back`, `${show(puts)} in ${show(hours)}`]);
  if (store.short !== null) facts.push(['Left to put back', show(store.short)]);
  if (store.lasts !== null) facts.push(['Lasts with its sources', show(store.lasts)]);
  if (store.carried) facts.push(['Drawn on', 'never: a source gives all that is asked']);
  return {
    id,
    title: store.title,
    verdict: store.verdict,
    facts,
    chart: dayChart({ id, title: store.title, profile: store.profile, limit: null }, site.display),
    table: dayTable(store, show),
    moments: [],
    matrix: null,
  };
}

function dayTable({ profile }: SourceCase | StoreCase, show: Show): DayTable | null {
  const bands = profile.bands.filter(({ watts }) => watts.some((value) => value > 0));
  if (bands.length === 0) return null;
  return {
    loads: bands.map(({ title }) => title),
    rows: profile.spans.map((span, at) => ({
      when: spanWords(span),
      watts: bands.map(({ watts }) => wattWords(watts[at] ?? 0)),
      sum: show(profile.active[at] ?? null),
    })),
  };
}

/** Mean watts for a table: to the watt, and to a tenth below ten. */
function wattWords(watts: number): string {
  if (watts === 0) return '';
  return watts < 10 ? watts.toFixed(1) : String(Math.round(watts));
}

function spanWords({ from, to }: { readonly from: number; readonly to: number }): string {
  return `${clock(from)}–${clock(to)}`;
}

function loadRow(site: Site, load: LoadCase, from: string, show: Show): LoadRow {
  const shown = (figure: Figure<Kind> | null) => (figure === null ? null : show(figure));
  const starts = load.starting?.quantity.si !== load.running?.quantity.si;
  return {
    title: load.title,
    system: load.system === null ? null : site.top.system(load.system),
    from,
    running: shown(load.running),
    starting: starts ? shown(load.starting) : null,
    apparent: shown(load.apparent),
    hours: show(load.hours),
    when: load.declared ? load.spans.map(spanWords).join(', ') : 'any time',
    energy: shown(load.energy),
    shed: load.shed,
  };
}
