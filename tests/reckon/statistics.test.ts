import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  confidence,
  leastSquares,
  linesBefore,
  predict,
  reaches,
} from '../../src/reckon/statistics/least-squares.js';
import { exactUpperTail, mannKendall } from '../../src/reckon/statistics/mann-kendall.js';
import { selectRank } from '../../src/reckon/statistics/select.js';
import { meansOfRuns, type Series } from '../../src/reckon/statistics/series.js';
import { theilSen } from '../../src/reckon/statistics/theil-sen.js';

/** Whole numbers, so that sums and ties are exact. */
const series = (minLength: number, maxLength = 24): fc.Arbitrary<Series> =>
  fc
    .array(fc.tuple(fc.integer({ min: 1, max: 9 }), fc.integer({ min: -50, max: 50 })), {
      minLength,
      maxLength,
    })
    .map((steps) => {
      let at = 0;
      return { x: steps.map(([gap]) => (at += gap)), y: steps.map(([, y]) => y) };
    });

const shuffled = (minLength: number) =>
  series(minLength).chain((one) =>
    fc.shuffledSubarray([...one.x.keys()], { minLength: one.x.length }).map((order) => ({
      one,
      other: { x: order.map((i) => one.x[i] ?? 0), y: order.map((i) => one.y[i] ?? 0) },
    })),
  );

function line(of: Series) {
  const fitted = leastSquares(of);
  if (fitted === null) throw new Error('no line');
  return fitted;
}

function middle(of: Series) {
  const fitted = theilSen(of, mannKendall(of));
  if (fitted === null) throw new Error('no slope');
  return fitted;
}

/** A repeatable source of normal deviates. */
function normal(seed: number): () => number {
  let state = seed;
  const uniform = () => {
    state = (state * 1_664_525 + 1_013_904_223) % 2 ** 32;
    return (state + 0.5) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}

describe('least squares', () => {
  it('does not mind the order of the pairs', () => {
    fc.assert(
      fc.property(shuffled(3), ({ one, other }) => {
        const [a, b] = [line(one), line(other)];
        expect(b.slope).toBeCloseTo(a.slope, 8);
        expect(b.intercept).toBeCloseTo(a.intercept, 6);
        expect(b.s).toBeCloseTo(a.s, 6);
      }),
    );
  });

  it('moves with its pairs and grows with them', () => {
    const by = fc.integer({ min: -20_000, max: 20_000 });
    fc.assert(
      fc.property(series(4), by, fc.integer({ min: 1, max: 50 }), ({ x, y }, shift, factor) => {
        const a = predict(line({ x, y }), 12);
        const moved = predict(line({ x: x.map((at) => at + shift), y }), 12 + shift);
        const grown = predict(line({ x, y: y.map((value) => value * factor) }), 12);
        expect(moved.low).toBeCloseTo(a.low, 6);
        expect(moved.high).toBeCloseTo(a.high, 6);
        expect(grown.low).toBeCloseTo(a.low * factor, 6);
        expect(grown.high).toBeCloseTo(a.high * factor, 6);
      }),
    );
  });

  it('has no scatter on a straight line, and none is made up by rounding', () => {
    const x = [19_000, 19_031, 19_059, 19_090, 19_120];
    const { slope, s, seSlope } = line({ x, y: x.map((at) => 400 - 0.07 * at) });
    expect(slope).toBeCloseTo(-0.07, 12);
    expect(s).toBeLessThan(1e-9);
    expect(seSlope).toBeLessThan(1e-10);
  });

  it('has no line for two pairs, or for one moment', () => {
    expect(leastSquares({ x: [1, 2], y: [1, 2] })).toBeNull();
    expect(leastSquares({ x: [3, 3, 3, 3], y: [1, 2, 3, 4] })).toBeNull();
    expect(leastSquares({ x: [], y: [] })).toBeNull();
  });

  it('keeps the line inside the interval of a reading, and both widest away from the middle', () => {
    fc.assert(
      fc.property(series(4), fc.integer({ min: 0, max: 300 }), (of, x) => {
        const fitted = line(of);
        const [one, own] = [predict(fitted, x), confidence(fitted, x)];
        expect(one.low).toBeLessThanOrEqual(own.low);
        expect(own.low).toBeLessThanOrEqual(own.fit);
        expect(own.fit).toBeLessThanOrEqual(own.high);
        expect(own.high).toBeLessThanOrEqual(one.high);
        const far = confidence(fitted, fitted.meanX + 2 * (x - fitted.meanX));
        expect(far.high - far.low).toBeGreaterThanOrEqual(own.high - own.low - 1e-9);
      }),
    );
  });

  it('foretells one more reading 95 times in 100', () => {
    const next = normal(7);
    let inside = 0;
    for (let run = 0; run < 4000; run++) {
      const x = [0, 30, 61, 95, 120, 150, 190];
      const fitted = line({ x, y: x.map((at) => 5 - 0.01 * at + next()) });
      const { low, high } = predict(fitted, 250);
      const reading = 5 - 2.5 + next();
      if (low <= reading && reading <= high) inside++;
    }
    expect(inside / 4000).toBeGreaterThan(0.94);
    expect(inside / 4000).toBeLessThan(0.96);
  });

  it('of what came before is the line of what came before', () => {
    fc.assert(
      fc.property(series(1), ({ x, y }) => {
        const before = linesBefore({ x, y }, 4);
        expect(before).toHaveLength(x.length);
        for (const [i, found] of before.entries()) {
          const expected = i < 4 ? null : leastSquares({ x: x.slice(0, i), y: y.slice(0, i) });
          expect(found === null).toBe(expected === null);
          expect(found?.slope ?? 0).toBeCloseTo(expected?.slope ?? 0, 9);
          expect(found?.s ?? 0).toBeCloseTo(expected?.s ?? 0, 5);
        }
      }),
    );
  });

  it('does not take the same moment for what came before', () => {
    const before = linesBefore({ x: [1, 2, 3, 4, 4, 5], y: [1, 2, 3, 4, 9, 5] }, 4);
    expect(before.map((found) => found?.n ?? 0)).toEqual([0, 0, 0, 0, 0, 5]);
  });
});

describe('reaching a level', () => {
  it('is where the interval of the line holds the level', () => {
    fc.assert(
      fc.property(series(4), fc.integer({ min: -90, max: 90 }), (of, level) => {
        const fitted = line(of);
        fc.pre(fitted.s > 1e-6);
        const stretch = reaches(fitted, level);
        for (let x = fitted.meanX + 0.37; x < fitted.meanX + 500; x += 7.3) {
          const { low, high } = confidence(fitted, x);
          const inside = stretch !== null && x >= stretch.from && x <= stretch.to;
          const edge = [low - level, high - level, x - (stretch?.from ?? 0), x - (stretch?.to ?? 0)];
          if (edge.some((gap) => Math.abs(gap) < 1e-6)) continue;
          // Going away from the level, an interval may lose it and find it again: all of that is one stretch.
          const towards = (level - fitted.meanY) * fitted.slope > 0;
          const holds = low < level && level < high;
          expect(towards ? holds === inside : inside || !holds, `${x}`).toBe(true);
        }
      }),
    );
  });

  it('of a line without scatter is one moment', () => {
    const x = [0, 1, 2, 3];
    expect(reaches(line({ x, y: [10, 9, 8, 7] }), 2)).toEqual({ from: 8, to: 8 });
    expect(reaches(line({ x, y: [10, 9, 8, 7] }), 12)).toBeNull();
    expect(reaches(line({ x, y: [5, 5, 5, 5] }), 2)).toBeNull();
  });

  it('holds the true moment 95 times in 100', () => {
    const next = normal(3);
    let inside = 0;
    for (let run = 0; run < 4000; run++) {
      const x = Array.from({ length: 12 }, (_, i) => i);
      const stretch = reaches(line({ x, y: x.map((at) => 100 - at + next()) }), 80);
      if (stretch !== null && stretch.from <= 20 && stretch.to >= 20) inside++;
    }
    expect(inside / 4000).toBeGreaterThan(0.94);
    expect(inside / 4000).toBeLessThan(0.96);
  });
});

describe('Mann and Kendall', () => {
  it('does not mind the order, nor what keeps the order of values', () => {
    fc.assert(
      fc.property(shuffled(2), ({ one, other }) => {
        const expected = mannKendall(one);
        expect(mannKendall(other)).toEqual(expected);
        expect(
          mannKendall({ x: one.x.map((x) => 2 * x + 9), y: one.y.map((y) => Math.exp(y / 20)) }),
        ).toEqual(expected);
      }),
    );
  });

  it('turned upside down or backwards is turned', () => {
    fc.assert(
      fc.property(series(2), ({ x, y }) => {
        const one = mannKendall({ x, y });
        for (const other of [
          mannKendall({ x, y: y.map((v) => -v) }),
          mannKendall({ x: x.map((v) => -v), y }),
        ]) {
          expect(other.s + one.s).toBe(0);
          expect(other.variance).toBe(one.variance);
          expect(other.twoSided).toBeCloseTo(one.twoSided, 14);
          expect(other.rising).toBeCloseTo(one.falling, 14);
        }
      }),
    );
  });

  it('has an exact distribution that comes to one, with the variance of the formula', () => {
    for (let n = 2; n <= 12; n++) {
      const most = (n * (n - 1)) / 2;
      let total = 0;
      let variance = 0;
      for (let s = -most; s <= most; s += 2) {
        const p = exactUpperTail(n, s) - exactUpperTail(n, s + 2);
        expect(p).toBeGreaterThan(0);
        total += p;
        variance += p * s * s;
      }
      expect(total).toBeCloseTo(1, 12);
      expect(variance).toBeCloseTo((n * (n - 1) * (2 * n + 5)) / 18, 8);
    }
  });

  it('is exact up to ten pairs without ties, and normal otherwise', () => {
    const rising = (n: number) => ({ x: [...Array(n).keys()], y: [...Array(n).keys()] });
    expect(mannKendall(rising(4))).toMatchObject({ s: 6, method: 'exact', tau: 1 });
    expect(mannKendall(rising(4)).rising).toBeCloseTo(1 / 24, 14);
    expect(mannKendall(rising(4)).twoSided).toBeCloseTo(1 / 12, 14);
    expect(mannKendall(rising(10)).method).toBe('exact');
    expect(mannKendall(rising(11)).method).toBe('normal');
    expect(mannKendall({ x: [1, 2, 3, 4], y: [1, 2, 2, 3] }).method).toBe('normal');
    // The normal tail at the seam is near the exact one.
    expect(mannKendall({ x: rising(11).x, y: [3, 1, 2, 5, 4, 7, 6, 9, 8, 11, 10] }).rising).toBeLessThan(
      0.001,
    );
  });

  it('of values that are all the same finds nothing', () => {
    expect(mannKendall({ x: [1, 2, 3, 4, 5], y: [2, 2, 2, 2, 2] })).toMatchObject({
      s: 0,
      variance: 0,
      z: 0,
      twoSided: 1,
    });
  });

  it('claims a trend where there is none one time in twenty at most', () => {
    for (const n of [5, 8, 10, 15]) {
      const next = normal(n);
      const x = Array.from({ length: n }, (_, i) => i);
      let claimed = 0;
      for (let run = 0; run < 3000; run++) if (mannKendall({ x, y: x.map(next) }).twoSided <= 0.05) claimed++;
      expect(claimed / 3000, `${n}`).toBeLessThan(0.06);
    }
  });
});

describe('Theil and Sen', () => {
  it('does not mind the order', () => {
    fc.assert(
      fc.property(shuffled(2), ({ one, other }) => {
        expect(middle(other)).toEqual(middle(one));
      }),
    );
  });

  it('moves with its pairs and grows with them', () => {
    fc.assert(
      fc.property(series(3), fc.integer({ min: 1, max: 64 }), ({ x, y }, by) => {
        const { slope, low, high } = middle({ x, y });
        const moved = middle({ x: x.map((at) => at + by), y: y.map((value) => value - by) });
        expect(moved).toMatchObject({ slope, low, high });
        const grown = middle({ x, y: y.map((value) => value * by) });
        expect(grown.slope).toBeCloseTo(slope * by, 9);
        expect(grown.low ?? 0).toBeCloseTo((low ?? 0) * by, 9);
        const turned = middle({ x, y: y.map((value) => -value) });
        expect(turned.low ?? 0).toBeCloseTo(-(high ?? 0), 9);
        expect(turned.high ?? 0).toBeCloseTo(-(low ?? 0), 9);
      }),
    );
  });

  it('has its slope inside its interval', () => {
    fc.assert(
      fc.property(series(3), (of) => {
        const { slope, low, high } = middle(of);
        expect(low ?? slope).toBeLessThanOrEqual(slope);
        expect(high ?? slope).toBeGreaterThanOrEqual(slope);
      }),
    );
  });

  it('has an interval without nought just where the exact test finds a trend', () => {
    const next = normal(11);
    let found = 0;
    for (let run = 0; run < 2000; run++) {
      const x = Array.from({ length: 5 + (run % 6) }, (_, i) => i);
      const of = { x, y: x.map((at) => at / 3 + next()) };
      const trend = mannKendall(of).twoSided <= 0.05;
      const { low, high } = middle(of);
      expect((low ?? -1) > 0 || (high ?? 1) < 0, JSON.stringify(of)).toBe(trend);
      if (trend) found++;
    }
    expect(found).toBeGreaterThan(200);
    expect(found).toBeLessThan(1800);
  });

  it('is not turned by a wild reading', () => {
    const x = [0, 1, 2, 3, 4, 5, 6, 7, 8];
    const y = x.map((at) => 50 - 2 * at);
    expect(middle({ x, y: y.with(8, 500) }).slope).toBeCloseTo(-2, 12);
    expect(line({ x, y: y.with(8, 500) }).slope).toBeGreaterThan(0);
  });

  it('has no bounds from four readings', () => {
    expect(middle({ x: [1, 2, 3, 4], y: [4, 3, 2, 1] })).toEqual({
      slope: -1,
      low: null,
      high: null,
      intercept: 5,
    });
    expect(theilSen({ x: [2, 2], y: [1, 3] }, mannKendall({ x: [2, 2], y: [1, 3] }))).toBeNull();
  });
});

describe('pieces', () => {
  it('selecting a rank is sorting', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 1 }), fc.nat(), (values, any) => {
        const rank = any % values.length;
        expect(selectRank(Float64Array.from(values), rank)).toBe([...values].sort((a, b) => a - b)[rank]);
      }),
    );
  });

  it('means of runs keep the mean of whole runs', () => {
    expect(meansOfRuns({ x: [1, 2, 3, 4, 5], y: [2, 4, 6, 8, 20] }, 2)).toEqual({
      x: [1.5, 3.5, 5],
      y: [3, 7, 20],
    });
    expect(meansOfRuns({ x: [1, 2], y: [3, 4] }, 1)).toEqual({ x: [1, 2], y: [3, 4] });
  });
});
