import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { quantile as reference } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import type { PartMove } from '../../src/check/model.js';
import { addDays } from '../../src/reckon/calendar.js';
import { leadTimes } from '../../src/reckon/lead-times.js';
import { partState } from '../../src/reckon/parts.js';
import { quantile } from '../../src/reckon/quantile.js';

interface Sample {
  readonly data: readonly number[];
  readonly types: Readonly<Record<string, readonly number[]>>;
  readonly probs: readonly number[];
}

// `quantile(x, p, type = 7)` of R 4.2.2.
const SAMPLES = JSON.parse(
  readFileSync(new URL('data/quantiles-r422.json', import.meta.url), 'utf8'),
) as Readonly<Record<string, Sample>>;

describe('quantiles of type 7', () => {
  it('are those of simple-statistics, whatever the sample', () => {
    const sample = fc.array(fc.integer({ min: 0, max: 400 }), { minLength: 1, maxLength: 40 });
    fc.assert(
      fc.property(sample, fc.double({ min: 0, max: 1, noNaN: true }), (days, p) => {
        expect(quantile(days, p)).toBeCloseTo(reference(days, p), 9);
      }),
    );
  });
});

const NOTHING = {
  what: null,
  system: 's',
  quantity: null,
  cost: null,
  due: null,
  serial: null,
  mass: null,
  at: null,
  from: null,
  restsOn: [],
  see: null,
  note: null,
  place: { file: '', path: [] },
};

/** Parts that took so many days to come. */
function partsThatTook(days: readonly number[]) {
  return days.map((lead, index) => {
    const move = (date: string, what: PartMove['move']): PartMove => ({
      ...NOTHING,
      date,
      part: `part-${index}`,
      move: what,
      supplier: 'Quay',
      entry: date,
    });
    return partState(
      `part-${index}`,
      [move('2025-01-01', 'ordered'), move(addDays('2025-01-01', lead), 'arrived')],
      '2026-01-01',
    );
  });
}

describe('lead times', () => {
  // Median 12 and 90th percentile 45 of these eleven: R 4.2.2, type 7, as above.
  it('are the median and the 90th percentile of R', () => {
    const { data, types, probs } = SAMPLES.leadDays as Sample;
    const [lead] = leadTimes(partsThatTook(data));
    expect(lead).toMatchObject({ supplier: 'Quay', count: 11 });
    expect(lead?.median).toBeCloseTo(types['7']?.[probs.indexOf(0.5)] as number, 9);
    expect(lead?.ninety).toBeCloseTo(types['7']?.[probs.indexOf(0.9)] as number, 9);
  });
});
