import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SystemFile } from '../../schemas/system.js';
import { buildSystem } from '../../src/check/build/system.js';
import type { Condition, Point, Reading } from '../../src/check/model.js';
import { type Kind, parseQuantity, type Quantity } from '../../src/quantity/index.js';
import { addDays, daysBetween } from '../../src/reckon/calendar.js';
import { correctedSi, correctionOf } from '../../src/reckon/corrections.js';
import type { Timeline } from '../../src/reckon/model.js';
import { timelineOf } from '../../src/reckon/timelines.js';
import { trendOf } from '../../src/reckon/trend.js';

function quantity(text: string, kind?: Kind): Quantity {
  const result = parseQuantity(text, kind);
  if (!result.ok) throw new Error(`${text}: ${result.problem.message}`);
  return result.quantity;
}

/** A point as it is written in a system file; fails the test where the checker objects. */
function pointOf(written: NonNullable<SystemFile['points']>[string]): Point {
  const { system, problems } = build(written);
  if (problems.length > 0) throw new Error(problems.map(({ message }) => message).join(' '));
  return system.points.get('value') as Point;
}

function build(written: NonNullable<SystemFile['points']>[string]) {
  const source = { path: 'systems/boat.md', role: 'system', text: '', hash: '' };
  return buildSystem({ source, body: '' } as never, {
    system: 'boat',
    title: 'Boat',
    points: { value: written },
  });
}

const CAPACITY = pointOf({ quantity: 'charge', unit: 'Ah', 'at-least': '320 Ah', expect: 'falling' });

function reading(date: string, value: string, under: Readonly<Record<string, string>> = {}): Reading {
  const conditions = Object.entries(under).map(
    ([name, text]): Condition => ({ name, value: { type: 'quantity', quantity: quantity(text) } }),
  );
  const read = quantity(value);
  return {
    date,
    system: 'boat',
    point: 'boat.value',
    what: null,
    quantity: read,
    uncertainty: { si: read.siUncertainty, from: read.siUncertainty === null ? 'unknown' : 'written' },
    basis: 'measured',
    test: null,
    with: null,
    by: null,
    under: conditions,
    see: null,
    note: null,
    entry: date,
    place: { file: `entries/${date}.md`, path: [] },
  };
}

function timeline(point: Point, ...readings: readonly Reading[]): Timeline {
  return timelineOf(point, readings, [], '9999-12-31');
}

/** Readings of the capacity, so many days apart. */
function capacities(values: readonly number[], apart = 60, from = '2025-01-01'): Timeline {
  return timeline(CAPACITY, ...values.map((value, i) => reading(addDays(from, i * apart), `${value} Ah`)));
}

const FALLING = [398, 394, 389, 386, 381, 377, 372, 369];

describe('a trend', () => {
  it('is found, dated and said as a person would', () => {
    const trend = trendOf(capacities(FALLING), '2026-03-01');
    expect(trend).toMatchObject({
      status: 'trend',
      direction: 'falling',
      scale: 'linear',
      days: 8,
      leftOut: [],
    });
    expect(trend.test).toMatchObject({ s: -28, sided: 'falling', method: 'exact' });
    expect(trend.rate?.perMonth).toMatchObject({ kind: 'charge', unit: 'Ah' });
    expect(trend.rate?.perMonth.value).toBeCloseTo((-4.2 / 60) * (365.25 / 12), 1);
    expect(trend.rate?.low?.value).toBeLessThan(trend.rate?.perMonth.value ?? 0);
    expect(trend.rate?.high?.value).toBeGreaterThan(trend.rate?.perMonth.value ?? 0);
    expect(trend.crossings).toMatchObject([{ which: 'at-least', status: 'crosses' }]);
    expect(trend.sentence).toBe(
      'Falling about 2.1 Ah a month; reaches 320 Ah between December 2027 and March 2028.',
    );
  });

  it('agrees with itself: SI, unit, dates and band', () => {
    const trend = trendOf(capacities(FALLING), '2026-03-01');
    const { perMonth } = trend.rate ?? { perMonth: quantity('0 Ah') };
    expect(perMonth.si).toBeCloseTo(perMonth.value * 3600, 8);
    const [crossing] = trend.crossings;
    const { from, central, to } = crossing ?? {};
    expect((from ?? '') < (central ?? '') && (central ?? '') < (to ?? '')).toBe(true);
    const last = trend.band.at(-1);
    expect(last?.date).toBe(to);
    // On the latest day the upper edge of the line's interval has come down to the limit.
    expect((last?.lineHigh ?? 0) / 3600).toBeCloseTo(320, 0);
    expect(trend.band[0]?.date).toBe('2025-01-01');
    for (const row of trend.band) {
      expect(row.low).toBeLessThanOrEqual(row.lineLow);
      expect(row.lineLow).toBeLessThanOrEqual(row.fit);
      expect(row.fit).toBeLessThanOrEqual(row.lineHigh);
      expect(row.lineHigh).toBeLessThanOrEqual(row.high);
    }
  });

  it('of a perfect line crosses on the day', () => {
    const trend = trendOf(capacities([380, 370, 360, 350], 100), '2025-11-01');
    expect(trend.crossings[0]).toMatchObject({ status: 'crosses', central: addDays('2025-01-01', 600) });
    expect(daysBetween(trend.crossings[0]?.from ?? '', trend.crossings[0]?.to ?? '')).toBeLessThanOrEqual(1);
    expect(trend.sentence).toBe('Falling about 3.0 Ah a month; reaches 320 Ah in August 2026.');
  });

  it('takes four comparable days', () => {
    expect(trendOf(capacities([]), '2026-01-01')).toMatchObject({
      status: 'too-few',
      rate: null,
      test: null,
      band: [],
      crossings: [],
      sentence: 'No readings yet.',
    });
    expect(trendOf(capacities([400, 390, 380]), '2026-01-01')).toMatchObject({
      status: 'too-few',
      sentence: 'Too few for a trend: 3 of the 4 comparable readings it takes.',
    });
    expect(trendOf(capacities([400, 390, 380, 370], 0), '2026-01-01')).toMatchObject({
      status: 'too-few',
      days: 1,
      sentence: 'Too few for a trend: 4 comparable readings, but on 1 day, and it takes 4.',
    });
    expect(trendOf(capacities([400, 390, 380, 370]), '2026-01-01').status).toBe('trend');
  });

  it('is not claimed for what chance does', () => {
    const trend = trendOf(capacities([381, 388, 380, 386, 384, 389, 382]), '2026-06-01');
    expect(trend).toMatchObject({ status: 'no-trend', direction: null, crossings: [] });
    expect(trend.band).toHaveLength(25);
    expect(trend.sentence).toMatch(
      /^No drift can be shown \(read on 7 days since January 2025, p = 0\.\d\d for a fall\)\.$/,
    );
    expect(trendOf(capacities([380, 380, 380, 380]), '2026-06-01').sentence).toBe(
      'No trend: the 4 comparable readings since January 2025 are all the same.',
    );
  });

  it('is not called chance where every step goes the same way', () => {
    const rising = capacities([0.25, 0.25, 0.4, 0.4]);
    expect(trendOf({ ...rising, point: { ...CAPACITY, expect: 'rising' } }, '2026-06-01').sentence).toMatch(
      /^No step goes down, but a drift cannot be shown yet \(read on 4 days since January 2025, p = 0\.\d\d for a rise\)\.$/,
    );
  });

  it('is looked for one-sided where it is expected, two-sided where it is not', () => {
    const readings = capacities([380, 375, 370, 365]);
    const unexpected = { ...readings, point: { ...CAPACITY, expect: null } };
    expect(trendOf(readings, '2026-01-01')).toMatchObject({ status: 'trend', test: { sided: 'falling' } });
    expect(trendOf(unexpected, '2026-01-01')).toMatchObject({
      status: 'no-trend',
      test: { sided: 'two-sided' },
    });
    expect(trendOf(unexpected, '2026-01-01').sentence).toBe(
      'Too few days to tell a drift from chance (read on 4 days since January 2025, p = 0.083), though every step goes down.',
    );
    const against = trendOf(capacities([365, 368, 371, 375, 379, 383]), '2026-01-01');
    expect(against).toMatchObject({ status: 'trend', direction: 'rising', test: { sided: 'two-sided' } });
    expect(against.sentence).toBe('Rising about 1.9 Ah a month, though it was expected to be falling.');
  });

  it('does not look beyond the day', () => {
    const whole = capacities([...FALLING, 900]);
    const upTo = trendOf(whole, '2026-03-01');
    expect(upTo).toEqual(trendOf(capacities(FALLING), '2026-03-01'));
    expect(trendOf(whole, '2025-02-01').status).toBe('too-few');
  });

  it('takes readings of one day for one session', () => {
    const once = capacities(FALLING);
    const doubled = timeline(CAPACITY, ...once.readings.flatMap((one) => [one.reading, one.reading]));
    const [a, b] = [trendOf(once, '2026-03-01'), trendOf(doubled, '2026-03-01')];
    expect(b.used).toHaveLength(16);
    expect({ ...b, used: [] }).toEqual({ ...a, used: [] });
  });

  it('does not mind the order of readings', () => {
    const { readings } = capacities(FALLING);
    fc.assert(
      fc.property(fc.shuffledSubarray([...readings], { minLength: readings.length }), (shuffled) => {
        const trend = trendOf({ ...capacities(FALLING), readings: shuffled }, '2026-03-01');
        expect({ ...trend, used: [] }).toEqual({ ...trendOf(capacities(FALLING), '2026-03-01'), used: [] });
      }),
    );
  });

  it('copes with years of daily readings', () => {
    const values = Array.from(
      { length: 6000 },
      (_, i) => Math.round(4000 - i / 4 + 40 * Math.sin(i * 7.3)) / 10,
    );
    const trend = trendOf(capacities(values, 1, '2005-01-01'), '2021-06-06');
    expect(trend).toMatchObject({ status: 'trend', days: 6000 });
    expect(trend.rate?.perMonth.value).toBeCloseTo((-1 / 40) * (365.25 / 12), 2);
  });
});

describe('crossing a limit', () => {
  const crossing = (values: readonly number[], asOf: string, apart = 60) => {
    const trend = trendOf(capacities(values, apart), asOf);
    return { ...trend.crossings[0], sentence: trend.sentence };
  };

  it('that is past is said to be past', () => {
    expect(crossing([340, 333, 326, 321, 313, 306], '2025-12-01')).toMatchObject({
      status: 'already-crossed',
      from: null,
      central: '2025-07-01',
      to: null,
      sentence: 'Falling about 3.4 Ah a month; by the trend below 320 Ah since about July 2025.',
    });
  });

  it('that must have been since the last reading asks for a measurement', () => {
    expect(crossing([390, 380, 370, 361, 350], '2027-08-01')).toMatchObject({
      status: 'already-crossed',
      sentence:
        'Falling about 5.1 Ah a month; should have reached 320 Ah about February 2026: measure again.',
    });
  });

  it('that was before the first reading has no date', () => {
    expect(crossing([310, 303, 296, 289], '2026-01-01')).toMatchObject({
      status: 'already-crossed',
      central: null,
      sentence: 'Falling about 3.6 Ah a month; below 320 Ah.',
    });
  });

  it('that is far off is not dated', () => {
    expect(crossing([400, 399, 398, 397, 396], '2027-06-01', 200)).toMatchObject({
      status: 'none-within-5-years',
      from: null,
      to: null,
      sentence: 'Falling about 1.8 Ah a year; does not reach 320 Ah within 5 years.',
    });
  });

  it('that may be past, but need not, is dated by its latest day', () => {
    const one = crossing([362, 352, 354, 345, 343, 333, 335, 328], '2026-04-10');
    expect(one).toMatchObject({ status: 'crosses', from: '2026-04-10' });
    expect(one.sentence).toBe(
      'Falling about 2.4 Ah a month; may reach 320 Ah at any time, and by September 2026 at the latest.',
    );
  });

  it('of a slope that is hardly sure has no latest day', () => {
    expect(crossing([345, 341, 344, 339, 341, 338, 337], '2026-02-01')).toMatchObject({
      status: 'crosses',
      to: null,
      sentence:
        'Falling about 6.1 Ah a year; reaches 320 Ah about December 2028, in March 2027 at the earliest.',
    });
    // One wild reading leaves the slope of Theil and Sen alone, but not what the line may be.
    expect(crossing([390, 384, 378, 470, 371, 366, 360], '2026-02-01')).toMatchObject({
      status: 'crosses',
      from: '2026-02-01',
      to: null,
      sentence: 'Falling about 2.4 Ah a month; reaches 320 Ah about June 2027, give or take years.',
    });
  });

  it('is reckoned for either limit', () => {
    const point = pointOf({
      quantity: 'moisture',
      unit: '%MC',
      'at-least': '8 %MC',
      'at-most': '20 %MC',
      expect: 'steady',
    });
    const readings = [12, 12.6, 13.3, 13.8, 14.5, 15.1].map((value, i) =>
      reading(addDays('2025-01-01', i * 90), `${value} %MC`),
    );
    const trend = trendOf(timeline(point, ...readings), '2026-04-01');
    expect(trend.crossings).toMatchObject([
      { which: 'at-least', status: 'none-within-5-years' },
      { which: 'at-most', status: 'crosses' },
    ]);
    expect(trend.sentence).toBe(
      'Rising about 0.21 %MC a month, though it should hold steady; reaches 20 %MC between January and April 2028.',
    );
  });

  it('holds the true day about 95 times in 100', () => {
    let state = 5;
    const uniform = () => {
      state = (state * 1_664_525 + 1_013_904_223) % 2 ** 32;
      return (state + 0.5) / 2 ** 32;
    };
    const truth = addDays('2025-01-01', 1600);
    let inside = 0;
    let dated = 0;
    for (let run = 0; run < 400; run++) {
      const noise = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
      const values = Array.from(
        { length: 12 },
        (_, i) => Math.round((400 - 3 * i + 2 * noise()) * 100) / 100,
      );
      const one = trendOf(capacities(values), '2027-01-01').crossings[0];
      if (one?.status !== 'crosses' || one.to === null) continue;
      dated++;
      if ((one.from ?? '') <= truth && truth <= one.to) inside++;
    }
    expect(dated).toBeGreaterThan(380);
    expect(inside / dated).toBeGreaterThan(0.92);
  });
});

describe('a reading that does not fit', () => {
  it('is flagged by the days before it, and only by them', () => {
    const trend = trendOf(capacities([...FALLING, 340]), '2026-06-01');
    expect(trend.used.map(({ flagged }) => flagged)).toEqual([...FALLING.map(() => false), true]);
    const last = trend.used.at(-1);
    expect((last?.foretold?.low ?? 0) / 3600).toBeGreaterThan(355);
    expect((last?.foretold?.high ?? 0) / 3600).toBeLessThan(373);
    expect(trend.used.slice(0, 4).every(({ foretold }) => foretold === null)).toBe(true);
    expect(trend.sentence).toMatch(
      / The last reading, of 2026-04-26, is not what those before it led to expect\.$/,
    );
  });

  it('is not flagged within its own uncertainty or last digit', () => {
    const voltage = pointOf({ quantity: 'voltage', unit: 'V' });
    const flags = (...values: readonly string[]) =>
      trendOf(
        timeline(voltage, ...values.map((value, i) => reading(addDays('2025-01-01', i * 30), value))),
        '2026-01-01',
      ).used.map(({ flagged }) => flagged);
    expect(flags('12.7 V', '12.7 V', '12.7 V', '12.7 V', '12.8 V').at(-1)).toBe(false);
    expect(flags('12.7 V', '12.7 V', '12.7 V', '12.7 V', '12.9 V').at(-1)).toBe(true);
    expect(flags('12.7 V', '12.7 V', '12.7 V', '12.7 V', '12.9 ± 0.3 V').at(-1)).toBe(false);
  });
});

describe('like with like', () => {
  it('leaves out what was read under other conditions, and says so', () => {
    const point = pointOf({ quantity: 'voltage', unit: 'V', 'compare-at': { ambient: '20 °C within 5 K' } });
    const warm = (i: number, value: string) =>
      reading(addDays('2025-01-01', i * 30), value, { ambient: '22 °C' });
    const cold = reading('2025-06-01', '11.9 V', { ambient: '4 °C' });
    const bare = reading('2025-06-02', '11.9 V');
    const few = trendOf(timeline(point, warm(0, '12.7 V'), cold, bare), '2026-01-01');
    expect(few.leftOut.map(({ because }) => because)).toEqual(['conditions', 'conditions']);
    expect(few.sentence).toBe(
      'Too few for a trend: 1 of the 4 comparable readings it takes; 2 more cannot be compared.',
    );
    expect(trendOf(timeline(point, cold, bare), '2026-01-01').sentence).toBe(
      'Too few for a trend: none of 2 readings can be compared.',
    );
  });

  it('corrects insulation resistance to 40 °C and reckons it by shares', () => {
    const point = pointOf({
      quantity: 'resistance',
      unit: 'MΩ',
      'at-least': '2 MΩ',
      expect: 'falling',
      correct: 'insulation-to-40-c',
    });
    // 3 % less every 30 days at 40 °C, read at temperatures that hide it.
    const temperatures = [32, 12, 25, 8, 40, 15, 20, 5];
    const readings = temperatures.map((celsius, i) => {
      const at40 = 8 * 0.97 ** i;
      return reading(addDays('2025-01-01', i * 30), `${at40 * 2 ** ((40 - celsius) / 10)} MΩ`, {
        winding: `${celsius} °C`,
      });
    });
    const trend = trendOf(timeline(point, ...readings, reading('2025-12-24', '9 MΩ')), '2026-01-01');
    expect(trend).toMatchObject({ status: 'trend', scale: 'log', leftOut: [{ because: 'no-temperature' }] });
    expect(trend.used[0]?.si).toBeCloseTo(8e6, 3);
    expect(trend.rate?.perMonth).toMatchObject({ kind: 'ratio', unit: '%' });
    expect(trend.rate?.perMonth.value).toBeCloseTo(100 * (0.97 ** (365.25 / 12 / 30) - 1), 8);
    const until = Math.log(2 / 8) / Math.log(0.97);
    expect(trend.crossings[0]?.central).toBe(addDays('2025-01-01', Math.round(30 * until)));
    expect(trend.sentence).toBe('Falling about 3.0 % a month; reaches 2 MΩ in September 2028.');
    expect(Math.min(...trend.band.map(({ low }) => low))).toBeGreaterThan(0);
  });

  it('reckons insulation of nought by amounts, which shares cannot', () => {
    const point = pointOf({ quantity: 'resistance', unit: 'MΩ', correct: 'insulation-to-40-c' });
    const readings = [8, 6, 4, 2, 0].map((value, i) =>
      reading(addDays('2025-01-01', i * 30), `${value} MΩ`, { winding: '40 °C' }),
    );
    expect(trendOf(timeline(point, ...readings), '2026-01-01')).toMatchObject({
      scale: 'linear',
      direction: 'falling',
    });
  });

  it.each([
    ['hydrometer-to-20-c', 1.236 - 0.00072 * 7],
    ['hydrometer-to-25-c', 1.236 - 0.00072 * 12],
    ['hydrometer-to-80-f', 1.236 - (0.004 / 10) * (80 - 55.4)],
  ] as const)('corrects a hydrometer by %s', (correct, expected) => {
    const point = pointOf({ quantity: 'specific-gravity', unit: 'SG', correct });
    const cold = reading('2025-01-01', '1.236 SG', { electrolyte: '13 °C' });
    expect(correctedSi(cold, correctionOf(point))).toBeCloseTo(expected, 10);
    expect(correctedSi(reading('2025-01-01', '1.236 SG'), correctionOf(point))).toBeNull();
    expect(
      correctedSi(reading('2025-01-01', '1.236 SG', { electrolyte: '13 A' }), correctionOf(point)),
    ).toBeNull();
  });

  it('takes no correction for another kind', () => {
    const { system, problems } = build({ quantity: 'voltage', correct: 'insulation-to-40-c' });
    expect(system.points.get('value')?.correct).toBeNull();
    expect(problems.map(({ message }) => message)).toEqual([
      '`insulation-to-40-c` corrects a resistance, and this point is a voltage.',
    ]);
  });
});
