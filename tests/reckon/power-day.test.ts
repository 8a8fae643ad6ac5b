import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  common,
  cutsOf,
  DAY,
  joined,
  lengthOf,
  lies,
  spansInWords,
  spansOf,
} from '../../src/reckon/power/day.js';

const minute = fc.integer({ min: 0, max: 1439 });
const clock = (minutes: number) =>
  `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
const window = fc.tuple(minute, minute).map(([from, to]) => `${clock(from)}-${clock(to)}`);

describe('windows of the day', () => {
  it.each([
    [['18:00-23:00'], [[18, 23]]],
    [
      ['22:00-06:30'],
      [
        [0, 6.5],
        [22, 24],
      ],
    ],
    [['18:00-24:00'], [[18, 24]]],
    [['22:00-00:00'], [[22, 24]]],
    [['08:00-10:00', '09:30-12:00'], [[8, 12]]],
    [['08:00-10:00', '10:00-12:00'], [[8, 12]]],
    [['08:00-08:00'], [[0, 24]]],
    [[], [[0, 24]]],
  ])('%j are %j', (between, hours) => {
    expect(spansOf(between).map(({ from, to }) => [from / 3600, to / 3600])).toEqual(hours);
  });

  it('never overlap, and hold every minute that a window holds', () => {
    fc.assert(
      fc.property(fc.array(window, { minLength: 1, maxLength: 5 }), minute, (windows, at) => {
        const spans = spansOf(windows);
        for (const [n, span] of spans.slice(1).entries())
          expect(span.from).toBeGreaterThan(spans[n]?.to ?? 0);
        expect(lengthOf(spans)).toBeLessThanOrEqual(DAY);
        const inside = windows.some((text) => {
          const [from = '', to = ''] = text.split('-');
          const now = clock(at);
          return from < to ? now >= from && now < to : now >= from || now < to;
        });
        expect(spans.some(({ from, to }) => at * 60 >= from && at * 60 < to)).toBe(inside);
      }),
    );
  });

  it('cut the day into pieces that lie wholly inside or wholly outside', () => {
    fc.assert(
      fc.property(fc.array(window, { maxLength: 4 }), fc.array(window, { maxLength: 4 }), (a, b) => {
        const [first, second] = [spansOf(a), spansOf(b)];
        const pieces = cutsOf([...first, ...second]);
        expect(lengthOf(pieces)).toBe(DAY);
        expect(joined(pieces)).toEqual([{ from: 0, to: DAY }]);
        const inFirst = pieces.filter((piece) => lies(piece, first));
        expect(lengthOf(inFirst)).toBe(lengthOf(first));
        const both = pieces.filter((piece) => lies(piece, first) && lies(piece, second));
        expect(lengthOf(common(first, second))).toBe(lengthOf(both));
      }),
    );
  });

  it('are told by the clock', () => {
    expect(spansInWords(spansOf(['22:00-06:30']))).toBe('from 00:00 to 06:30 and 22:00 to 24:00');
    expect(spansInWords(spansOf(undefined))).toBe('all day');
  });
});
