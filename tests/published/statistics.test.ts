import { readFileSync } from 'node:fs';
import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import studentCdf from '@stdlib/stats-base-dists-t-cdf';
import studentQuantile from '@stdlib/stats-base-dists-t-quantile';
import fc from 'fast-check';
import { TheilSenRegression } from 'ml-regression-theil-sen';
import * as simple from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { dayNumber } from '../../src/reckon/calendar.js';
import { quantile } from '../../src/reckon/quantile.js';
import { leastSquares, predict } from '../../src/reckon/statistics/least-squares.js';
import { exactUpperTail, mannKendall } from '../../src/reckon/statistics/mann-kendall.js';
import type { Series } from '../../src/reckon/statistics/series.js';
import { NORMAL_975, theilSen } from '../../src/reckon/statistics/theil-sen.js';

/**
 * Statistics against values that others have published, and against libraries. Each case says where its values are
 * from and whether they were seen there or are from memory.
 */

function text(file: string): string {
  return readFileSync(new URL(`data/${file}`, import.meta.url), 'utf8').trim();
}

function rows(file: string): string[][] {
  const lines = text(file).split(/\r?\n/).slice(1);
  return lines.map((line) => line.split(',').map((cell) => cell.replaceAll('"', '').trim()));
}

function line(series: Series) {
  const fitted = leastSquares(series);
  if (fitted === null) throw new Error('no line');
  return fitted;
}

function relative(actual: number, expected: number): number {
  return Math.abs(actual / expected - 1);
}

describe('trend of the sulphate of EPA example 17-6', () => {
  // US EPA, Statistical Analysis of Groundwater Monitoring Data at RCRA Facilities: Unified Guidance,
  // EPA 530/R-09-007 (March 2009), example 17-6, p. 17-33, as reproduced by kendallTrendTest of the R package
  // EnvStats. Seen. Its tau is S by the number of pairs (tau-a), and its interval interpolates Gilbert's ranks.
  const data = rows('epa-ug-17-6-sulfate.csv');
  const series = { x: data.map((row) => Number(row[3])), y: data.map((row) => Number(row[5])) };
  const test = mannKendall(series);
  const middle = theilSen(series, test);

  it('has the S, variance, Z and p that are published', () => {
    expect(test).toMatchObject({ n: 23, s: 194, method: 'normal' });
    expect(test.variance).toBeCloseTo(1428, 9);
    expect(relative(test.z, 5.107322)).toBeLessThan(1e-5);
    expect(relative(test.twoSided, 3.267574e-7)).toBeLessThan(1e-5);
    expect(relative(test.s / ((23 * 22) / 2), 0.7667984)).toBeLessThan(1e-5);
  });

  it('has the slope, Conover intercept and interval that are published', () => {
    expect(relative(middle?.slope ?? 0, 26.6666667)).toBeLessThan(1e-5);
    expect(relative(middle?.intercept ?? 0, -1909.3333333)).toBeLessThan(1e-5);
    expect(relative(middle?.low ?? 0, 20)).toBeLessThan(1e-5);
    expect(relative(middle?.high ?? 0, 35.71182)).toBeLessThan(1e-5);
  });
});

describe('Mann and Kendall', () => {
  // Kendall (1976), Rank Correlation Methods, p. 55, example 4.3, quoted in the help of the R package Kendall. Seen.
  it('with ties in both rankings', () => {
    const { s, variance } = mannKendall({
      x: [1.5, 1.5, 3, 4, 6, 6, 6, 8, 9.5, 9.5, 11, 12],
      y: [2.5, 2.5, 7, 4.5, 1, 4.5, 6, 11.5, 11.5, 8.5, 8.5, 10],
    });
    expect(s).toBe(34);
    expect(Math.abs(variance - 203.3)).toBeLessThanOrEqual(0.01);
  });

  // Wisconsin Administrative Code, NR 746, note, table A. Seen.
  it('with one tie', () => {
    expect(mannKendall({ x: [1, 2, 3, 4, 5], y: [100, 50, 85, 75, 50] }).s).toBe(-5);
  });

  // The same, table B: the S furthest from −n(n−1)/2 that counts as decreasing at 20 %. Seen.
  it.each([
    [4, -4],
    [5, -5],
    [6, -6],
    [7, -7],
    [8, -8],
    [9, -10],
    [10, -11],
  ] as const)('of %s readings, an S of %s is the mildest at 20 %', (n, tabled) => {
    // S has the parity of the number of pairs: of the tabled S and the next stricter one, one can occur.
    const odd = ((n * (n - 1)) / 2) % 2 !== 0;
    const s = odd === (Math.abs(tabled) % 2 !== 0) ? tabled : tabled - 1;
    expect(exactUpperTail(n, -s)).toBeLessThanOrEqual(0.2);
    expect(exactUpperTail(n, -(s + 2))).toBeGreaterThan(0.2);
  });

  // Upper tails of S without ties for n = 4 to 10, counted out, and found the same by scipy.stats.kendalltau(exact).
  it('has the exact tails', () => {
    const { table } = JSON.parse(text('mann-kendall-exact-upper-tail.json')) as {
      readonly table: Readonly<Record<string, Readonly<Record<string, number>>>>;
    };
    expect(Object.keys(table)).toHaveLength(7);
    for (const [n, tails] of Object.entries(table))
      for (const [s, p] of Object.entries(tails))
        expect(exactUpperTail(Number(n), Number(s)), `n ${n}, S ${s}`).toBeCloseTo(p, 12);
  });

  // The 97.5 % point of the normal distribution, by @stdlib.
  it('takes 1.96 to all digits', () => {
    expect(normalQuantile(0.975, 0, 1)).toBeCloseTo(NORMAL_975, 14);
  });
});

describe('least squares', () => {
  // US EPA, Unified Guidance (as above), example 17-5, p. 17-26; output in Chapter17Examples.R of EnvStats. Seen. The
  // file carries the residual of each point.
  it('on calendar dates, of EPA example 17-5', () => {
    const data = rows('epa-ug-17-5-chloride.csv');
    const series = { x: data.map(([date = '']) => dayNumber(date)), y: data.map((row) => Number(row[1])) };
    const { n, slope, intercept, seSlope, seIntercept } = line(series);
    const t = slope / seSlope;
    expect(n).toBe(19);
    expect(Math.abs(intercept + 24.667125117)).toBeLessThan(1e-8);
    expect(Math.abs(slope - 0.003095753)).toBeLessThan(1e-9);
    expect(Math.abs(seIntercept - 4.2285856469)).toBeLessThan(1e-8);
    expect(Math.abs(seSlope - 0.000334533)).toBeLessThan(1e-9);
    expect(Math.abs(t - 9.253952)).toBeLessThan(1e-6);
    expect(relative(2 * studentCdf(-t, n - 2), 4.764303e-8)).toBeLessThan(1e-5);
    for (const [i, row] of data.entries())
      expect((series.y[i] ?? 0) - (intercept + slope * (series.x[i] ?? 0))).toBeCloseTo(Number(row[3]), 8);
  });

  // Montgomery, Peck and Vining, Introduction to Linear Regression Analysis, table 2.1 and example 2.7: the 95 %
  // prediction interval at 10 weeks is 2048.32 to 2464.32. Seen; the book rounds on its way. The digits are of R 4.2.2.
  it('with the prediction interval of the rocket propellant', () => {
    const data = rows('rocket-propellant.csv');
    const fitted = line({ x: data.map((row) => Number(row[0])), y: data.map((row) => Number(row[1])) });
    const { fit, low, high } = predict(fitted, 10);
    expect(Math.abs(low - 2048.32)).toBeLessThanOrEqual(0.2);
    expect(Math.abs(high - 2464.32)).toBeLessThanOrEqual(0.2);
    expect(low).toBeCloseTo(2048.38459365, 7);
    expect(high).toBeCloseTo(2464.18830546, 7);
    expect(fit).toBeCloseTo(2256.28644955, 7);
    expect(fitted.slope).toBeCloseTo(-37.1535909449, 9);
    expect(fitted.seSlope).toBeCloseTo(2.88910654892, 9);
    expect(fitted.intercept).toBeCloseTo(2627.8223590013, 8);
    expect(fitted.seIntercept).toBeCloseTo(44.18391179818, 8);
    expect(fitted.s).toBeCloseTo(96.1060924, 6);
  });

  // NIST/ITL Statistical Reference Datasets, Norris: certified values. Seen.
  it('has the certified values of Norris', () => {
    const data = text('Norris.dat')
      .split(/\r?\n/)
      .slice(60)
      .map((row) => row.trim().split(/\s+/).map(Number));
    expect(data).toHaveLength(36);
    const fitted = line({ x: data.map((row) => row[1] ?? 0), y: data.map((row) => row[0] ?? 0) });
    expect(relative(fitted.intercept, -0.262323073774029)).toBeLessThan(1e-11);
    expect(relative(fitted.slope, 1.00211681802045)).toBeLessThan(1e-13);
    expect(relative(fitted.seIntercept, 0.232818234301152)).toBeLessThan(1e-12);
    expect(relative(fitted.seSlope, 0.429796848199937e-3)).toBeLessThan(1e-12);
    expect(relative(fitted.s, 0.884796396144373)).toBeLessThan(1e-12);
  });

  // NIST/SEMATECH e-Handbook, 4.5.1.1: y = 7.74899 + 3.93014 x is 263.21 at 65. Seen.
  it('estimates the response that NIST does', () => {
    const x = [20, 40, 60, 80];
    const fitted = line({ x, y: x.map((value) => 7.74899 + 3.93014 * value) });
    expect(Math.abs(predict(fitted, 65).fit - 263.21)).toBeLessThanOrEqual(0.01);
  });
});

describe('Student’s t', () => {
  // 10 CFR Part 429, Subpart B, Appendix A, Figure 1 (76 FR 12451): 80 values. Seen.
  it('has the quantiles of the law', () => {
    const table = rows('t-table-10cfr429.csv');
    expect(table).toHaveLength(20);
    for (const [df, ...printed] of table) {
      for (const [i, value] of printed.entries()) {
        const t = studentQuantile([0.9, 0.95, 0.975, 0.99][i] ?? Number.NaN, Number(df));
        // One degree of freedom is printed to four digits.
        expect(Math.abs(t - Number(value)), `${df}`).toBeLessThanOrEqual(df === '1' ? 0.005 : 0.00051);
      }
    }
  });

  // R 4.2.2, qt(), to 15 digits.
  it('has the quantiles of R', () => {
    const table = rows('t-quantiles-r422.csv');
    expect(table.length).toBeGreaterThan(30);
    for (const [df, ...values] of table)
      for (const [i, value] of values.entries())
        expect(
          relative(
            studentQuantile([0.9, 0.95, 0.975, 0.99, 0.995][i] ?? Number.NaN, Number(df)),
            Number(value),
          ),
          `${df}`,
        ).toBeLessThan(1e-12);
  });
});

describe('quantiles', () => {
  interface Sample {
    readonly data: readonly number[] | number;
    readonly types: Readonly<Record<string, readonly number[]>>;
  }
  const samples = JSON.parse(text('quantiles-r422.json')) as Readonly<Record<string, Sample>>;
  const SHARES = [0, 0.1, 0.25, 0.5, 0.75, 0.8, 0.9, 0.95, 1];

  // Hyndman and Fan (1996), type 7, by R 4.2.2, for five small samples. The sample `nistGage` is printed in the
  // NIST e-Handbook, 7.2.6.2, which takes type 6 (95.19807); type 7 gives 95.19568.
  it.each(Object.keys(samples))('of %s are those of type 7', (name) => {
    const { data, types } = samples[name] as Sample;
    const values = typeof data === 'number' ? [data] : data;
    for (const [i, p] of SHARES.entries()) {
      expect(quantile(values, p), `${p}`).toBeCloseTo(types['7']?.[i] ?? Number.NaN, 10);
      expect(quantile(values, p), `${p}`).toBeCloseTo(simple.quantile([...values], p), 10);
    }
  });

  it('of the gauges at 90 % are what type 7 gives', () => {
    expect(quantile((samples['nistGage'] as Sample).data as readonly number[], 0.9)).toBeCloseTo(
      95.19568,
      10,
    );
  });
});

describe('against libraries', () => {
  const value = fc.double({ min: -1e3, max: 1e3, noNaN: true });
  const series = fc
    .array(value, { minLength: 4, maxLength: 40 })
    .map((y): Series => ({ x: y.map((_, i) => 3 * i + (i % 3)), y }));

  it('least squares is that of simple-statistics', () => {
    fc.assert(
      fc.property(series, ({ x, y }) => {
        const other = simple.linearRegression(x.map((at, i) => [at, y[i] ?? 0]));
        const fitted = line({ x, y });
        expect(Math.abs(fitted.slope - other.m)).toBeLessThan(1e-8);
        expect(Math.abs(fitted.intercept - other.b)).toBeLessThan(1e-7);
      }),
    );
  });

  // Of the line of Theil and Sen only the slope, and only of an odd number of pairs: the library takes the lower of
  // two middle slopes, not their mean, and its intercept is the median of y − slope · x, not Conover's.
  it('the slope of Theil and Sen is that of ml-regression-theil-sen', () => {
    fc.assert(
      fc.property(series, ({ x, y }) => {
        fc.pre(((x.length * (x.length - 1)) / 2) % 2 === 1);
        const ours = theilSen({ x, y }, mannKendall({ x, y }));
        expect(Math.abs((ours?.slope ?? Number.NaN) - new TheilSenRegression(x, y).slope)).toBeLessThan(
          1e-12,
        );
      }),
    );
  });

  it('the medians in Conover’s intercept are those of simple-statistics', () => {
    fc.assert(
      fc.property(series, ({ x, y }) => {
        const ours = theilSen({ x, y }, mannKendall({ x, y }));
        const expected = simple.median([...y]) - (ours?.slope ?? Number.NaN) * simple.median([...x]);
        expect(Math.abs((ours?.intercept ?? Number.NaN) - expected)).toBeLessThan(1e-8);
      }),
    );
  });
});
