import type { Reckoning, SpecState } from '../../reckon/model.js';
import type { Link } from '../links.js';
import { limitWords } from '../pages/system.js';
import type { Site } from '../site-context.js';
import { type SpecRow, specRow } from '../spec-row.js';
import { showReading } from '../values.js';

/** What nobody has looked at, or looked at well enough. */
export interface UnknownView {
  /** Points at which nothing was read of what is there now, by system. */
  readonly unread: readonly BySystem[];
  /** Specs that no entry has ever spoken of, by system. */
  readonly unspoken: readonly BySystem[];
  /** Tests that were never done, by system. */
  readonly untested: readonly BySystem[];
  /** Upkeep that was never done, by system. */
  readonly neverDone: readonly BySystem[];
  /** Evidence that straddles its limit. */
  readonly undecided: readonly SpecRow[];
  readonly undecidedTests: readonly { readonly test: Link; readonly date: string; readonly entry: Link }[];
  /** Points whose last reading straddles a limit. */
  readonly undecidedPoints: readonly {
    readonly point: Link;
    readonly system: Link;
    readonly value: string;
    readonly limits: string;
    readonly date: string;
  }[];
  /** Readings in all, and those of which no uncertainty is known. */
  readonly readings: number;
  readonly unsure: number;
}

/** Things of one system. */
export interface BySystem {
  readonly system: Link;
  readonly what: readonly Link[];
}

/** Gathers what is not known. */
export function unknownView(site: Site): UnknownView {
  const { reckoning, top: links } = site;
  const { specs, tests, timelines, upkeep, readings } = reckoning;
  const group = (refs: readonly { readonly system: string; readonly link: Link }[]) =>
    bySystem(site, reckoning, refs);
  return {
    unread: group(
      [...timelines.values()]
        .filter(({ last, gone, point }) => last === null && !gone && !reckoning.series.has(point.ref))
        .map(({ point }) => ({ system: point.system, link: links.point(point.ref) })),
    ),
    unspoken: group(
      [...specs.values()]
        .filter(({ evidence }) => evidence.length === 0)
        .map(({ spec }) => ({ system: spec.system, link: links.spec(spec.ref) })),
    ),
    untested: group(
      [...tests.values()]
        .filter(({ last }) => last === null)
        .map(({ test }) => ({ system: test.system, link: links.test(test.ref) })),
    ),
    neverDone: group(
      [...upkeep.values()]
        .filter(({ done }) => done.length === 0)
        .map((state) => ({ system: state.upkeep.system, link: links.upkeep(state.upkeep.ref) })),
    ),
    undecided: standing(site, 'undecided').map((state) => specRow(site, links, state)),
    undecidedTests: [...tests.values()].flatMap(({ test, last }) =>
      last?.outcome !== 'undecided'
        ? []
        : [{ test: links.test(test.ref), date: last.run.date, entry: links.entry(last.run.entry) }],
    ),
    undecidedPoints: [...timelines.values()].flatMap(({ point, last }) =>
      last?.limit !== 'undecided'
        ? []
        : [
            {
              point: links.point(point.ref),
              system: links.system(point.system),
              value: showReading(last.reading.quantity, last.reading.uncertainty, site.display).text,
              limits: limitWords(point, site.display),
              date: last.reading.date,
            },
          ],
    ),
    readings: readings.length,
    unsure: readings.filter(({ uncertainty }) => uncertainty.si === null).length,
  };
}

/** Specs that stand so, in the order of the book. */
export function standing({ reckoning }: Site, wanted: SpecState['standing']): readonly SpecState[] {
  return [...reckoning.specs.values()].filter((state) => state.standing === wanted);
}

function bySystem(
  site: Site,
  { book }: Reckoning,
  found: readonly { readonly system: string; readonly link: Link }[],
): BySystem[] {
  return [...book.systems.keys()].flatMap((id) => {
    const what = found.filter(({ system }) => system === id).map(({ link }) => link);
    return what.length === 0 ? [] : [{ system: site.top.system(id), what }];
  });
}

/** How many things there are in all. */
export function countAll(groups: readonly BySystem[]): number {
  return groups.reduce((sum, { what }) => sum + what.length, 0);
}
