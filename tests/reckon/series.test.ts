import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Series } from '../../src/check/model.js';
import { seriesState, thinned } from '../../src/reckon/series.js';
import { entry, reckoned, system } from './book.js';

const rows = fc
  .array(
    fc.record({ step: fc.integer({ min: 1, max: 90_000 }), value: fc.integer({ min: -500, max: 500 }) }),
    {
      minLength: 1,
      maxLength: 400,
    },
  )
  .map((steps): Series => {
    let at = 1_770_000_000;
    const times = steps.map(({ step }) => {
      at += step;
      return at;
    });
    const values = steps.map(({ value }) => value / 10);
    return {
      point: 's.v',
      file: 'f',
      hash: 'h',
      times: Float64Array.from(times),
      values: Float64Array.from(values),
    };
  });

describe('a thinned series', () => {
  it('keeps the first and the last row, the highest and the lowest value, and takes nothing from elsewhere', () => {
    fc.assert(
      fc.property(rows, fc.integer({ min: 1, max: 60 }), (series, pieces) => {
        const { times, values } = series;
        const kept = thinned(series, pieces);
        expect(kept.length).toBeLessThanOrEqual(4 * pieces);
        expect([kept[0]?.time, kept.at(-1)?.time]).toEqual([times[0], times.at(-1)]);
        const shown = kept.map(({ value }) => value);
        expect(Math.max(...shown)).toBe(Math.max(...values));
        expect(Math.min(...shown)).toBe(Math.min(...values));
        const all = new Map([...times].map((time, at) => [time, values[at]]));
        for (const { time, value } of kept) expect(all.get(time)).toBe(value);
        expect(kept.every(({ time }, at) => at === 0 || time > (kept[at - 1]?.time ?? 0))).toBe(true);
      }),
    );
  });

  it('keeps the peaks of each of its pieces, found by going through all rows', () => {
    fc.assert(
      fc.property(rows, fc.integer({ min: 1, max: 20 }), (series, pieces) => {
        const [first, last] = [series.times[0] as number, series.times.at(-1) as number];
        const pieceOf = (time: number) =>
          Math.min(pieces - 1, Math.floor(((time - first) / (last - first || 1)) * pieces + 1e-9));
        const highest = (list: readonly (readonly [number, number])[]) => {
          const most = new Map<number, number>();
          for (const [time, value] of list)
            most.set(pieceOf(time), Math.max(value, most.get(pieceOf(time)) ?? Number.NEGATIVE_INFINITY));
          return [...most.entries()];
        };
        const all = [...series.times].map((time, at) => [time, series.values[at] as number] as const);
        const kept = thinned(series, pieces).map(({ time, value }) => [time, value] as const);
        // A row on the very border of two pieces may be counted to either.
        const border = all.some(([time]) => {
          const share = ((time - first) / (last - first || 1)) * pieces;
          return Math.abs(share - Math.round(share)) < 1e-6 && time !== first && time !== last;
        });
        if (!border) expect(highest(kept)).toEqual(highest(all));
      }),
    );
  });

  it('keeps everything where there is room, and breaks where the logger was silent', () => {
    const times = [0, 10, 20, 30, 500, 510].map((at) => at + 1_770_000_000);
    const series = { times: Float64Array.from(times), values: Float64Array.of(1, 2, 3, 2, 1, 0) };
    const kept = thinned(series, 1000);
    expect(kept.map(({ value }) => value)).toEqual([1, 2, 3, 2, 1, 0]);
    expect(kept.map(({ breaks }) => breaks)).toEqual([false, false, false, false, true, false]);
    expect(thinned({ times: new Float64Array(), values: new Float64Array() }, 3)).toEqual([]);
  });
});

describe('the days of a series', () => {
  it('are what going through all rows of each gives', () => {
    fc.assert(
      fc.property(rows, (series) => {
        const state = seriesState(series);
        const byDay = new Map<string, number[]>();
        for (const [at, time] of series.times.entries()) {
          const date = new Date(time * 1000).toISOString().slice(0, 10);
          byDay.set(date, [...(byDay.get(date) ?? []), series.values[at] as number]);
        }
        expect(state.days.map(({ date, count, min, max }) => [date, count, min, max])).toEqual(
          [...byDay].map(([date, values]) => [date, values.length, Math.min(...values), Math.max(...values)]),
        );
        const total = state.days.reduce((sum, { mean, count }) => sum + mean * count, 0);
        expect(total / series.times.length).toBeCloseTo(state.mean ?? Number.NaN, 9);
        expect(state.highest?.value).toBe(Math.max(...series.values));
        expect(series.values[series.times.indexOf(state.lowest?.time ?? 0)]).toBe(state.lowest?.value);
      }),
    );
  });

  it('are none of an empty one', () => {
    const none: Series = {
      point: 's.v',
      file: 'f',
      hash: 'h',
      times: new Float64Array(),
      values: new Float64Array(),
    };
    expect(seriesState(none)).toMatchObject({ days: [], lowest: null, highest: null, mean: null });
  });
});

describe('a series in a book', () => {
  const FILES = {
    ...system(
      's',
      'points:\n  v: { quantity: voltage, unit: V, series: series/v.csv }\nspecs:\n  rated: { value: 12 V, basis: told, within: 1 V, point: v }',
    ),
    ...entry('2026-03-01', ''),
    'series/v.csv':
      'time,value (mV)\n2026-03-01T10:00,12000\n2026-03-01T11:00,12500\n2026-03-02T00:00,13000\n',
  };

  it('is read in the unit of its point, up to the day that is asked for', async () => {
    const all = await reckoned('2026-03-02', FILES);
    expect([...(all.series.get('s.v')?.series.values ?? [])]).toEqual([12, 12.5, 13]);
    const first = await reckoned('2026-03-01', FILES);
    expect([...(first.series.get('s.v')?.series.values ?? [])]).toEqual([12, 12.5]);
    expect(first.series.get('s.v')?.days.map(({ date, mean }) => [date, mean])).toEqual([
      ['2026-03-01', 12.25],
    ]);
    expect((await reckoned('2026-02-01', FILES)).series.get('s.v')?.days).toEqual([]);
  });

  it('is evidence for nothing', async () => {
    const { specs, timelines } = await reckoned('2026-03-02', FILES);
    expect(specs.get('s.rated')?.standing).toBe('unverified');
    expect(timelines.get('s.v')?.readings).toEqual([]);
  });
});
