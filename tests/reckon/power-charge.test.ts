import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Acceptance, acceptedAt, chargeDay, filledIn, fillTime } from '../../src/reckon/power/charge.js';

const AH = 3600;
const table = fc
  .uniqueArray(fc.integer({ min: 0, max: 100 }), { minLength: 0, maxLength: 5 })
  .chain((levels) =>
    fc
      .array(fc.integer({ min: 1, max: 120 }), { minLength: levels.length, maxLength: levels.length })
      .map((currents): [number, number][] =>
        [...levels].sort((a, b) => a - b).map((level, n) => [level / 100, currents[n] as number]),
      ),
  );
const store: fc.Arbitrary<Acceptance> = fc.record({
  capacity: fc.integer({ min: 20, max: 600 }).map((ah) => ah * AH),
  efficiency: fc.integer({ min: 60, max: 100 }).map((percent) => percent / 100),
  table,
});
const source = fc.integer({ min: 1, max: 150 });
const stretch = fc
  .tuple(fc.integer({ min: 0, max: 99 }), fc.integer({ min: 1, max: 100 }))
  .filter(([from, to]) => from < to)
  .map(([from, to]): [number, number] => [from / 100, to / 100]);

/** The time by adding up small steps, each at the current in its middle. */
function bySteps(of: Acceptance, from: number, to: number, amperes: number, steps: number): number {
  let seconds = 0;
  for (let n = 0; n < steps; n += 1) {
    const at = from + ((n + 0.5) * (to - from)) / steps;
    const current = Math.min(amperes, acceptedAt(of, at));
    seconds += ((of.capacity / of.efficiency) * (to - from)) / steps / current;
  }
  return seconds;
}

describe('filling a store', () => {
  it('takes the time that small steps add up to', () => {
    fc.assert(
      fc.property(store, stretch, source, (of, [from, to], amperes) => {
        const exact = fillTime(of, from, to, amperes);
        expect(bySteps(of, from, to, amperes, 20_000) / exact).toBeCloseTo(1, 3);
      }),
      { numRuns: 60 },
    );
  });

  it('is charge over current where the current stays the same', () => {
    const plain = { capacity: 100 * AH, efficiency: 1, table: [] };
    expect(fillTime(plain, 0.5, 0.8, 10) / 3600).toBeCloseTo(3, 12);
    expect(fillTime({ ...plain, efficiency: 0.75 }, 0.5, 0.8, 10) / 3600).toBeCloseTo(4, 12);
  });

  it('follows the logarithm where the current falls in a straight line', () => {
    // 100 Ah over a current that falls from 20 A to 10 A: 100 ln 2 / 10 h.
    const falling: Acceptance = {
      capacity: 100 * AH,
      efficiency: 1,
      table: [
        [0, 20],
        [1, 10],
      ],
    };
    expect(fillTime(falling, 0, 1, Number.POSITIVE_INFINITY) / 3600).toBeCloseTo(10 * Math.log(2), 12);
    // From a source of 15 A: half of it at 15 A, then 50 Ah while the current falls from 15 A to 10 A.
    expect(fillTime(falling, 0, 1, 15) / 3600).toBeCloseTo(50 / 15 + 10 * Math.log(1.5), 12);
  });

  it('never ends where the current falls to nothing, and gets close all the same', () => {
    const dying: Acceptance = {
      capacity: 100 * AH,
      efficiency: 1,
      table: [
        [0.8, 20],
        [1, 0],
      ],
    };
    expect(fillTime(dying, 0.5, 1, 50)).toBe(Number.POSITIVE_INFINITY);
    const reached = filledIn(dying, 0.8, 1, 50, 20 * 3600);
    expect(reached).toBeGreaterThan(0.999);
    expect(reached).toBeLessThan(1);
  });

  it('gets in part of the time to where the rest of the time begins', () => {
    fc.assert(
      fc.property(
        store,
        stretch,
        source,
        fc.double({ min: 0, max: 1, noNaN: true }),
        (of, [from, to], amperes, part) => {
          const whole = fillTime(of, from, to, amperes);
          const at = filledIn(of, from, to, amperes, whole * part);
          expect(fillTime(of, from, at, amperes) / whole).toBeCloseTo(part, 6);
        },
      ),
    );
  });

  it('accepts in between what lies in between, and beyond the ends what the ends do', () => {
    const of: Acceptance = {
      capacity: AH,
      efficiency: 1,
      table: [
        [0.5, 40],
        [0.9, 20],
      ],
    };
    const accepted = [0.1, 0.5, 0.7, 0.9, 1].map((at) => acceptedAt(of, at));
    expect(accepted.map((current) => current.toFixed(9))).toEqual(
      [40, 40, 30, 20, 20].map((a) => a.toFixed(9)),
    );
    expect(acceptedAt({ ...of, table: [] }, 0.5)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("a day's charging", () => {
  const slots = fc.array(
    fc.record({
      source: fc.integer({ min: 0, max: 2 }),
      seconds: fc.integer({ min: 0, max: 86_400 }),
      current: fc.integer({ min: 0, max: 120 }),
    }),
    { maxLength: 5 },
  );

  it('puts back what was used, or says what is left', () => {
    fc.assert(
      fc.property(store, slots, fc.integer({ min: 1, max: 900 }), (of, given, ah) => {
        const used = ah * AH;
        const day = chargeDay(of, used, 1, 0.4, given);
        const back = day.put.reduce((sum, put) => sum + put, 0);
        expect((back + day.short) / used).toBeCloseTo(1, 9);
        expect(day.short).toBeGreaterThanOrEqual(-1e-6 * used);
        // Either something is missing or there was time to spare, never both.
        expect(Math.min(day.short / used, day.spare / used)).toBeLessThan(1e-6);
        for (const [n, seconds] of day.seconds.entries()) {
          const allowed = given
            .filter((slot) => slot.source === n)
            .reduce((sum, slot) => sum + slot.seconds, 0);
          expect(seconds).toBeLessThanOrEqual(allowed * (1 + 1e-9));
        }
      }),
    );
  });

  it('uses sources in turn', () => {
    const plain = { capacity: 200 * AH, efficiency: 1, table: [] };
    const day = chargeDay(plain, 50 * AH, 1, 0.5, [
      { source: 0, seconds: 3600, current: 20 },
      { source: 1, seconds: 86_400, current: 10 },
    ]);
    expect(day.seconds.map((seconds) => Math.round(seconds))).toEqual([3600, 3 * 3600]);
    expect(day.put.map((coulombs) => Math.round(coulombs / AH))).toEqual([20, 30]);
    expect(day.short).toBeCloseTo(0, 6);
  });

  it('fills several times a day what is used several times a day', () => {
    const plain = { capacity: 100 * AH, efficiency: 1, table: [] };
    const day = chargeDay(plain, 150 * AH, 1, 0.5, [{ source: 0, seconds: 86_400, current: 30 }]);
    expect((day.seconds[0] ?? 0) / 3600).toBeCloseTo(5, 9);
    expect(day.short).toBeCloseTo(0, 6);
  });
});
