import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Draw, isFeasible, type Limits, largestSets } from '../../src/reckon/power/sets.js';

const draw = fc.record({
  watts: fc.integer({ min: 0, max: 300 }),
  voltAmperes: fc.integer({ min: 0, max: 400 }),
  extraWatts: fc.oneof(fc.constant(0), fc.integer({ min: 0, max: 600 })),
});
const limit = fc.oneof(fc.constant(Number.POSITIVE_INFINITY), fc.integer({ min: 0, max: 1800 }));
const limits: fc.Arbitrary<Limits> = fc.record({ watts: limit, voltAmperes: limit, startWatts: limit });

/** Whether a set can run, said again in the plainest way: every start on top of all others, one by one. */
function runs(set: readonly Draw[], { watts, voltAmperes, startWatts }: Limits): boolean {
  let w = 0;
  let va = 0;
  for (const one of set) {
    w += one.watts;
    va += one.voltAmperes;
  }
  return (
    w <= watts &&
    va <= voltAmperes &&
    w <= startWatts &&
    set.every((last) => w - last.watts + (last.watts + last.extraWatts) <= startWatts)
  );
}

/** All sets that can run and to which nothing can be added, by trying every one. */
function bruteForce(draws: readonly Draw[], given: Limits): string[] {
  const sets: string[] = [];
  const pick = (mask: number) => draws.filter((_, bit) => (mask & (1 << bit)) !== 0);
  for (let mask = 0; mask < 2 ** draws.length; mask += 1) {
    if (!runs(pick(mask), given)) continue;
    const grows = draws.some((_, bit) => (mask & (1 << bit)) === 0 && runs(pick(mask | (1 << bit)), given));
    if (!grows) sets.push(draws.flatMap((_, bit) => ((mask & (1 << bit)) === 0 ? [] : [bit])).join());
  }
  return sets.sort();
}

describe('the largest sets of loads that run together', () => {
  it('are those that trying every set finds', () => {
    fc.assert(
      fc.property(fc.array(draw, { maxLength: 12 }), limits, (draws, given) => {
        const found = largestSets(draws, given, 5000);
        expect(found.sets.map((set) => set.join()).sort()).toEqual(bruteForce(draws, given));
        expect(found.count).toBe(found.sets.length);
      }),
      { numRuns: 300 },
    );
  });

  it('are feasible, and no set that holds one of them is', () => {
    fc.assert(
      fc.property(fc.array(draw, { minLength: 1, maxLength: 18 }), limits, (draws, given) => {
        for (const set of largestSets(draws, given, 20).sets) {
          const inside = set.map((index) => draws[index] as Draw);
          expect(isFeasible(inside, given)).toBe(true);
          for (const [index, other] of draws.entries())
            if (!set.includes(index)) expect(isFeasible([...inside, other], given)).toBe(false);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('come with most loads first, then most watts, and are all counted when only some are listed', () => {
    const draws = [500, 400, 300, 200, 100].map((watts) => ({ watts, voltAmperes: watts, extraWatts: 0 }));
    const given = { watts: 600, voltAmperes: Number.POSITIVE_INFINITY, startWatts: Number.POSITIVE_INFINITY };
    expect(largestSets(draws, given, 10)).toEqual({
      count: 4,
      sets: [
        [2, 3, 4],
        [0, 4],
        [1, 3],
        [1, 4],
      ],
    });
    expect(largestSets(draws, given, 1)).toEqual({ count: 4, sets: [[2, 3, 4]] });
  });

  it('are stopped by volt-amperes and by a start where the watts would do', () => {
    const pump = { watts: 400, voltAmperes: 800, extraWatts: 900 };
    const lamp = { watts: 100, voltAmperes: 100, extraWatts: 0 };
    const wide = { watts: 1000, voltAmperes: 1000, startWatts: 1500 };
    expect(largestSets([pump, lamp], wide, 9).sets).toEqual([[0, 1]]);
    expect(largestSets([pump, lamp], { ...wide, voltAmperes: 850 }, 9).sets).toEqual([[0], [1]]);
    expect(largestSets([pump, lamp], { ...wide, startWatts: 1399 }, 9).sets).toEqual([[0], [1]]);
  });

  it('leaves out what cannot run by itself, and finds the empty set where nothing can', () => {
    const big = { watts: 900, voltAmperes: 900, extraWatts: 0 };
    const given = { watts: 500, voltAmperes: 500, startWatts: 500 };
    expect(largestSets([big], given, 9)).toEqual({ count: 1, sets: [[]] });
  });

  it('are exact on the limit, whatever the last bits say', () => {
    const tenth = { watts: 0.1, voltAmperes: 0.1, extraWatts: 0 };
    const given = { watts: 0.3, voltAmperes: 0.3, startWatts: 0.3 };
    expect(largestSets([tenth, tenth, tenth], given, 9).sets).toEqual([[0, 1, 2]]);
  });

  it('of 24 like loads, of which 12 fit, are all counted', () => {
    const draws = Array.from({ length: 24 }, () => ({ watts: 100, voltAmperes: 100, extraWatts: 0 }));
    const found = largestSets(draws, { watts: 1200, voltAmperes: 1e9, startWatts: 1e9 }, 50);
    expect(found.count).toBe(2_704_156); // 24! / (12! 12!)
    expect(found.sets).toHaveLength(50);
  });

  it('refuses more loads than it can go through', () => {
    const draws = Array.from({ length: 25 }, () => ({ watts: 1, voltAmperes: 1, extraWatts: 0 }));
    expect(() => largestSets(draws, { watts: 1, voltAmperes: 1, startWatts: 1 }, 1)).toThrow(RangeError);
  });
});
