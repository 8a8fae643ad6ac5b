import { describe, expect, it } from 'vitest';
import { judge, parseRequirement } from '../../src/quantity/index.js';

describe('reading a requirement', () => {
  it.each([
    ['>= 320 Ah', 'charge', 1152000, null, false, false],
    ['≥ 320 Ah', 'charge', 1152000, null, false, false],
    ['<= 2 bar', 'gauge-pressure', null, 200000, false, false],
    ['> 13.8 V and < 14.4 V', 'voltage', 13.8, 14.4, true, true],
    ['>= 13.8 V and <= 14.4 V', 'voltage', 13.8, 14.4, false, false],
    ['>= 13 V and > 13.8 V and <= 15 V and < 14.4 V', 'voltage', 13.8, 14.4, true, true],
    ['between 13.8 V and 14.4 V', 'voltage', 13.8, 14.4, false, false],
    ['= 4', 'count', 4, 4, false, false],
    ['14 ± 0.5 V', 'voltage', 13.5, 14.5, false, false],
    ['<= 18 %', 'moisture', null, 0.18, false, false],
    ['>= 5 °C', 'temperature', 278.15, null, false, false],
    ['<= 27 1/2 in', 'length', null, 0.6985, false, false],
  ] as const)('%s', (text, kind, low, high, lowOpen, highOpen) => {
    const result = parseRequirement(text, kind);
    expect(result).toEqual({
      ok: true,
      requirement: { written: text, kind, band: { low, high, lowOpen, highOpen } },
    });
  });

  it.each([
    ['10 V', 'bad-requirement', '10 V'],
    ['>= 5 A', 'wrong-kind', 'A'],
    ['>= 5', 'no-unit', '5'],
    ['>= 13 V and <= 5 A', 'wrong-kind', 'A'],
    ['between 13 V and 5 A', 'wrong-kind', 'A'],
    ['>= 5 ± 1 V', 'bad-requirement', '5 ± 1 V'],
    ['>= 5 V and <= 4 V', 'bad-requirement', '>= 5 V and <= 4 V'],
    ['> 5 V and < 5 V', 'bad-requirement', '> 5 V and < 5 V'],
    ['>= ', 'empty', ' '],
    ['  ', 'empty', '  '],
  ] as const)('%s is %s', (text, code, marked) => {
    const result = parseRequirement(text, 'voltage');
    if (result.ok) throw new Error('was read');
    expect(result.problem.code).toBe(code);
    expect(text.slice(result.problem.offset, result.problem.offset + result.problem.length)).toBe(marked);
  });

  it('allows one value where both ends are the same', () => {
    expect(parseRequirement('>= 5 V and <= 5 V', 'voltage').ok).toBe(true);
  });
});

describe('judging by interval', () => {
  const band = { low: 10, high: 20 };
  it.each([
    [15, 2, 'conforms'],
    [12, 2, 'conforms'],
    [18, 2, 'conforms'],
    [11, 2, 'undecided'],
    [19, 2, 'undecided'],
    [9, 2, 'undecided'],
    [8, 2, 'undecided'],
    [7.9, 2, 'fails'],
    [22.1, 2, 'fails'],
    [15, 9, 'undecided'],
    [10, null, 'conforms'],
    [9.99, null, 'fails'],
    [20, null, 'conforms'],
    [20.01, null, 'fails'],
  ] as const)('%s ± %s within 10 to 20: %s', (si, siUncertainty, judgement) => {
    expect(judge({ si, siUncertainty }, band)).toBe(judgement);
  });

  it.each([
    [10, null, 'fails'],
    [10.01, null, 'conforms'],
    [12, 2, 'undecided'],
    [12.1, 2, 'conforms'],
    [8, 2, 'fails'],
  ] as const)('%s ± %s above an open 10: %s', (si, siUncertainty, judgement) => {
    expect(judge({ si, siUncertainty }, { low: 10, high: null, lowOpen: true })).toBe(judgement);
    expect(judge({ si: -si, siUncertainty }, { low: null, high: -10, highOpen: true })).toBe(judgement);
  });

  it('leaves an end that is not there alone', () => {
    expect(judge({ si: 1e9, siUncertainty: 1e9 }, { low: null, high: null })).toBe('conforms');
    expect(judge({ si: 5, siUncertainty: 1 }, { low: null, high: 6 })).toBe('conforms');
    expect(judge({ si: 5, siUncertainty: 1 }, { low: 4, high: null })).toBe('conforms');
  });

  it('is not put out by the last bit of a conversion', () => {
    // 0.1 + 0.2 is a hair above 0.3.
    expect(judge({ si: 0.1 + 0.2, siUncertainty: null }, { low: null, high: 0.3 })).toBe('conforms');
    expect(judge({ si: 0.2, siUncertainty: 0.1 }, { low: null, high: 0.1 + 0.2 })).toBe('conforms');
  });
});
