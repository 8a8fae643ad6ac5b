import { Tests } from '../../../site/templates/tests.js';
import { printInterval } from '../../quantity/index.js';
import type { Outcome, TestResult, TestState } from '../../reckon/model.js';
import { type Link, type Links, paths } from '../links.js';
import { makePage } from '../make-page.js';
import type { Page } from '../page.js';
import { takenWords } from '../rows.js';
import type { Site } from '../site-context.js';
import { type ShownValue, showMeasured } from '../values.js';
import { comparison } from '../words.js';

/** The outcome of one run of a test, as a row. */
export interface ResultRow {
  readonly date: string;
  readonly test: Link;
  readonly system: Link;
  readonly outcome: Outcome;
  readonly entry: Link;
  readonly requirements: readonly {
    readonly name: string;
    readonly required: string;
    readonly value: ShownValue | null;
    readonly outcome: Outcome;
  }[];
  readonly taken: string | null;
  readonly note: string | null;
}

/** A test with what it asks for and how it went. */
export interface TestDetail {
  readonly ref: string;
  readonly title: string;
  readonly system: Link;
  readonly requires: readonly (readonly [string, string])[];
  readonly steps: readonly string[];
  readonly againEvery: string | null;
  /** Newest first. */
  readonly results: readonly ResultRow[];
}

/** All tests. */
export interface TestsView {
  readonly latest: readonly { readonly test: Link; readonly system: Link; readonly last: ResultRow | null }[];
  readonly tests: readonly TestDetail[];
}

/** Makes the page of tests. */
export function testsPage(site: Site): Page {
  const links = site.top;
  const states = [...site.reckoning.tests.values()];
  const worstFirst = [...states].sort((a, b) => outcomeRank(a) - outcomeRank(b));
  const view = (): TestsView => ({
    latest: worstFirst.map((state) => ({
      test: links.test(state.test.ref),
      system: links.system(state.test.system),
      last: state.last === null ? null : resultRow(site, links, state.last),
    })),
    tests: states.map((state) => testDetail(site, links, state)),
  });
  return makePage(site, { path: paths.tests, title: 'Tests', section: 'tests', template: Tests, view });
}

/** Failed tests first, then the undecided, then those never done. */
function outcomeRank({ last }: TestState): number {
  return last === null ? 2 : { fail: 0, undecided: 1, pass: 3 }[last.outcome];
}

/** One test, with links as seen from a page. */
export function testDetail(site: Site, links: Links, { test, results }: TestState): TestDetail {
  return {
    ref: test.ref,
    title: test.title,
    system: links.system(test.system),
    requires: test.requires.map(({ name, written }) => [plain(name), comparison(written)]),
    steps: test.steps,
    againEvery: test.againEvery === null ? null : printInterval(test.againEvery),
    results: results.map((result) => resultRow(site, links, result)),
  };
}

/** One run of a test, with links as seen from a page. */
export function resultRow(site: Site, links: Links, { run, outcome, results }: TestResult): ResultRow {
  return {
    date: run.date,
    test: links.test(run.test),
    system: links.system(run.test.slice(0, run.test.indexOf('.'))),
    outcome,
    entry: links.entry(run.entry),
    requirements: results.map((result) => ({
      name: plain(result.name),
      required: comparison(result.required),
      value: result.value === null ? null : showMeasured(result.value, result.uncertainty, site.display),
      outcome: result.outcome,
    })),
    taken: takenWords(site, run),
    note: run.note,
  };
}

/** What of the tests the first page shows. */
export interface LatestResults {
  readonly rows: readonly ResultRow[];
  /** Tests that failed, and that were undecided, when they were done last. */
  readonly failed: number;
  readonly undecided: number;
}

/**
 * The last outcome of every test that did not pass when it was done last, the failed first, however long ago
 * that was: a failed test stays failed until it is done again. After them the latest of the others.
 *
 * @param passed how many of those that passed.
 */
export function latestResults(site: Site, links: Links, passed: number): LatestResults {
  const last = [...site.reckoning.tests.values()]
    .flatMap((state) => state.last ?? [])
    .sort((a, b) => (a.run.date < b.run.date ? 1 : a.run.date > b.run.date ? -1 : 0));
  const of = (outcome: Outcome) => last.filter((result) => result.outcome === outcome);
  const failed = of('fail');
  const undecided = of('undecided');
  const shown = [...failed, ...undecided, ...of('pass').slice(0, passed)];
  return {
    rows: shown.map((result) => resultRow(site, links, result)),
    failed: failed.length,
    undecided: undecided.length,
  };
}

/** A name made for the record, for reading: `end-voltage` as `end voltage`. */
export function plain(name: string): string {
  return name.replaceAll('-', ' ');
}
