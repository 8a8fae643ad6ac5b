import { describe, expect, it } from 'vitest';
import type { Instrument } from '../../src/check/model.js';
import { checkOverdueSince, instrumentCaveat } from '../../src/reckon/instruments.js';

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

describe('what is against an instrument', () => {
  const instruments = new Map([['clamp', CLAMP]]);

  it('is told with the day since when, and its name', () => {
    expect(instrumentCaveat(instruments, { with: 'clamp', date: '2026-05-09' })).toBe(
      'by an instrument whose own check was overdue since 2026-04-28: clamp meter',
    );
  });

  it('is nothing for one compared in time, one the book does not have, and none', () => {
    expect(instrumentCaveat(instruments, { with: 'clamp', date: '2026-04-28' })).toBeNull();
    expect(instrumentCaveat(instruments, { with: 'other', date: '2026-05-09' })).toBeNull();
    expect(instrumentCaveat(instruments, { with: null, date: '2026-05-09' })).toBeNull();
  });
});
