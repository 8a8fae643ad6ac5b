import { Systems } from '../../../site/templates/systems.js';
import type { System } from '../../check/model.js';
import type { Standing } from '../../reckon/model.js';
import { type Link, paths } from '../links.js';
import { makePage } from '../make-page.js';
import type { Page } from '../page.js';
import type { Site } from '../site-context.js';
import { count, STANDING_ORDER } from '../words.js';
import { groupBy } from './log.js';

/** A system as a row. */
export interface SystemRow {
  readonly system: Link;
  readonly id: string;
  /** How its specs stand, worst first, those that occur. */
  readonly standings: readonly (readonly [Standing, number])[];
  readonly openItems: number;
  /** What is wrong, in words: `1 failed test`, `2 upkeep overdue`; empty where nothing is. */
  readonly wrong: readonly string[];
  readonly points: number;
  readonly readings: number;
  readonly lastEntry: { readonly date: string; readonly entry: Link } | null;
}

/** All systems in their groups. */
export interface SystemsView {
  readonly groups: readonly { readonly title: string; readonly systems: readonly SystemRow[] }[];
  readonly total: number;
}

/** Makes the list of systems. */
export function systemsPage(site: Site): Page {
  const systems = [...site.reckoning.book.systems.values()];
  const view = (): SystemsView => {
    const tallies = tally(site);
    const groups = groupBy(systems, (system) => system.group ?? 'Other');
    return {
      total: systems.length,
      groups: [...groups].map(([title, found]) => ({
        title,
        systems: found.map((system) => systemRow(site, system, tallies.get(system.id))),
      })),
    };
  };
  const parts = {
    path: paths.systems,
    title: 'Systems',
    section: 'systems',
    template: Systems,
    view,
  } as const;
  return makePage(site, parts);
}

interface Tally {
  openItems: number;
  defects: number;
  failedTests: number;
  overdue: number;
  outside: number;
  readings: number;
  lastEntry: string | null;
}

/** Counts for each system, in one pass over the book. */
function tally({ reckoning }: Site): Map<string, Tally> {
  const tallies = new Map<string, Tally>();
  const of = (system: string): Tally => {
    const found = tallies.get(system) ?? {
      openItems: 0,
      defects: 0,
      failedTests: 0,
      overdue: 0,
      outside: 0,
      readings: 0,
      lastEntry: null,
    };
    tallies.set(system, found);
    return found;
  };
  for (const reading of reckoning.readings) of(reading.system).readings += 1;
  for (const { status, opened } of reckoning.items.values()) {
    if (status === 'done') continue;
    of(opened.system).openItems += 1;
    if (opened.defect) of(opened.system).defects += 1;
  }
  for (const { test, last } of reckoning.tests.values())
    if (last?.outcome === 'fail') of(test.system).failedTests += 1;
  for (const state of reckoning.upkeep.values())
    if (state.overdueByDate || state.overdueByHours) of(state.upkeep.system).overdue += 1;
  for (const { point, last } of reckoning.timelines.values())
    if (last?.limit === 'outside') of(point.system).outside += 1;
  for (const entry of reckoning.book.entries)
    for (const system of entry.systems) of(system).lastEntry = entry.id;
  return tallies;
}

function systemRow(site: Site, system: System, tallied: Tally | undefined): SystemRow {
  const links = site.nested;
  const standings = [...system.specs.values()].map((spec) => site.reckoning.specs.get(spec.ref)?.standing);
  const last = site.reckoning.entries.get(tallied?.lastEntry ?? '');
  return {
    system: links.system(system.id),
    id: system.id,
    standings: STANDING_ORDER.map(
      (standing) => [standing, standings.filter((found) => found === standing).length] as const,
    ).filter(([, number]) => number > 0),
    openItems: tallied?.openItems ?? 0,
    wrong: tallied === undefined ? [] : wrongWords(tallied),
    points: system.points.size,
    readings: tallied?.readings ?? 0,
    lastEntry: last === undefined ? null : { date: last.date, entry: links.entry(last.id) },
  };
}

/** What is wrong with a system, in words: each count that is not nought. */
function wrongWords({ failedTests, outside, overdue, defects }: Tally): string[] {
  const counts: [number, string][] = [
    [failedTests, count(failedTests, 'failed test')],
    [outside, `${count(outside, 'point')} out of limits`],
    [overdue, `${overdue} upkeep overdue`],
    [defects, count(defects, 'open defect')],
  ];
  return counts.filter(([number]) => number > 0).map(([, words]) => words);
}
