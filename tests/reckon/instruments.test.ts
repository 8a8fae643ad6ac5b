import { describe, expect, it } from 'vitest';
import type { Instrument } from '../../src/check/model.js';
import { checkOverdueSince } from '../../src/reckon/instruments.js';

const CLAMP: Instrument = {
  id: 'clamp',
  name: 'clamp meter',
  serial: null,
  abilities: [],
  checked: '2024-04-28',
  againEvery: { years: 2, months: 0, weeks: 0, days: 0 },
};

describe('the check of an instrument', () => {
  it('is overdue from the day after it was due', () => {
    expect(checkOverdueSince(CLAMP, '2026-04-28')).toBeNull();
    expect(checkOverdueSince(CLAMP, '2026-04-29')).toBe('2026-04-28');
  });

  it('says nothing where nothing is on record', () => {
    expect(checkOverdueSince(CLAMP, '2020-01-01')).toBeNull();
    expect(checkOverdueSince({ ...CLAMP, checked: null }, '2030-01-01')).toBeNull();
    expect(checkOverdueSince({ ...CLAMP, againEvery: null }, '2030-01-01')).toBeNull();
    expect(checkOverdueSince(undefined, '2030-01-01')).toBeNull();
  });
});
