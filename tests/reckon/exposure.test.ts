import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { atStake } from '../../src/reckon/exposure.js';
import type { ItemState, PartState } from '../../src/reckon/model.js';
import {
  affectedBy,
  type DependentSort,
  dependentsOf,
  node,
  type RelianceGraph,
} from '../../src/reckon/reliance.js';
import { entry, type Files, quantity, reckoned, system } from './book.js';

const SORTS: readonly (DependentSort | 'value')[] = ['value', 'derived', 'decision', 'part', 'item'];

interface Web {
  readonly names: readonly string[];
  readonly graph: RelianceGraph;
  readonly edges: readonly (readonly [string, string])[];
}

/** A random web of reliance over `s.n0` and others; circles are let in, since nothing may hang on them. */
const web = fc
  .record({
    sorts: fc.array(fc.constantFrom(...SORTS), { minLength: 1, maxLength: 9 }),
    links: fc.array(fc.tuple(fc.nat({ max: 9 }), fc.nat({ max: 9 })), { maxLength: 25 }),
  })
  .map(({ sorts, links }): Web => {
    const names = [node('value', 's.n0'), ...sorts.map((sort, at) => node(sort, `s.n${at + 1}`))];
    const edges = links.map(
      ([from, to]) => [names[from % names.length] as string, names[to % names.length] as string] as const,
    );
    const graph = new Map(
      names.map((name) => [name, [...new Set(edges.filter(([on]) => on === name).map(([, to]) => to))]]),
    );
    return { names, graph, edges };
  });

/** All nodes that can be reached, by Warshall's way: pairs joined through every node in turn. */
function reachable({ names, edges }: Web, from: string): ReadonlySet<string> {
  const joined = new Set(edges.map(([on, to]) => `${on}>${to}`));
  for (const middle of names)
    for (const a of names)
      for (const b of names)
        if (joined.has(`${a}>${middle}`) && joined.has(`${middle}>${b}`)) joined.add(`${a}>${b}`);
  return new Set(names.filter((name) => name !== from && joined.has(`${from}>${name}`)));
}

const START = node('value', 's.n0');

describe('what rests on a spec', () => {
  it('is the transitive closure, each thing once', () => {
    fc.assert(
      fc.property(web, (made) => {
        const derived = new Set(made.names.map((name) => name.split(' ')[1] ?? ''));
        const found = dependentsOf('s.n0', made.graph, derived).map(({ sort, id }) =>
          sort === 'derived' && made.names.includes(node('value', id)) ? node('value', id) : node(sort, id),
        );
        expect(new Set(found).size).toBe(found.length);
        expect([...found].sort()).toEqual([...reachable(made, START)].sort());
      }),
    );
  });

  it('leaves out values that are no derived ones, and what lies behind them stays in', () => {
    fc.assert(
      fc.property(web, (made) => {
        const found = dependentsOf('s.n0', made.graph, new Set());
        expect(found.some(({ id }) => made.names.includes(node('value', id)))).toBe(false);
        const rest = [...reachable(made, START)].filter((name) => !name.startsWith('value'));
        expect(found.map(({ sort, id }) => node(sort, id)).sort()).toEqual(rest.sort());
      }),
    );
  });

  it('is told with a way to it that is one, and none is shorter; the nearest come first', () => {
    fc.assert(
      fc.property(web, (made) => {
        const found = dependentsOf('s.n0', made.graph, new Set());
        for (const { sort, id, through } of found) {
          expect(through[0]).toBe('s.n0');
          expect(through.at(-1)).toBe(id);
          // No way with fewer steps: spread out step by step for one less than it takes.
          let reached = new Set([START]);
          for (let step = 0; step < through.length - 2; step += 1)
            reached = new Set([...reached].flatMap((at) => [at, ...(made.graph.get(at) ?? [])]));
          expect(reached.has(node(sort, id))).toBe(false);
          for (const [at, next] of through.slice(1).entries()) {
            const here = through[at] ?? '';
            const isEdge = made.edges.some(([a, b]) => a.endsWith(` ${here}`) && b.endsWith(` ${next}`));
            expect(isEdge).toBe(true);
          }
        }
        const lengths = found.map(({ through }) => through.length);
        expect(lengths).toEqual([...lengths].sort((a, b) => a - b));
      }),
    );
  });

  it('of several specs is all that rests on any, each once', () => {
    fc.assert(
      fc.property(web, (made) => {
        const refs = made.names.filter((name) => name.startsWith('value')).map((name) => name.slice(6));
        const found = affectedBy(refs, made.graph, new Set()).map(({ sort, id }) => node(sort, id));
        const each = refs.flatMap((ref) => dependentsOf(ref, made.graph, new Set()));
        expect(found.sort()).toEqual([...new Set(each.map(({ sort, id }) => node(sort, id)))].sort());
      }),
    );
  });

  it('counts the money in each part and the hours in each item once', () => {
    fc.assert(
      fc.property(web, (made) => {
        // Costs and sizes are powers of two, so that a sum says which were counted, and how often.
        const power = (id: string) => 2 ** Number(id.slice(3));
        const ids = made.names.map((name) => name.split(' ')[1] ?? '');
        const parts = new Map(
          ids.map((id) => [
            id,
            { now: 'fitted', costs: [{ currency: 'EUR', amount: power(id) }] } as unknown as PartState,
          ]),
        );
        const items = new Map(
          ids.map((id) => [id, { opened: { size: { si: power(id) * 3600 } } } as unknown as ItemState]),
        );
        const { money, hours } = atStake(dependentsOf('s.n0', made.graph, new Set()), {
          parts,
          items,
          noTotalsOf: [],
        });
        const reached = [...reachable(made, START)];
        const sum = (sort: DependentSort) =>
          reached
            .filter((name) => name.startsWith(`${sort} `))
            .reduce((total, name) => total + power(name.slice(sort.length + 1)), 0);
        expect(money).toEqual(sum('part') === 0 ? [] : [{ currency: 'EUR', amount: sum('part') }]);
        expect(hours).toBe(sum('item'));
      }),
    );
  });
});

const SYSTEM = system(
  's',
  `points:
  cap: { quantity: charge, unit: Ah }
  volts: { quantity: voltage, unit: V }
specs:
  bank: { value: 400 Ah, basis: told, within: 5 %, point: cap, again-every: 12 months, check-by: Discharge it. }
  plate: { value: TL-400, basis: told }
  alone: { value: grey, basis: told }
  small: { value: oak, basis: told }
derived:
  usable: { from: 0.5 * bank, quantity: charge }`,
);

const part = (id: string, more: string) => `  - { part: ${id}, move: ordered, ${more} }\n`;

const STORY: readonly Files[] = [
  SYSTEM,
  entry(
    '2026-01-01',
    `parts:
${part('tray', 'cost: 40.00 EUR, rests-on: [s.bank, s.usable]')}${part('charger', 'cost: 300.00 EUR, rests-on: [s.usable]')}${part('cable', 'cost: 55.50 GBP, rests-on: [s.bank]')}${part('wrong', 'cost: 999.00 EUR, rests-on: [s.bank]')}${part('label', 'cost: 10.00 USD, rests-on: [s.plate]')}decisions:
  - { decision: size, question: Which?, chose: this, because: so, rests-on: [s.usable, s.bank] }
opens:
  - { item: fit, what: Fit, size: 6 h, waits-on: [part tray, part charger, decision size], rests-on: [s.usable] }
  - { item: look, what: Look, size: 2 h, rests-on: [s.small] }`,
    'order',
  ),
  entry('2026-01-20', 'parts: [{ part: wrong, move: returned }]', 'back'),
];

describe('exposure', () => {
  const all = async (asOf = '2026-02-01', ...more: readonly Files[]) =>
    (await reckoned(asOf, ...STORY, ...more)).exposures;

  it('of a diamond counts everything once, by currency, without what went back', async () => {
    const bank = (await all()).find(({ spec }) => spec === 's.bank');
    expect(bank?.money).toEqual([
      { currency: 'EUR', amount: 340 },
      { currency: 'GBP', amount: 55.5 },
    ]);
    expect(bank?.hours).toBe(6);
    expect(bank?.dependents.map(({ sort, id }) => `${sort} ${id}`).sort()).toEqual([
      'decision size',
      'derived s.usable',
      'item fit',
      'part cable',
      'part charger',
      'part tray',
      'part wrong',
    ]);
    const way = (id: string) => bank?.dependents.find((one) => one.id === id)?.through;
    expect(way('tray')).toEqual(['s.bank', 'tray']);
    expect(way('charger')).toEqual(['s.bank', 's.usable', 'charger']);
  });

  it('lists first what most money rests on, then hours, then anything', async () => {
    expect((await all()).map(({ spec }) => spec)).toEqual(['s.bank', 's.plate', 's.small', 's.alone']);
  });

  it('compares money in the currency of the book first, however large the figures in others', async () => {
    const foreign = entry(
      '2026-01-03',
      `parts:\n${part('far', 'cost: 90000.00 USD, rests-on: [s.alone]')}`,
      'far',
    );
    expect((await all('2026-02-01', foreign)).map(({ spec }) => spec)).toEqual([
      's.bank',
      's.alone',
      's.plate',
      's.small',
    ]);
  });

  it.each(['returned', 'sold', 'scrapped'])('holds no money in what was %s', async (move) => {
    const gone = entry(
      '2026-01-25',
      `parts:\n  - { part: label, move: arrived }\n  - { part: label, move: ${move} }`,
      'gone',
    );
    expect((await all('2026-02-01', gone)).find(({ spec }) => spec === 's.plate')?.money).toEqual([]);
  });

  it('ends when the spec is verified, and comes back when that lapses', async () => {
    const read = entry('2026-01-30', 'measurements: [{ s.cap: 398 ± 4 Ah }]', 'read');
    expect((await all('2026-02-01', read)).some(({ spec }) => spec === 's.bank')).toBe(false);
    const later = (await all('2027-01-31', read)).find(({ spec }) => spec === 's.bank');
    expect(later).toMatchObject({ standing: 'lapsed', settledBy: 'measured' });
    expect(later?.next).toBe('Measure it again. Discharge it.');
  });

  it('says what would settle it, and that nothing will once it is contradicted', async () => {
    const settled = async (spec: string, ...more: readonly Files[]) =>
      (await all('2026-02-01', ...more)).find((one) => one.spec === spec);
    expect(await settled('s.bank')).toMatchObject({ settledBy: 'measured' });
    expect(await settled('s.plate')).toMatchObject({
      settledBy: 'marked',
      next: 'Read it off the item itself.',
    });
    const low = entry('2026-01-30', 'measurements: [{ s.cap: 318 ± 4 Ah }]', 'read');
    expect(await settled('s.bank', low)).toMatchObject({ standing: 'contradicted', settledBy: null });
    expect((await settled('s.bank', low))?.next).toContain('318 ± 4 Ah');
  });

  it('reaches through a point that nobody has read, and no further once somebody has', async () => {
    const onPoint = entry(
      '2026-01-02',
      `parts:\n${part('shelf', 'cost: 7.00 EUR, rests-on: [s.cap]')}`,
      'shelf',
    );
    const reaches = async (...more: readonly Files[]) =>
      (await all('2026-02-01', onPoint, ...more))
        .find(({ spec }) => spec === 's.bank')
        ?.dependents.some(({ id }) => id === 'shelf');
    expect(await reaches()).toBe(true);
    const low = entry('2026-01-30', 'measurements: [{ s.cap: 318 ± 4 Ah }]', 'read');
    expect(await reaches(low)).toBe(false);
  });

  it('counts the hours of what is done as well as of what is to do', async () => {
    const done = entry('2026-01-30', 'closes: [fit]', 'fitted');
    expect((await all('2026-02-01', done)).find(({ spec }) => spec === 's.bank')?.hours).toBe(6);
    expect(quantity('6 h').si / 3600).toBe(6);
  });
});
