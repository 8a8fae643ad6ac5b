import { beforeAll, describe, expect, test } from 'vitest';
import type { CheckedBook, Copy } from '../../src/check/model.js';
import { parseQuantity, type Quantity } from '../../src/quantity/index.js';
import { addDays, daysBetween } from '../../src/reckon/calendar.js';
import { findingsMoved } from '../../src/reckon/changes.js';
import type { DecisionState, Reckoning } from '../../src/reckon/model.js';
import { reckon } from '../../src/reckon/reckon.js';
import type { Dependent } from '../../src/reckon/reliance.js';
import { suppose } from '../../src/reckon/suppose.js';
import { trendsOf } from '../../src/reckon/trends.js';
import { dayChart } from '../../src/render/charts/day.js';
import { hullChart, marksOf } from '../../src/render/charts/hull.js';
import { networkChart } from '../../src/render/charts/network.js';
import { trendLine } from '../../src/render/charts/trend-line.js';
import type { Page } from '../../src/render/page.js';
import { findingsView, readerOf } from '../../src/render/pages/findings.js';
import { supposeView } from '../../src/render/pages/suppose.js';
import { weightsPages } from '../../src/render/pages/weights.js';
import { type Site, siteContext } from '../../src/render/site-context.js';
import { type Branch, dependentTree } from '../../src/render/stakes.js';
import { supposeFiles } from '../../src/render/suppose-site.js';
import { DEMO, loadBook, pagesOf } from '../site/demo.js';

/** The pages of what is computed, made from the demo book: what they show is what was reckoned. */

const TODAY = '2026-11-16';

const COPY: Copy = {
  for: 'buyer',
  without: [],
  alsoPrivate: false,
  evidenceLeftOut: false,
  needsAtLeast: null,
  noTotalsOf: [],
  waitsOnHidden: [],
};

let book: CheckedBook;
let reckoning: Reckoning;
let site: Site;
let pages: ReadonlyMap<string, Page>;

function siteOf(of: Reckoning): Site {
  return siteContext({ reckoning: of, photos: new Map(), renderBody: () => '', rendererId: 'test' });
}

beforeAll(async () => {
  book = await loadBook(DEMO);
  reckoning = reckon(book, TODAY);
  site = siteOf(reckoning);
  pages = new Map(pagesOf(book, { asOf: TODAY }).map((page) => [page.path, page]));
});

function html(path: string): string {
  const page = pages.get(path);
  if (page === undefined) throw new Error(`there is no ${path}`);
  return page.render();
}

/** The text of a page without its tags, with single blanks. */
function words(path: string): string {
  const [, main = ''] = html(path).split('<main');
  return main
    .replace(/<[^>]*>/g, ' ')
    .replaceAll('&amp;', '&')
    .replace(/\s+/g, ' ');
}

/** The part of a page below one of its headings. */
function leaf(path: string, id: string): string {
  const found = html(path)
    .split('<section class="leaf')
    .find((part) => part.includes(`id="${id}"`));
  if (found === undefined) throw new Error(`${path} has no #${id}`);
  return found;
}

describe('the decisions of a system', () => {
  test('stand on its page and in the pack, with what they hang on and whether that is still so', () => {
    const WORD = { holds: 'holds', fails: 'does not hold', undecided: 'undecided', unknown: 'cannot say' };
    const bySystem = new Map<string, string[]>();
    for (const { decision } of reckoning.decisions.values())
      bySystem.set(decision.system, [...(bySystem.get(decision.system) ?? []), decision.id]);
    expect(bySystem.size).toBeGreaterThan(2);
    const pack = html('pack/index.html');
    for (const id of book.systems.keys()) {
      const path = `systems/${id}.html`;
      const decided = bySystem.get(id) ?? [];
      expect(html(path).includes('id="decisions"'), path).toBe(decided.length > 0);
      if (decided.length === 0) continue;
      const told = leaf(path, 'decisions');
      const linked = [...told.matchAll(/<th scope="row"><a href="[^"#]*decisions\.html#([^"]+)"/g)].map(
        ([, ref]) => ref,
      );
      expect(new Set(linked), path).toEqual(new Set(decided));
      for (const one of decided) {
        const { decision, holding, undoneBy } = reckoning.decisions.get(one) as DecisionState;
        expect(told).toContain(decision.chose.replaceAll('&', '&amp;'));
        for (const ref of decision.restsOn)
          expect(told).toMatch(new RegExp(`[.-]${ref.split('.')[1]}(?:\\.html)?"`));
        const row = pack.split(`id="decision-${one}"`)[1]?.split('</tr>')[0] ?? '';
        expect(row.toLowerCase()).toContain(decision.chose.replaceAll('&', '&amp;').toLowerCase());
        if (holding === null) continue;
        expect(told).toContain(WORD[holding.verdict]);
        if (undoneBy === null) expect(row).toContain(WORD[holding.verdict]);
      }
    }
  });
});

describe('what is wrong', () => {
  test('a part that was fitted after the evidence is a question to the owner, and to others a fact', () => {
    expect(words('findings.html')).toContain(
      'Start battery, 90 Ah, sealed was fitted on 25 Apr 2026, after this: look at it again, or write since: 2026-04-25 where it is another thing now.',
    );
    const copied = siteOf(reckon({ ...book, copy: COPY }, TODAY));
    const told = findingsView(copied, copied.top, readerOf(copied)).groups.flatMap(({ rows }) =>
      rows.flatMap(({ fitted }) => fitted),
    );
    expect(told).toEqual([
      'Start battery, 90 Ah, sealed was fitted on 25 Apr 2026, after this; no entry has looked at it since.',
    ]);
  });

  test('the first page lists every test that did not pass last, however long ago, the failed first', () => {
    const last = [...reckoning.tests.values()].flatMap((state) => state.last ?? []);
    const of = (outcome: string) => last.filter((result) => result.outcome === outcome);
    const shown = [...leaf('index.html', 'results').matchAll(/href="tests\.html#([^"]+)"/g)].map(
      ([, ref]) => ref,
    );
    const [failed, undecided] = [of('fail'), of('undecided')].map((found) =>
      found.map(({ run }) => run.test),
    );
    expect(failed?.length).toBeGreaterThanOrEqual(2);
    expect(new Set(shown.slice(0, failed?.length))).toEqual(new Set(failed));
    expect(new Set(shown.slice(failed?.length, last.length - of('pass').length))).toEqual(new Set(undecided));
  });

  test('a system that has a failed test or an open defect says so in the list of systems', () => {
    const row = html('systems/index.html')
      .split('<tr')
      .find((part) => part.includes('genset.html'));
    const defects = [...reckoning.items.values()].filter(
      ({ opened, status }) => opened.system === 'genset' && opened.defect && status !== 'done',
    ).length;
    expect(reckoning.tests.get('genset.load-test')?.last?.outcome).toBe('fail');
    expect(row).toContain('<li>1 failed test</li>');
    expect(row?.includes('open defect')).toBe(defects > 0);
  });
});

describe('what is judged though its ± is not known', () => {
  const SAID = 'judged on the value alone';

  test('says so at the head of each such spec, and of no other', () => {
    const alone: string[] = [];
    for (const [ref, { standing, deciding }] of reckoning.specs) {
      const isAlone =
        standing !== 'unverified' &&
        deciding?.value.type === 'quantity' &&
        (deciding.uncertainty.from === 'unknown' || deciding.uncertainty.si === null);
      if (isAlone) alone.push(ref);
      expect(words(`specs/${ref}.html`).includes(SAID), ref).toBe(isAlone);
    }
    expect(alone.length).toBeGreaterThan(2);
    expect(alone.length).toBeLessThan(reckoning.specs.size / 2);
  });

  test('says so beside the outcome of each such test', () => {
    const alone = [...reckoning.tests.values()].filter(({ last }) =>
      last?.results.some(({ value, uncertainty }) => value?.type === 'quantity' && uncertainty.si === null),
    );
    expect(alone.length).toBeGreaterThan(0);
    expect(leaf('tests.html', 'last').split(SAID).length - 1).toBe(alone.length);
  });
});

describe('what changed in a year', () => {
  test('tells findings that came up and that were settled, as the command does', () => {
    const [before, after] = [reckon(book, '2025-12-31'), reckon(book, TODAY)];
    const { opened, settled } = findingsMoved(before, after);
    const rows = (id: string) => leaf('changes/2026.html', id).split('<tr').length - 2;
    expect([rows('came-up'), rows('settled')]).toEqual([opened.length, settled.length]);
    expect(words('changes/2026.html')).toContain(
      `${opened.length} findings came up, ${settled.length} settled.`,
    );
  });

  test('tells evidence and values with the ± by which they were judged, and what is against their instrument', () => {
    const page = words('changes/2026.html');
    expect(page).toContain(
      '95 ± 2.2 A, measured 9 May 2026, by an instrument whose own check was overdue since 28 Apr 2026: clamp meter',
    );
    expect(page).toContain(
      'Gland after an hour under way: 43 ± 2 °C on 8 Aug 2026; it should be at most 40 °C.',
    );
    expect(leaf('changes/2026.html', 'limits')).toContain('34.12 ± 0.03 mm');
    expect(words('specs/index.html')).toContain('whose own check was overdue since 28 Apr 2026: clamp meter');
  });
});

describe('what to check first', () => {
  test('stands in the order of what is at stake, with the next step', () => {
    const specs = [...leaf('index.html', 'check-first').matchAll(/href="specs\/([\w.-]+)\.html"/g)].map(
      ([, ref]) => ref,
    );
    const expected = reckoning.exposures.slice(0, 12).map(({ spec }) => spec);
    expect(specs.filter((ref) => ref !== 'index')).toEqual(expected);
    expect(words('index.html')).toContain(reckoning.exposures[1]?.next ?? '?');
  });

  test('every spec says what rests on it, in money and hours, whatever its standing', () => {
    expect(site.stakes.size).toBe(reckoning.specs.size);
    for (const { spec, money, hours } of reckoning.exposures) {
      const { stake } = site.stakes.get(spec) ?? { stake: null };
      expect(stake?.money.length, spec).toBe(money.length);
      expect(stake?.hours === null, spec).toBe(hours === 0);
    }
    const verified = [...reckoning.specs.values()].find(
      ({ standing, spec }) => standing === 'verified' && reckoning.affected([spec.ref]).length > 0,
    );
    expect(site.stakes.get(verified?.spec.ref ?? '')?.dependents.length).toBeGreaterThan(0);
  });
});

function branches(tree: readonly Branch[], depth = 1): { branch: Branch; depth: number }[] {
  return tree.flatMap((branch) => [{ branch, depth }, ...branches(branch.below, depth + 1)]);
}

describe('the tree of what rests on a spec', () => {
  test('has each dependent once, as deep as its shortest way is long', () => {
    for (const { dependents } of site.stakes.values()) {
      const found = branches(dependentTree(site, site.top, dependents));
      expect(found.filter(({ branch }) => branch.sort !== null).length).toBe(dependents.length);
      expect(found.map(({ depth }) => depth).sort()).toEqual(
        expect.arrayContaining(dependents.map(({ through }) => through.length - 1).sort()),
      );
    }
  });

  test('shows a point on the way that is no dependent itself, and keeps an item and a part of one name apart', () => {
    const dependents: readonly Dependent[] = [
      { sort: 'part', id: 'twin', through: ['a.spec', 'twin'] },
      { sort: 'item', id: 'twin', through: ['a.spec', 'twin'] },
      { sort: 'decision', id: 'far', through: ['a.spec', 'a.point', 'far'] },
    ];
    const tree = dependentTree(site, site.top, dependents);
    expect(tree.map(({ sort }) => sort)).toEqual(['part', 'job', null]);
    expect(tree[2]?.below.map(({ sort }) => sort)).toEqual(['decision']);
  });

  test('says of a decision that it was taken back', () => {
    const undone = [...reckoning.decisions.values()].find(({ undoneBy }) => undoneBy !== null);
    const id = undone?.decision.id ?? '';
    const [branch] = dependentTree(site, site.top, [{ sort: 'decision', id, through: ['a.spec', id] }]);
    expect(branch?.facts).toEqual(['taken back']);
  });
});

test('a decision that no longer holds says by which reading it turned, and leads there', () => {
  const fallen = [...reckoning.decisions.values()].filter(
    ({ undoneBy, holding }) => undoneBy === null && holding?.verdict === 'fails',
  );
  expect(fallen.length).toBeGreaterThan(0);
  const part = leaf('decisions.html', 'fallen');
  for (const { decision, holding } of fallen) {
    expect(part).toContain(`id="${decision.id}"`);
    expect(part).toContain(`entries/${holding?.turned?.entry}.html`);
  }
  expect(leaf('index.html', 'decide-anew')).toContain(`#${fallen[0]?.decision.id}`);
});

test('derived values are shown with what they come to and what they rest on', () => {
  const part = leaf('systems/house-dc.html', 'derived').replace(/<[^>]*>/g, ' ');
  expect(part).toMatch(/Usable capacity.*158 ± 3 Ah/);
  expect(leaf('systems/house-dc.html', 'derived')).toContain('#point-capacity');
});

describe('upkeep', () => {
  test('is on the page once each, what is overdue before what is not', () => {
    const ids = [...html('upkeep.html').matchAll(/<tr id="([\w.-]+)"/g)].map(([, id]) => id ?? '');
    expect([...ids].sort()).toEqual([...reckoning.upkeep.keys()].sort());
    const over = ids.map((id) => {
      const state = reckoning.upkeep.get(id);
      return state?.overdueByDate === true || state?.overdueByHours === true;
    });
    expect(over.lastIndexOf(true)).toBe(over.filter(Boolean).length - 1);
  });

  test('says which hours are over, what the meter shows then, and that a thing was never done', () => {
    expect(words('upkeep.html')).toMatch(/10\.2 h over was due at 3189\.9 h; the meter shows 3200\.1 h/);
    expect(words('upkeep.html')).toMatch(/never on record counts from 6 Apr 2024, when the system came into/);
  });
});

describe('the network of a goal', () => {
  test('tells the jobs that safety hangs on and that the goal does not wait for', () => {
    const [goal] = reckoning.work.goals;
    const steps = new Set(goal?.steps.map(({ id }) => id));
    const besides = [...reckoning.items.values()].filter(
      ({ opened, status }) => opened.safety && status !== 'done' && !steps.has(opened.id),
    );
    expect(besides.map(({ opened }) => opened.what)).toContain('Put the new keel bolt in, bed and torque');
    expect(besides.map(({ opened }) => opened.id)).not.toContain('keel-bolts');
    const [, said = ''] = words('plan.html').split('Not among its steps, though safety hangs on');
    for (const { opened } of besides) expect(said).toContain(opened.what);
    expect(words('work.html')).toContain(`, without ${besides.length} jobs that safety hangs on`);
  });

  const charts = () => reckoning.work.goals.flatMap((goal) => networkChart(site, goal) ?? []);

  test('has a row for every step, marks the chain, and ends with the goal', () => {
    const [goal] = reckoning.work.goals;
    const [chart] = charts();
    expect(chart?.rows.length).toBe(goal?.steps.length);
    expect(chart?.rows.filter(({ decides }) => decides).length).toBe(goal?.chain.length);
    expect(chart?.rows.at(-1)?.sort).toBe('goal');
    for (const { from, to, until } of chart?.rows ?? []) {
      expect(from).toBeGreaterThanOrEqual(0);
      expect(to).toBeGreaterThanOrEqual(from);
      expect(until).toBeGreaterThanOrEqual(to - 1e-9);
      expect(Math.max(to, until)).toBeLessThanOrEqual(chart?.days ?? 0);
    }
  });

  test('is not drawn where no pace makes days of hours', () => {
    const unpaced = siteOf({ ...reckoning, work: { ...reckoning.work, pace: null } });
    const [goal] = reckoning.work.goals;
    if (goal === undefined) throw new Error('the demo has no goal');
    expect(networkChart(unpaced, goal)).toBeNull();
  });

  test('stands above a table with the same steps', () => {
    const [goal] = reckoning.work.goals;
    const rows = [...leaf('plan.html', goal?.goal ?? '').matchAll(/<th scope="row"/g)];
    expect(rows.length).toBe(goal?.steps.length);
  });
});

test('a trend is drawn only where one is claimed, no farther than twice the time it was read', () => {
  const trends = [...trendsOf(reckoning)];
  expect(trends.some(([, { status }]) => status === 'no-trend')).toBe(true);
  for (const [ref, trend] of trends) {
    const point = reckoning.timelines.get(ref)?.point;
    if (point === undefined) throw new Error(ref);
    const line = trendLine(point, trend);
    expect(line === null, ref).toBe(trend.status !== 'trend');
    const [first, last] = [trend.used[0], trend.used.at(-1)];
    if (line === null || first === undefined || last === undefined) continue;
    const [from, to] = [first.point.reading.date, last.point.reading.date];
    const end = addDays(to, 2 * daysBetween(from, to));
    for (const { date } of line.rows) expect(date <= end, `${ref} ${date}`).toBe(true);
    for (const crossing of line.crossings)
      expect(crossing.to <= (line.rows.at(-1)?.date ?? ''), ref).toBe(true);
  }
});

test('what drifts lists every claimed trend once', () => {
  const claimed = [...trendsOf(reckoning)].filter(([, { status }]) => status === 'trend');
  const parts = ['past', 'reaching', 'drifts'].map((id) => leaf('drift.html', id)).join('');
  const linked = [...parts.matchAll(/<th scope="row"><a href="systems\/([\w-]+)\.html#point-([\w-]+)"/g)];
  expect(linked.map(([, system, name]) => `${system}.${name}`).sort()).toEqual(
    claimed.map(([ref]) => ref).sort(),
  );
});

describe('power', () => {
  test('stacks the loads of every moment up to what is asked, and the area is the energy of the day', () => {
    for (const one of reckoning.power?.cases ?? [])
      for (const feeder of [...one.sources, ...one.stores]) {
        const chart = dayChart({ ...feeder, limit: null }, book.display);
        if (chart === null) continue;
        let wattHours = 0;
        for (const [at, { from, to }] of chart.spans.entries()) {
          const sum = chart.bands.reduce((all, { watts }) => all + (watts[at] ?? 0), 0);
          expect(sum, feeder.id).toBeCloseTo(feeder.profile.active[at]?.quantity.si ?? 0, 6);
          wattHours += sum * (to - from);
        }
        expect(wattHours, feeder.id).toBeCloseTo(feeder.energy.quantity.si / 3600, 3);
      }
  });

  test('a case says its verdict, and its reasons what they rest on and how that stands', () => {
    const winter = leaf('power.html', 'winter');
    expect(winter).toContain('fails');
    expect(winter).toContain('specs/genset.output-claimed.html');
    expect(winter.replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ')).toMatch(
      /Continuous output as sold contradicted/,
    );
    expect(winter).toMatch(/<table class="matrix">/);
  });

  test('a spec leads to the cases that rest on it', () => {
    expect(leaf('specs/genset.output-claimed.html', 'rests')).toContain('../power.html#winter');
  });
});

describe('weights', () => {
  test('marks hold together the mass that the lines of the ledger change', () => {
    const weights = reckoning.weights;
    if (weights === null) throw new Error('the demo has no weights');
    const { marks, numberOf } = marksOf(weights);
    const marked = marks.reduce((sum, { kg }) => sum + kg, 0);
    const counted = weights.lines.filter(({ counts }) => counts);
    const unmarked = counted
      .filter((line) => !numberOf.has(line))
      .reduce((sum, line) => sum + line.mass.quantity.si, 0);
    expect(marked + unmarked).toBeCloseTo(weights.massChange.quantity.si, 6);
    expect(Math.abs(unmarked)).toBeLessThan(0.5);
    expect(marks.map(({ number }) => number)).toEqual(marks.map((_, index) => index + 1));
  });

  test('a thing that came and went again leaves no mark', () => {
    const weights = reckoning.weights;
    const line = weights?.lines.find(({ counts }) => counts);
    if (weights == null || line === undefined) throw new Error('the demo has no weights');
    const { quantity } = line.mass;
    const back = {
      ...line,
      mass: { ...line.mass, quantity: { ...quantity, si: -quantity.si, value: -quantity.value } },
    };
    expect(marksOf({ ...weights, lines: [line, back] }).marks).toEqual([]);
    expect(hullChart({ ...weights, lines: [] }, [])).toBeNull();
  });

  test('outside the limits there are reasons and no draught', () => {
    const weights = reckoning.weights;
    if (weights === null) throw new Error('the demo has no weights');
    const effect = { status: 'outside-limits', reasons: ['Too much has changed.'] } as const;
    const outside = new Map(
      pagesOfReckoning({ ...reckoning, weights: { ...weights, effect } }).map((page) => [page.path, page]),
    );
    const text = outside.get('weights.html')?.render() ?? '';
    expect(text).toContain('Too much has changed.');
    expect(text).not.toContain('Draught aft');
  });
});

function pagesOfReckoning(of: Reckoning): readonly Page[] {
  const context = siteOf(of);
  return weightsPages(context);
}

describe('a book without plans', () => {
  test('has no pages of them, and nothing leads there', () => {
    const bare = { ...book, plans: { power: null, weights: null } };
    const made = pagesOf(bare, { asOf: TODAY });
    const paths = made.map(({ path }) => path);
    expect(paths).not.toContain('power.html');
    expect(paths).not.toContain('weights.html');
    expect(made.find(({ path }) => path === 'index.html')?.render()).not.toMatch(
      /href="(?:power|weights)\.html/,
    );
  });
});

function quantity(text: string): Quantity {
  const read = parseQuantity(text);
  if (!read.ok) throw new Error(read.problem.message);
  return read.quantity;
}

describe('a supposition', () => {
  test('is a page with before and after, and leads nowhere', () => {
    const supposed = [
      ['genset.output-claimed', '5 kW'],
      ['genset.apparent-claimed', '6 kVA'],
    ] as const;
    const supposition = suppose(book, TODAY, new Map(supposed.map(([ref, text]) => [ref, quantity(text)])));
    const view = supposeView(reckoning, supposition);
    expect(view.cases.map(({ id, from, to: after }) => [id, from, after])).toEqual([
      ['winter', 'fails', 'works'],
    ]);
    const page = supposeFiles(reckoning, supposition).find(({ path }) => path === 'index.html');
    const text = String(page?.content);
    expect(text).toContain('instead of 2.58 ± 0.06 kW');
    expect([...text.matchAll(/<a [^>]*href="([^"]*)"/g)].map(([, href]) => href)).toEqual([
      '#contents',
      'index.html',
    ]);
  });

  test('of what is so already says that nothing changes', () => {
    const view = supposeView(reckoning, suppose(book, TODAY, new Map()));
    expect(view.nothing).toBe(true);
    const [page] = supposeFiles(reckoning, suppose(book, TODAY, new Map()));
    expect(String(page?.content)).toContain('Nothing changes.');
  });
});

test('no page carries a style of its own, and every drawing has words or is left out for those who listen', () => {
  for (const path of [
    'index.html',
    'plan.html',
    'upkeep.html',
    'power.html',
    'weights.html',
    'drift.html',
    'systems/genset.html',
  ]) {
    const text = html(path);
    expect(text, path).not.toMatch(/ style="|<style/);
    for (const [svg] of text.matchAll(/<svg[^>]*>/g))
      expect(svg, path).toMatch(/aria-hidden="true"|role="img" aria-label="[^"]{20,}"/);
  }
});

test('a part that came after the day that was promised says by how much', () => {
  const late = [...reckoning.parts.values()].filter(
    ({ due, arrived }) => due !== null && arrived !== null && arrived > due,
  );
  expect(late.length).toBeGreaterThan(0);
  for (const { due, arrived, leadDays } of late) {
    const days = daysBetween(due ?? '', arrived ?? '');
    expect(words('parts.html')).toContain(`${leadDays} days, ${days} day${days === 1 ? '' : 's'} late`);
  }
});
