import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { WeightsPlanFile } from '../../schemas/weights-plan.js';
import type { PartMove, Position } from '../../src/check/model.js';
import { bookAsOf } from '../../src/reckon/as-of.js';
import { partLedger, totalsOf } from '../../src/reckon/weights/ledger.js';
import type { Effect, WeightsReckoning } from '../../src/reckon/weights/model.js';
import { reckonWeights } from '../../src/reckon/weights/weights.js';
import { entry, reckoned, system } from './book.js';
import { half, move, planned, si, type Told, weightsPlan } from './plan-book.js';

const AFTER = '2024-07-01';
const TODAY = '2026-01-01';

function weigh(weights: WeightsPlanFile, moves: readonly PartMove[] = [], asOf = TODAY): WeightsReckoning {
  const { book, values } = planned({ weights }, {}, moves);
  const found = reckonWeights(book, values, asOf);
  if (found === null) throw new Error('there is a plan');
  return found;
}

function given(effect: Effect) {
  if (effect.status !== 'given') throw new Error(effect.reasons.join(' '));
  return effect;
}

/** The numbers of a reckoning that matter, in SI. */
function numbers(found: WeightsReckoning): readonly number[] {
  const { massChange, moments, displacement, centre, effect } = found;
  const all = [massChange, moments.forward, moments.starboard, moments.up, displacement, centre.forward];
  const floating = given(effect);
  return [
    ...all,
    centre.starboard,
    centre.up,
    floating.sinkage,
    floating.trimChange,
    floating.draughtFwd,
    floating.draughtAft,
    floating.heel,
    floating.gm,
  ].map(si);
}

function expectSame(a: readonly number[], b: readonly number[]): void {
  for (const [n, value] of a.entries()) expect(value).toBeCloseTo(b[n] ?? Number.NaN, 9);
}

const metres = fc.integer({ min: -300, max: 1200 }).map((cm) => cm / 100);
const place: fc.Arbitrary<Position> = fc.tuple(metres, metres, metres);
const kilos = fc.integer({ min: 1, max: 60 });
const atOf = ([x, y, z]: Position): [string, string, string] => [`${x} m`, `${y} m`, `${z} m`];
const wide = { valid: { 'mass-change': '90 %', heel: '80 °' }, gm: '3 m' };

describe('a change of weights', () => {
  it('sinks, trims and heels as the hydrostatics say', () => {
    // 200 kg, 2 m forward of the centre of flotation, 1 m to starboard, 2.5 m up.
    const found = weigh(weightsPlan({ gear: { mass: '200 kg', at: ['7 m', '1 m', '2.5 m'], since: AFTER } }));
    const floating = given(found.effect);
    expect(si(floating.sinkage)).toBeCloseTo(0.01, 12); // 0.2 t over 0.2 t/cm
    expect(si(floating.trimChange)).toBeCloseTo(-0.04, 12); // 0.4 t m over 0.1 t m/cm, by the head
    expect(si(floating.draughtFwd)).toBeCloseTo(1.2 + 0.01 + 0.02, 12);
    expect(si(floating.draughtAft)).toBeCloseTo(1.5 + 0.01 - 0.02, 12);
    expect(si(floating.trim)).toBeCloseTo(0.3 - 0.04, 12);
    const kg = (10 * 1.5 + 0.2 * 2.5) / 10.2;
    expect(si(found.centre.up)).toBeCloseTo(kg, 12);
    expect(si(floating.gm)).toBeCloseTo(0.8 + 1.5 - kg, 12);
    expect(si(floating.heel)).toBeCloseTo(Math.atan(0.2 / (10.2 * (2.3 - kg))), 12);
    expect(si(found.displacement)).toBeCloseTo(10_200, 9);
    expect(si(found.centre.starboard)).toBeCloseTo(0.2 / 10.2, 12);
    expect(si(found.centre.forward)).toBeCloseTo((10 * 5 + 0.2 * 7) / 10.2, 12);
  });

  it('shares the trim by the distances of the marks from the centre of flotation', () => {
    const floating = given(
      weigh(
        weightsPlan(
          { gear: { mass: '100 kg', at: ['8 m', '0 m', '0 m'], since: AFTER } },
          { lcf: '4 m', 'aft-mark': '1 m', length: '10 m' },
        ),
      ).effect,
    );
    // 0.4 t m is 4 cm by the head; the aft mark is 3 m abaft the centre of flotation, the forward one 7 m ahead.
    expect(si(floating.draughtAftChange)).toBeCloseTo(0.005 - 0.04 * 0.3, 12);
    expect(si(floating.draughtFwdChange)).toBeCloseTo(0.005 + 0.04 * 0.7, 12);
  });

  it('is nothing where a weight is moved by nothing', () => {
    fc.assert(
      fc.property(kilos, place, fc.array(fc.tuple(kilos, place), { maxLength: 4 }), (mass, at, others) => {
        const rest = others.map(([kg, where], n) =>
          move({ part: `other-${n}`, move: 'fitted', date: AFTER, mass: `${kg} kg`, at: where }),
        );
        const still: Told = { part: 'anchor', move: 'moved', date: AFTER, mass: `${mass} kg`, from: at, at };
        const plan = weightsPlan({}, wide);
        expectSame(numbers(weigh(plan, [...rest, move(still)])), numbers(weigh(plan, rest)));
      }),
    );
  });

  it('does not depend on the order of the ledger', () => {
    const lines = fc.array(fc.tuple(kilos, place), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(
        lines.chain((all) =>
          fc.tuple(fc.constant(all), fc.shuffledSubarray([...all.keys()], { minLength: all.length })),
        ),
        ([all, order]) => {
          const moves = all.map(([kg, at], n) =>
            move({ part: `part-${n}`, move: 'fitted', date: AFTER, mass: `${kg} kg`, at }),
          );
          const shuffled = order.map((n) => moves[n] as PartMove);
          expectSame(
            numbers(weigh(weightsPlan({}, wide), shuffled)),
            numbers(weigh(weightsPlan({}, wide), moves)),
          );
          const [a, b] = [partLedger(moves), partLedger(shuffled)].map(({ entries }) => totalsOf(entries));
          expect(a?.forward.si).toBeCloseTo(b?.forward.si ?? Number.NaN, 9);
        },
      ),
    );
  });

  it('is undone when what was fitted is removed, and what was moved is moved back', () => {
    fc.assert(
      fc.property(kilos, place, place, (kg, at, to) => {
        const fitted = {
          part: 'windlass',
          move: 'fitted',
          date: '2024-07-01',
          mass: `${kg} kg`,
          at,
        } as const;
        const there: Told = { part: 'windlass', move: 'moved', date: '2024-07-02', at: to };
        const back: Told = { part: 'windlass', move: 'moved', date: '2024-07-03', at };
        const off: Told = { part: 'windlass', move: 'removed', date: '2024-07-04' };
        const none = numbers(weigh(weightsPlan({}, wide)));
        const of = (...moves: Told[]) => numbers(weigh(weightsPlan({}, wide), moves.map(move)));
        expectSame(of(fitted, off), none);
        expectSame(of(fitted, there, back), of(fitted));
        expectSame(of(fitted, there, off), none);
      }),
    );
  });

  it('has no uncertainty left when it is undone, since it is the same mass', () => {
    const moves = [
      move({ part: 'mast', move: 'fitted', date: '2024-07-01', mass: '90 ± 5 kg', at: [6, 0, 5] }),
      move({ part: 'mast', move: 'removed', date: '2024-07-02' }),
    ];
    expect(half(weigh(weightsPlan({}), moves).massChange)).toBe(0);
    expect(half(weigh(weightsPlan({}), moves).moments.forward)).toBe(0);
    expect(half(weigh(weightsPlan({}), moves.slice(0, 1)).massChange)).toBe(5);
  });

  it('goes with the mass: twice the weight, twice the sinkage and trim; two changes add up', () => {
    const one = fc.tuple(kilos, place);
    fc.assert(
      fc.property(one, one, ([m1, p1], [m2, p2]) => {
        const of = (...all: (readonly [number, Position])[]) => {
          const weights = all.map(([kg, at], n) => [
            `w-${n}`,
            { mass: `${kg} kg`, at: atOf(at), since: AFTER },
          ]);
          return given(
            weigh(weightsPlan(Object.fromEntries(weights) as WeightsPlanFile['weights'], wide)).effect,
          );
        };
        const [first, second, both, twice] = [
          of([m1, p1]),
          of([m2, p2]),
          of([m1, p1], [m2, p2]),
          of([2 * m1, p1]),
        ];
        for (const key of ['sinkage', 'trimChange', 'draughtFwdChange', 'draughtAftChange'] as const) {
          expect(si(both[key])).toBeCloseTo(si(first[key]) + si(second[key]), 9);
          expect(si(twice[key])).toBeCloseTo(2 * si(first[key]), 9);
        }
      }),
    );
  });
});

describe('what counts', () => {
  const gear = { mass: '100 kg', at: ['5 m', '0 m', '1 m'] as [string, string, string] };

  it('is only what has changed since the boat floated so', () => {
    const of = (since: string | undefined) =>
      si(weigh(weightsPlan({ gear: { ...gear, ...(since === undefined ? {} : { since }) } })).massChange);
    expect(of(undefined)).toBe(0);
    expect(of('2024-05-31')).toBe(0);
    expect(of('2024-06-01')).toBe(0);
    expect(of('2024-06-02')).toBe(100);
    const found = weigh(weightsPlan({ gear }));
    expect(found.lines.map(({ id, counts }) => [id, counts])).toEqual([['gear', false]]);
  });

  it('is nothing of a later day', () => {
    const later = weightsPlan({ gear: { ...gear, since: '2026-02-01' } });
    expect(weigh(later, [], '2026-01-31').lines).toEqual([]);
    expect(si(weigh(later, [], '2026-02-01').massChange)).toBe(100);
  });

  it('as of a day uses only the entries up to that day', () => {
    const days = ['2024-07-01', '2024-08-01', '2024-09-01', '2024-10-01'];
    const moves = days.map((date, n) =>
      move({ part: `part-${n}`, move: 'fitted', date, mass: `${10 * (n + 1)} kg`, at: [n, 0, 1] }),
    );
    const { book, values } = planned({ weights: weightsPlan({}, wide) }, {}, moves);
    for (const [n, day] of days.entries()) {
      const then = reckonWeights(bookAsOf(book, day), values, day);
      expect(then).toEqual(weigh(weightsPlan({}, wide), moves.slice(0, n + 1), day));
      expect(si(then?.massChange ?? null)).toBe((10 * (n + 1) * (n + 2)) / 2);
    }
  });

  it('says what was moved without being weighed', () => {
    const found = weigh(weightsPlan({}), [
      move({ part: 'rail', move: 'fitted', date: '2024-05-01' }),
      move({ part: 'pump', move: 'fitted', date: AFTER, mass: '4 kg' }),
      move({ part: 'hose', move: 'fitted', date: AFTER }),
      move({ part: 'stove', move: 'removed', date: AFTER, from: [3, 1, 1] }),
      move({ part: 'tank', move: 'ordered', date: AFTER }),
    ]);
    expect(found.notWeighed.map(({ part, missing }) => [part, missing])).toEqual([
      ['pump', ['position']],
      ['hose', ['mass', 'position']],
      ['stove', ['mass']],
    ]);
    expect(found.remarks[0]).toContain('3 moves of parts are left out');
    expect(si(found.massChange)).toBe(0);
  });

  it('takes mass and place from earlier moves of the part', () => {
    const of = (...moves: Told[]) => weigh(weightsPlan({}), moves.map(move));
    const ordered: Told = { part: 'bank', move: 'ordered', date: '2024-06-02', mass: '118 kg' };
    const fitted: Told = { part: 'bank', move: 'fitted', date: AFTER, at: [2, -1, 0] };
    expect(si(of(ordered, fitted).massChange)).toBe(118);
    // Fitted before she floated so: taken off afterwards it is a change.
    const before: Told = { ...fitted, date: '2024-05-01', mass: '118 kg' };
    const off: Told = { part: 'bank', move: 'removed', date: '2024-08-01' };
    expect(si(of(before, off).massChange)).toBe(-118);
    expect(si(of(before, off).moments.forward)).toBe(-236);
    // Scrapped from where it stood it goes ashore; scrapped when already off it changes nothing.
    const scrapped: Told = { part: 'bank', move: 'scrapped', date: '2024-09-01' };
    expect(si(of(before, scrapped).massChange)).toBe(-118);
    expect(si(of(before, off, scrapped).massChange)).toBe(-118);
  });

  it('takes part of a part where a mass is stated', () => {
    const of = (...moves: Told[]) => weigh(weightsPlan({}), moves.map(move));
    const fitted: Told = { part: 'chain', move: 'fitted', date: AFTER, mass: '60 kg', at: [9, 0, 1] };
    const some: Told = { part: 'chain', move: 'moved', date: '2024-08-01', mass: '20 kg', at: [4, 0, 1] };
    const rest: Told = { part: 'chain', move: 'removed', date: '2024-09-01' };
    expect(si(of(fitted, some).massChange)).toBe(60);
    expect(si(of(fitted, some).moments.forward)).toBeCloseTo(40 * 9 + 20 * 4, 9);
    expect(si(of(fitted, some, rest).massChange)).toBeCloseTo(0, 9);
    expect(si(of(fitted, some, rest).moments.forward)).toBeCloseTo(0, 9);
  });
});

describe('limits', () => {
  const heavy = (mass: string, water: Parameters<typeof weightsPlan>[1] = {}) =>
    weigh(weightsPlan({ gear: { mass, at: ['5 m', '0 m', '1 m'], since: AFTER } }, water)).effect;

  it('of the change of mass hold, on either side', () => {
    const valid = { valid: { 'mass-change': '10 %' } };
    expect(heavy('1000 kg', valid).status).toBe('given');
    expect(heavy('-1000 kg', valid).status).toBe('given');
    const outside = heavy('1001 kg', valid);
    expect(outside).toEqual({
      status: 'outside-limits',
      reasons: ['The change of displacement is more than 10 %, for which the hydrostatics hold.'],
    });
    expect(heavy('-1001 kg', valid).status).toBe('outside-limits');
    // No number where it may be outside.
    const doubt = heavy('980 ± 30 kg', valid);
    expect(doubt.status === 'outside-limits' && doubt.reasons[0]).toContain('may be more than 10 %');
  });

  it('of the change of trim and of heel hold', () => {
    const at = (x: string, y: string, water: Parameters<typeof weightsPlan>[1]) =>
      weigh(weightsPlan({ gear: { mass: '100 kg', at: [x, y, '1 m'], since: AFTER } }, water)).effect;
    const trim = { valid: { 'mass-change': '50 %', 'trim-change': '2 cm' } };
    expect(at('7 m', '0 m', trim).status).toBe('given');
    expect(at('7.1 m', '0 m', trim).status).toBe('outside-limits');
    expect(at('2.9 m', '0 m', trim).status).toBe('outside-limits');
    const heel = { valid: { 'mass-change': '50 %', heel: '1 °' } };
    expect(at('5 m', '1 m', heel).status).toBe('given');
    expect(at('5 m', '2 m', heel).status).toBe('outside-limits');
    expect(at('5 m', '-2 m', heel).status).toBe('outside-limits');
  });

  it('of heel are 10° where the plan states none', () => {
    const of = (mass: string) =>
      weigh(weightsPlan({ gear: { mass, at: ['5 m', '2 m', '1 m'], since: AFTER } })).effect;
    // tan 10° is 0.176.
    expect(of('700 kg').status).toBe('given');
    expect(of('900 kg').status).toBe('outside-limits');
  });

  it('hold where no stability is left', () => {
    const found = weigh(
      weightsPlan({ tower: { mass: '900 kg', at: ['5 m', '0 m', '12 m'], since: AFTER } }, { gm: '0.5 m' }),
    );
    expect(found.effect.status === 'outside-limits' && found.effect.reasons[0]).toContain(
      'no metacentric height is left',
    );
    // What is only added up is still given.
    expect(si(found.displacement)).toBeCloseTo(10_900, 6);
  });
});

describe('what is not on record', () => {
  const gear = {
    gear: { mass: '100 kg', at: ['5 m', '1 m', '1 m'] as [string, string, string], since: AFTER },
  };
  const without = (...fields: ('gm' | 'kg' | 'lcg')[]): WeightsPlanFile => {
    const hydrostatics = { ...weightsPlan().hydrostatics } as Record<string, unknown>;
    for (const field of fields) delete hydrostatics[field];
    return { ...weightsPlan(gear), hydrostatics } as WeightsPlanFile;
  };

  it('GM: no heel is given, and it is said so', () => {
    const found = weigh(without('gm'));
    expect(given(found.effect).heel).toBeNull();
    expect(found.remarks).toContain('No GM is on record, so no heel is given.');
  });

  it('KG: GM stays as it was, and it is said so', () => {
    const found = weigh(without('kg'));
    expect(si(given(found.effect).gm)).toBe(0.8);
    expect(found.centre.up).toBeNull();
    expect(found.remarks.join()).toContain('GM is taken as it was');
  });

  it('hydrostatics: the ledger alone is given', () => {
    const found = weigh({ origin: 'aft mark', weights: gear });
    expect(found.effect.status).toBe('no-hydrostatics');
    expect(found.displacement).toBeNull();
    expect(si(found.massChange)).toBe(100);
  });

  it('hydrostatics of a later day: nothing is reckoned from them', () => {
    const found = weigh(weightsPlan(gear), [], '2024-05-01');
    expect(found.effect.status === 'no-hydrostatics' && found.effect.reasons[0]).toContain('2024-06-01');
    expect(found.displacement).toBeNull();
  });

  it('a plan at all: there is nothing to reckon', () => {
    const { book, values } = planned({});
    expect(reckonWeights(book, values, TODAY)).toBeNull();
  });
});

describe('weights through the checker', () => {
  it('come from parts and from the plan, with what they rest on', async () => {
    const plan = `origin: aft mark
hydrostatics:
  on: 2024-06-01
  length: 10 m
  displacement: 10.0 ± 0.1 t
  draught-fwd: 1.20 m
  draught-aft: 1.50 m
  tpc: 0.2 t/cm
  mctc: 0.1 t m/cm
  lcf: 5 m
  valid: { mass-change: 10 % }
  rests-on: [s.displacement]
weights:
  tools: { mass: 58 kg, at: [0.8 m, -0.5 m, 1.2 m], since: 2024-07-01, rests-on: [s.tools] }
`;
    const specs = `specs:
  displacement: { value: 10 t, basis: told, within: 5 % }
  tools: { value: steel, basis: told, needs: marked }`;
    const reckoning = await reckoned(
      '2024-12-31',
      system('s', specs),
      entry('2024-08-01', 'parts:\n  - { part: stove, move: fitted, mass: 22 kg, at: [4 m, 1 m, 1.2 m] }'),
      entry('2025-08-01', 'parts:\n  - { part: sink, move: fitted, mass: 9 kg, at: [4 m, 1 m, 1.2 m] }'),
      { 'plans/weights.yaml': plan },
    );
    const found = reckonWeights(reckoning.book, reckoning.values, reckoning.asOf);
    expect(found?.lines.map(({ id, entry: from }) => [id, from])).toEqual([
      ['tools', null],
      ['stove', '2024-08-01-work'],
    ]);
    expect(si(found?.massChange ?? null)).toBe(80);
    expect(half(found?.floated?.displacement ?? null)).toBeCloseTo(100, 9);
    expect(found?.restsOn).toEqual([
      { ref: 's.displacement', standing: 'unverified' },
      { ref: 's.tools', standing: 'unverified' },
    ]);
  });
});
