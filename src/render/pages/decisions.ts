import { Decisions } from '../../../site/templates/decisions.js';
import type { Verdict } from '../../quantity/index.js';
import type { Holding } from '../../reckon/holds.js';
import type { DecisionState, Standing } from '../../reckon/model.js';
import { type Link, type Links, paths } from '../links.js';
import { makePage } from '../make-page.js';
import type { Page } from '../page.js';
import type { Site } from '../site-context.js';
import { showClaim } from '../values.js';
import { comparison } from '../words.js';
import { plain } from './tests.js';

/** A decision in full. */
export interface DecisionView {
  readonly id: string;
  readonly date: string;
  readonly question: string;
  readonly system: Link;
  readonly chose: string;
  readonly because: string;
  /** Names of the figures, in order; each option has one cell for each of them. */
  readonly figures: readonly string[];
  readonly options: readonly {
    readonly option: string;
    readonly chosen: boolean;
    readonly cells: readonly (string | null)[];
    readonly note: string | null;
  }[];
  readonly restsOn: readonly { readonly what: Link; readonly standing: Standing | null }[];
  readonly holdsWhile: string | null;
  /** Whether it still holds; null where nothing is said of it. */
  readonly holding: HoldingView | null;
  readonly undoes: Link | null;
  readonly undoneBy: Link | null;
  readonly entry: Link;
}

/** Whether a decision still holds, and what turned it. */
export interface HoldingView {
  readonly verdict: Verdict;
  /** The reading or statement with which it turned. */
  readonly turned: { readonly date: string; readonly what: Link; readonly entry: Link } | null;
  /** Names of which no value is known. */
  readonly missing: readonly Link[];
}

/** All decisions: those that no longer hold, and those taken back. */
export interface DecisionsView {
  /** Not taken back, but what they hang on is not so any more. */
  readonly fallen: readonly DecisionView[];
  readonly standing: readonly DecisionView[];
  readonly undone: readonly DecisionView[];
}

/** A decision in short: the question, the answer, what it hangs on and whether that is still so. */
export interface DecisionRow
  extends Pick<DecisionView, 'date' | 'chose' | 'restsOn' | 'holdsWhile' | 'holding' | 'undoneBy' | 'entry'> {
  /** The question; leads to the decision in full. */
  readonly question: Link;
}

/** The decisions of a system: those that do not hold first, those taken back last, each the newest first. */
export function decisionRows(site: Site, links: Links, system: string): readonly DecisionRow[] {
  const rank = (state: DecisionState) => (fallen(state) ? 0 : state.undoneBy === null ? 1 : 2);
  return newestFirst(site)
    .filter(({ decision }) => decision.system === system)
    .sort((a, b) => rank(a) - rank(b))
    .map((state) => {
      const view = decisionView(site, links, state);
      const { date, chose, restsOn, holdsWhile, holding, undoneBy, entry } = view;
      const question = links.decision(view.id);
      return { question, date, chose, restsOn, holdsWhile, holding, undoneBy, entry };
    });
}

function newestFirst({ reckoning }: Site): DecisionState[] {
  return [...reckoning.decisions.values()].sort((a, b) =>
    a.decision.date < b.decision.date ? 1 : a.decision.date > b.decision.date ? -1 : 0,
  );
}

function fallen({ undoneBy, holding }: DecisionState): boolean {
  return undoneBy === null && holding?.verdict === 'fails';
}

/** Makes the page of decisions. */
export function decisionsPage(site: Site): Page {
  const states = newestFirst(site);
  const show = (state: DecisionState) => decisionView(site, site.top, state);
  const view = (): DecisionsView => ({
    fallen: states.filter(fallen).map(show),
    standing: states.filter((state) => state.undoneBy === null && !fallen(state)).map(show),
    undone: states.filter((state) => state.undoneBy !== null).map(show),
  });
  const parts = {
    path: paths.decisions,
    title: 'Decisions',
    section: 'decisions',
    template: Decisions,
    view,
  } as const;
  return makePage(site, parts);
}

/** One decision, with links as seen from a page. */
export function decisionView(
  site: Site,
  links: Links,
  { decision, holding, undoneBy, restsOn }: DecisionState,
): DecisionView {
  const figures = [...new Set(decision.options.flatMap((option) => option.figures.map(({ name }) => name)))];
  return {
    id: decision.id,
    date: decision.date,
    question: decision.question,
    system: links.system(decision.system),
    chose: decision.chose,
    because: decision.because,
    figures: figures.map(plain),
    options: decision.options.map((option) => ({
      option: option.option,
      chosen: option.option === decision.chose,
      cells: figures.map((name) => {
        const figure = option.figures.find((found) => found.name === name);
        return figure === undefined ? null : showClaim(figure.value, site.display);
      }),
      note: option.note,
    })),
    restsOn: restsOn.map(({ ref, standing }) => ({ what: links.anything(ref), standing })),
    holdsWhile: decision.holdsWhile === null ? null : comparison(decision.holdsWhile),
    holding: holding === null ? null : holdingView(links, holding),
    undoes: decision.undoes === null ? null : links.decision(decision.undoes),
    undoneBy: undoneBy === null ? null : links.decision(undoneBy),
    entry: links.entry(decision.entry),
  };
}

function holdingView(links: Links, { verdict, turned, missing }: Holding): HoldingView {
  return {
    verdict,
    turned:
      turned === null
        ? null
        : { date: turned.date, what: links.anything(turned.ref), entry: links.entry(turned.entry) },
    missing: missing.map(links.anything),
  };
}
