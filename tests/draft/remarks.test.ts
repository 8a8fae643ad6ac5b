import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CODES } from '../../src/check/codes.js';
import { completed, nameFrom, photoFile } from '../../src/draft/complete.js';
import {
  type Remark,
  remarkDate,
  remarkMeter,
  remarkPart,
  remarkReading,
  remarkTestValue,
  remarkValue,
} from '../../src/draft/remarks.js';
import { parseQuantity } from '../../src/quantity/index.js';
import type { BookFacts, InstrumentFacts, PointFacts } from '../../src/reckon/facts.js';

const VOLTAGE: PointFacts = {
  ref: 'house-dc.rest-voltage',
  title: 'Bank at rest',
  kind: 'voltage',
  unit: 'V',
  where: null,
  conditions: [],
  plausible: null,
  last: { written: '12.7 V', date: '2026-03-01', with: null },
  lately: [12.7],
};

const METER: InstrumentFacts = {
  id: 'dmm',
  name: 'multimeter',
  abilities: [
    { kind: 'voltage', range: { low: { si: 0, written: '0 V' }, high: { si: 60, written: '60 V' } } },
  ],
};

function said(remarks: readonly Remark[]): readonly string[] {
  return remarks.map(({ severity, message }) => `${severity}: ${message}`);
}

describe('a reading as it is typed', () => {
  it('is taken without a word where it is like the last', () => {
    expect(remarkReading({ value: '12.65 V' }, VOLTAGE, METER)).toEqual([]);
  });

  it('asks about a slip of the decimal point, even where only one reading is known', () => {
    expect(said(remarkReading({ value: '127 V' }, VOLTAGE, null))).toEqual([
      'warning: Last time 12.7 V; 127 V?',
    ]);
    expect(said(remarkReading({ value: '1.27 V' }, VOLTAGE, null))).toEqual([
      'warning: Last time 12.7 V; 1.27 V?',
    ]);
    expect(remarkReading({ value: '127 V', note: 'it is so' }, VOLTAGE, null)).toEqual([]);
  });

  it('asks about what the checker calls far off, with the range so far', () => {
    const often = { ...VOLTAGE, lately: [12.6, 12.65, 12.7, 12.71, 12.74] };
    const [remark] = remarkReading({ value: '17.2 V' }, often, null);
    expect(remark).toEqual({
      severity: CODES['far-off'].severity,
      message: 'Last time 12.7 V; 17.2 V?',
      hint: 'Correct it; if it is right, say so in a `note` on this reading.',
    });
  });

  it('refuses another kind, a unit that there is not, and a value without one, in the words of the checker', () => {
    expect(said(remarkReading({ value: '12.7 A' }, VOLTAGE, null))[0]).toMatch(
      /^error: This is a current, .*voltage is due/,
    );
    expect(said(remarkReading({ value: '12.7 Vlt' }, VOLTAGE, null))[0]).toMatch(/^error: .*Vlt/);
    expect(said(remarkReading({ value: '12.7' }, VOLTAGE, null))[0]).toMatch(/^error: /);
  });

  it('refuses what cannot be true at the point, and what the instrument cannot show', () => {
    const plausible = { low: { si: 0, written: '0 V' }, high: { si: 16, written: '16 V' } };
    expect(said(remarkReading({ value: '127 V' }, { ...VOLTAGE, plausible }, METER))).toEqual([
      'error: 127 V cannot be true at `house-dc.rest-voltage`, where 0 V to 16 V is plausible.',
      'error: 127 V is outside what `dmm` can show (0 V to 60 V).',
    ]);
  });

  it('says so where the instrument is not known to measure that', () => {
    const hydrometer: InstrumentFacts = {
      id: 'hydrometer',
      name: 'h',
      abilities: [{ kind: 'specific-gravity', range: null }],
    };
    expect(said(remarkReading({ value: '12.7 V' }, VOLTAGE, hydrometer))).toEqual([
      `${CODES['instrument-kind'].severity}: \`hydrometer\` is not said to measure voltage.`,
    ]);
  });

  it('never asks about a temperature only because it is many times the last in kelvin or degrees', () => {
    const coolant: PointFacts = { ...VOLTAGE, kind: 'temperature', unit: '°C', lately: [278.15] };
    expect(remarkReading({ value: '85 °C' }, coolant, null)).toEqual([]);
  });
});

describe('other answers as they are typed', () => {
  const hours = {
    ref: 'engine.hours',
    title: 'Hours',
    unit: 'h',
    last: { written: '1243.6 h', date: '2026-03-01' },
  };

  it('a meter does not run backwards, unless it is another one', () => {
    expect(said(remarkMeter('1234.6 h', hours, false))).toEqual([
      'error: `engine.hours` shows 1234.6 h, but showed 1243.6 h on 2026-03-01.',
    ]);
    expect(remarkMeter('1234.6 h', hours, true)).toEqual([]);
    expect(remarkMeter('1250 h', hours, false)).toEqual([]);
    expect(said(remarkMeter('12500 h', hours, false))).toEqual(['warning: Last time 1243.6 h; 12500 h?']);
  });

  it('a day is one of the calendar, and not to come', () => {
    expect(remarkDate('2026-04-18', '2026-04-18')).toEqual([]);
    expect(said(remarkDate('2026-04-19', '2026-04-18'))[0]).toMatch(/after today/);
    expect(said(remarkDate('2026-02-30', '2026-04-18'))[0]).toMatch(/no such day/);
    expect(said(remarkDate('18.4.', '2026-04-18'))[0]).toMatch(/no such day/);
  });

  it('what a test requires is of its kind; a text may be any', () => {
    expect(said(remarkTestValue('10.5 A', 'voltage', null, null))[0]).toMatch(/^error/);
    expect(said(remarkTestValue('127 V', 'voltage', VOLTAGE, METER))).toHaveLength(2);
    expect(remarkTestValue('dry', null, null, METER)).toEqual([]);
    expect(said(remarkValue('about two', 'time'))).toHaveLength(1);
  });

  it('a part is fitted after it came, in this entry or before', () => {
    const facts: BookFacts = {
      asOf: '2026-04-18',
      subject: 'W',
      currency: null,
      people: [],
      instruments: [],
      systems: [
        {
          id: 'engine',
          title: 'Engine',
          lately: null,
          hazards: [],
          points: [],
          meters: [],
          tests: [],
          upkeep: [],
          items: [],
          parts: [{ id: 'pump', what: null, lastMove: 'ordered', on: '2026-04-01' }],
          grounds: [],
        },
      ],
      taken: { items: [], parts: ['pump', 'old-pump'], decisions: [] },
    };
    const fitted = { part: 'pump', move: 'fitted' as const };
    expect(said(remarkPart(fitted, facts, []))[0]).toMatch(/^error: `pump` is fitted, but no entry so far/);
    expect(remarkPart(fitted, facts, [{ part: 'pump', move: 'arrived' }])).toEqual([]);
    expect(said(remarkPart({ part: 'new', move: 'removed' }, facts, []))).toHaveLength(1);
    expect(remarkPart({ part: 'old-pump', move: 'arrived' }, facts, [])).toEqual([]);
    const near = { part: 'pomp', move: 'arrived' } as const;
    expect(said(remarkPart(near, facts, []))[0]).toMatch(/^warning: No entry so far tells of `pomp`.*`pump`/);
    expect(remarkPart({ ...near, what: 'a bilge pump' }, facts, [])).toEqual([]);
    expect(
      said(remarkPart({ part: 'a', move: 'ordered', cost: '12', due: '2026-02-30' }, facts, [])),
    ).toHaveLength(2);
  });
});

describe('what was typed, completed', () => {
  it.each([
    ['12.71', 'V', '12.71 V'],
    ['12,71', 'V', '12.71 V'],
    ['0,125', 'V', '0.125 V'],
    [',5', 'V', '.5 V'],
    ['-4', '°C', '-4 °C'],
    ['−4', '°C', '-4 °C'],
    ['318±6', 'Ah', '318 ± 6 Ah'],
    ['318 +/- 6,5', 'Ah', '318 ± 6.5 Ah'],
    ['27 1/2', 'in', '27 1/2 in'],
    ['14', '1', '14'],
    ['14', '', '14'],
    ['1,243', 'h', '1,243 h'],
    ['12.7 V', 'mV', '12.7 V'],
    ['12.7V', 'mV', '12.7V'],
    [' about  two ', 'h', 'about two'],
  ])('%j with the unit %s is %j', (typed, unit, due) => {
    expect(completed(typed, unit)).toBe(due);
  });

  it('is never another number than the one that was typed', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e6, max: 1e6 }), (number) => {
        const read = parseQuantity(completed(number.toFixed(4), 'V'), 'voltage');
        expect(read.ok && read.quantity.value === Number(number.toFixed(4))).toBe(true);
      }),
    );
  });
});

describe('names', () => {
  it('are made from words, and never one that is taken', () => {
    expect(nameFrom('Fit the new bank!', [])).toBe('fit-the-new-bank');
    expect(nameFrom('Fit the new bank!', ['fit-the-new-bank', 'fit-the-new-bank-2'])).toBe(
      'fit-the-new-bank-3',
    );
    expect(nameFrom('Насос', [])).toBe('entry');
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), fc.array(fc.string()), (what, taken) => {
        const name = nameFrom(what, taken);
        expect(name).toMatch(/^[a-z0-9]+(?:-[a-z0-9]+)*$/);
        expect(name.length).toBeLessThanOrEqual(64);
        expect(taken).not.toContain(name);
      }),
    );
  });

  it('of pictures are safe, whatever they show', () => {
    expect(photoFile('2026-04-18', 'The sump, wet', [])).toBe('photos/2026/2026-04-18-the-sump-wet.jpg');
    expect(photoFile('2026-04-18', '../../x', ['photos/2025/2026-04-18-x.png'])).toBe(
      'photos/2026/2026-04-18-x-2.jpg',
    );
  });
});
