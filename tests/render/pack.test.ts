import { beforeAll, describe, expect, it } from 'vitest';
import type { CheckedBook } from '../../src/check/model.js';
import type { Reckoning } from '../../src/reckon/model.js';
import { reckon } from '../../src/reckon/reckon.js';
import { bodyRenderer } from '../../src/render/markdown.js';
import { headsCss } from '../../src/render/pack/heads.js';
import { packPages, withPageNumbers } from '../../src/render/pack/pages.js';
import { standardsNamed } from '../../src/render/pack/standards.js';
import { type PackFor, type PackView, packView } from '../../src/render/pack/view.js';
import { type Site, siteContext } from '../../src/render/site-context.js';
import { bookOf, entry, system } from '../reckon/book.js';
import { DEMO, loadBook } from '../site/demo.js';

/** What the pack says: it is what was reckoned, all of it, and nothing in it leads out of it. */

const TODAY = '2026-11-28';
const NOBODY: PackFor = { seal: null, words: false };

const body = bodyRenderer();

let reckoning: Reckoning;
let view: PackView;
let html: string;

function siteOf(of: Reckoning): Site {
  return siteContext({ reckoning: of, photos: new Map(), renderBody: () => '', rendererId: 'test' });
}

function rendered(of: Reckoning, whom: PackFor = NOBODY): string {
  return packPages(siteOf(of), whom, null)[0]?.render() ?? '';
}

/** The text of a page without its tags, with single blanks. */
function words(of: string): string {
  return of
    .replace(/<[^>]*>/g, ' ')
    .replace(/&(?:amp|#38);/g, '&')
    .replace(/\s+/g, ' ');
}

/** What stands in one numbered part. */
function part(name: string): string {
  const found = html.split(/<section class="/).find((section) => section.startsWith(`part ${name}"`));
  if (found === undefined) throw new Error(`there is no part ${name}`);
  return words(found);
}

beforeAll(async () => {
  reckoning = reckon(await loadBook(DEMO), TODAY);
  view = packView(siteOf(reckoning), NOBODY);
  html = rendered(reckoning);
});

describe('the pack', () => {
  it('leads nowhere but to places that are in it, each once', () => {
    const ids = [...html.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
    const targets = [...html.matchAll(/<a [^>]*href="([^"]*)"/g)].map(([, href]) => href ?? '');
    expect(targets.length).toBeGreaterThan(300);
    expect(targets.filter((href) => !href.startsWith('#') || !ids.includes(href.slice(1)))).toEqual([]);
    const named = [...html.matchAll(/data-to="([^"]+)"/g)].map(([, id]) => id);
    expect(named.filter((id) => !ids.includes(id))).toEqual([]);
  });

  it('has every spec, point, test, part, open item, upkeep and entry', () => {
    const { specs, timelines, tests, parts, items, upkeep, book } = reckoning;
    const open = [...items.values()].filter(({ status }) => status !== 'done');
    const wanted = [
      ...[...specs.keys()].map((ref) => `spec-${ref}`),
      ...[...timelines.keys()].map((ref) => `point-${ref}`),
      ...[...tests.keys()].map((ref) => `test-${ref}`),
      ...[...parts.keys()].map((id) => `part-${id}`),
      ...open.map(({ opened }) => `item-${opened.id}`),
      ...[...upkeep.keys()].map((ref) => `upkeep-${ref}`),
      ...book.entries.map((_, index) => `entry-${index + 1}`),
    ];
    expect(wanted.filter((id) => !html.includes(`id="${id}"`))).toEqual([]);
  });

  it('tells of each spec its standing and the evidence that decides it', () => {
    const rows = new Map(view.systems.flatMap(({ specs }) => specs.map((row) => [row.id, row] as const)));
    for (const { spec, standing, deciding } of reckoning.specs.values()) {
      const row = rows.get(`spec-${spec.ref}`);
      expect(row?.standing, spec.ref).toBe(standing);
      expect(row?.evidence[0]?.date, spec.ref).toBe(deciding?.date ?? row?.evidence[0]?.date);
    }
    const measured = rows.get('spec-house-dc.bank-capacity')?.evidence[0];
    expect(measured?.value.text).toMatch(/ ± /);
    expect(measured?.how).not.toBeNull();
  });

  it('answers on its first page what a stranger asks, with the numbers that were reckoned', () => {
    const answer = (asks: string) =>
      view.summary
        .find((one) => one.asks.startsWith(asks))
        ?.says.flat()
        .map((piece) => (typeof piece === 'string' ? piece : '#'))
        .join('') ?? '';
    const stands = (standing: string) =>
      [...reckoning.specs.values()].filter((state) => state.standing === standing).length;
    expect(view.summary.length).toBe(9);
    expect(answer('What is checked')).toContain(`states ${reckoning.specs.size} specs`);
    expect(answer('What is checked')).toContain(`: ${stands('verified')} (`);
    expect(answer('By whom')).toContain('Ruth Ansley');
    expect(answer('What is only claimed')).toContain(`${stands('unverified')} specs are claimed`);
    const pressing = reckoning.findings.filter(({ grade }) => grade === 'before-use');
    expect(answer('What is wrong')).toContain(`${pressing.length} things have to be settled before use`);
    expect(answer('What is due')).toMatch(/^\d+ things are overdue, of which safety hangs on \d+/);
    expect(answer('What changed')).toContain('Since 28 Nov 2025');
    expect(answer('What may be believed')).toContain('no figure in it takes the place of a survey');
    expect(answer('What rests on')).toContain('EUR');
    const places = view.sections.map(({ place }) => place);
    const named = view.summary
      .flatMap(({ says }) => says.flat())
      .flatMap((piece) => (typeof piece === 'string' ? [] : [piece.page]));
    expect(named.filter((place) => !places.includes(place))).toEqual([]);
  });

  it('lists every finding, every claim that is not checked, and what nobody has looked at', () => {
    for (const { grounds } of reckoning.findings)
      expect(part('findings')).toContain(grounds[0].title.replaceAll("'", '&#39;').replaceAll('&#39;', "'"));
    const unchecked = [...reckoning.specs.values()].filter(({ standing }) => standing === 'unverified');
    expect(view.claimed.filter(({ standing }) => standing === 'unverified').length).toBe(unchecked.length);
    expect(part('unknown')).toContain('Upkeep that was never done');
  });

  it('tells what a logger saw, and does not say of it that nothing was read', () => {
    const dc = words(html.split('<section class="').find((one) => one.startsWith('system s-house-dc')) ?? '');
    expect(dc).toContain('Bank, by the logger at least 12.4 V by the logger alone, see below');
    expect(dc).toMatch(
      /10656 logged readings from .*Lowest 10\.70 V on 14 Feb 2026, 11:20; .*0\.4 % of them beyond/,
    );
    expect(words(html)).not.toContain('never read 1');
    expect(part('unknown')).toContain(
      'none since it was exchanged: 1 System What Exhaust Wall of the mixing elbow',
    );
  });

  it('lists what drifts towards a limit, as the page of it does, and counts it on the first page', () => {
    const { past, reaching, drifting } = view.drift;
    expect(reaching.length).toBeGreaterThan(5);
    for (const { point } of [...past, ...reaching, ...drifting]) expect(part('drift')).toContain(point.text);
    const due = view.summary.find(({ asks }) => asks === 'What is due?');
    expect(JSON.stringify(due?.says)).toContain(
      `${past.length + reaching.length} points drift towards a limit`,
    );
  });

  it('says on what a case that works is trusting, and beside what is undecided how far it may lie off', () => {
    expect(part('power')).toContain(
      'It works if Continuous output of the inverter (unverified) and Rating of the panels (undecided) are as stated.',
    );
    expect(part('unknown')).toContain('110 A within 15 %');
    expect(part('unknown')).toContain('whose own check was overdue since 28 Apr 2026: clamp meter');
    expect(part('resting')).toContain('110 A within 15 % ; found 95 ± 2.2 A');
  });

  it('does not list among the people who only stands in for somebody', () => {
    const ghost = { id: 'someone', name: 'someone', role: null, thirdParty: false, licence: null };
    const one = reckoning.book.people.get('owner');
    if (one === undefined) throw new Error('the demo book has no owner');
    const people = new Map([...reckoning.book.people, ['someone', { ...one, ...ghost }]]);
    const copy = packView(siteOf({ ...reckoning, book: { ...reckoning.book, people } }), NOBODY);
    expect(copy.people).toEqual(view.people);
    expect(copy.people.map(({ name }) => name)).toContain('Mr Cottle');
  });

  it('tells of each claim that is not verified what rests on it', () => {
    const rested = reckoning.exposures.filter(({ dependents }) => dependents.length > 0);
    expect(view.resting.map(({ dependents }) => dependents.length)).toEqual(
      rested.map(({ dependents }) => dependents.length),
    );
    expect(rested.length).toBeGreaterThan(5);
    for (const { spec } of rested) expect(html).toContain(`href="#spec-${spec}"`);
    expect(part('resting')).toContain('Decide anew what rests on it: it is 2.58 ± 0.06 kW.');
  });

  it('promises to show later changes only where it carries a seal', () => {
    const believed = view.summary.find(({ asks }) => asks.startsWith('What may be believed'));
    expect(JSON.stringify(believed?.says)).toContain('carries no seal');
  });

  it('counts as undecided what lies across a limit, whether spec, test or reading', () => {
    const { undecided, undecidedTests, undecidedPoints } = view.unknown;
    const points = [...reckoning.timelines.values()].filter(({ last }) => last?.limit === 'undecided');
    expect(undecidedPoints.length).toBe(points.length);
    const all = undecided.length + undecidedTests.length + undecidedPoints.length;
    const answer = view.summary.find(({ asks }) => asks.startsWith('What is not known'));
    expect(JSON.stringify(answer?.says)).toContain(`${all} results are undecided`);
  });

  it('names who worked on gas and mains, with the licence on record or that there is none', () => {
    const people = part('people');
    expect(people).toContain('gas fitter for boats, certificate 0412');
    expect(view.licensed.some(({ licence }) => licence === null)).toBe(true);
    expect(people).toContain('none');
  });

  it('has what every entry tells where that is asked for, with links and notes that stay in it', () => {
    const notes = 'Looked.[^1] See [that one](2024-03-23-survey-ashore.md).\n\n[^1]: Twice.\n';
    const entries = reckoning.book.entries.map((entry, at) => (at < 3 ? { ...entry, body: notes } : entry));
    const of = reckon({ ...reckoning.book, entries }, TODAY);
    const site = siteContext({
      reckoning: of,
      photos: new Map(),
      renderBody: (markdown, _hash, context) => body(markdown, context),
      rendererId: 'test',
    });
    const told = packPages(site, { seal: null, words: true }, null)[0]?.render() ?? '';
    const ids = [...told.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
    expect(ids.filter((id, at) => ids.indexOf(id) !== at)).toEqual([]);
    const targets = [...told.matchAll(/<a [^>]*href="([^"]*)"/g)].map(([, href]) => href ?? '');
    expect(targets.filter((href) => !href.startsWith('#') || !ids.includes(href.slice(1)))).toEqual([]);
    const survey = entries.findIndex(({ id }) => id === '2024-03-23-survey-ashore') + 1;
    expect(told).toContain(`href="#entry-${survey}">that one</a>`);
    // A sentence of each entry that has one, in the order of the record.
    const text = words(told.slice(told.indexOf('class="part entries"')));
    let from = 0;
    for (const { title } of entries) {
      from = text.indexOf(words(title), from);
      expect(from, title).toBeGreaterThan(0);
    }
    expect(text.match(/Twice\./g)).toHaveLength(3);
    expect(words(html.slice(html.indexOf('class="part entries"')))).not.toContain('Looked');
  });

  it('says that it carries no seal, or what the seal is and how to check it', () => {
    expect(part('seal')).toContain('This copy carries no seal.');
    const seal = { hash: 'ab'.repeat(32), made: '2026-11-28', files: 120, signedBy: 'Wil Harrock' };
    const sealed = words(rendered(reckoning, { seal, words: false }));
    expect(sealed).toContain(`${'ab'.repeat(32)}`);
    expect(sealed).toContain('ribband seal --check');
    expect(sealed).not.toContain('carries no seal');
  });

  it('is short and whole for a book that has next to nothing', async () => {
    const small = await bookOf(system('s', 'points: {}'), entry('2026-05-01', 'closes: []'));
    const text = words(rendered(reckon(small, TODAY)));
    expect(text).toContain('The record shows nothing that is wrong');
    expect(text).toContain('Nothing: every spec has been held against evidence.');
    expect(text).not.toContain('Plan of power');
    expect(text).not.toMatch(/undefined|NaN/);
  });
});

describe('page numbers', () => {
  const page =
    '<li><span class="page-number" data-to="a"></span></li><p>(<a class="where" href="#b" data-to="b">section 2</a>)</p>';

  it('are put into the contents and into sentences', () => {
    const pages = new Map([
      ['a', 3],
      ['b', 41],
    ]);
    expect(words(withPageNumbers(page, pages)).trim()).toBe('3 ( page 41 )');
  });

  it('have room before they are known', () => {
    expect(words(withPageNumbers(page, new Map())).trim()).toBe('00 ( page 00 )');
  });
});

describe('running heads', () => {
  it('have a named page for each system, with its title, and the paper that is asked for', async () => {
    const css = headsCss(reckoning, 'letter');
    expect(css).toContain('@page { size: letter; }');
    expect(css).toContain('@page s-engine { @top-right { content: "Engine"; } }');
    expect(css).toContain('.s-engine { page: s-engine; }');
    expect(headsCss(reckoning, null)).not.toContain('size:');
  });

  it('are texts and nothing else, whatever a title says', async () => {
    const files = system('s', 'points: {}');
    const hostile = {
      ...files,
      'systems/s.md': (files['systems/s.md'] ?? '').replace(
        'System s',
        `'x"; } body { display: none } /* \\ </style> é'`,
      ),
    };
    const css = headsCss(reckon(await bookOf(hostile, entry('2026-05-01', 'closes: []')), TODAY), null);
    const [, content] = /@page s-s \{ @top-right \{ content: (".*"); \} \}/.exec(css) ?? [];
    expect(content).toMatch(/^"[\p{L}\p{N} \\]*"$/u);
    expect(content).toContain('é');
    expect(css.match(/[{}]/g)?.length).toBe(14);
  });
});

describe('standards', () => {
  it('are those that the book names by their number, each once', async () => {
    const book: CheckedBook = await bookOf(
      system('s', 'specs: { a: { value: x, basis: printed, source: "EN ISO 10239 and ABYC A-1" } }'),
      entry('2026-05-01', 'closes: []'),
    );
    const named = {
      ...book,
      entries: book.entries.map((one) => ({
        ...one,
        body: 'As 33 CFR 183.455 and ABYC A-1 say; ISO 9 lives.',
      })),
    };
    expect(standardsNamed(named)).toEqual(['33 CFR 183.455', 'ABYC A-1', 'EN ISO 10239']);
  });
});
