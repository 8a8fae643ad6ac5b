import { describe, expect, it } from 'vitest';
import { caseOf, si } from '../reckon/plan-book.js';

describe('apparent power of a load', () => {
  // pe-calc.com (seen): 100 kW at a power factor of 0.7 is 143 kVA; tolerance 0.2.
  it('of 100 kW at a power factor of 0.7 is 143 kVA', () => {
    const mill = { from: 'mains', running: '100 kW', 'power-factor': '0.7', uses: { day: { hours: '1 h' } } };
    const found = caseOf({
      cases: { day: { title: 'A day' } },
      sources: { mains: { continuous: '200 kW', apparent: '200 kVA' } },
      loads: { mill },
    });
    expect(Math.abs(si(found.loads[0]?.apparent ?? null) / 1000 - 143)).toBeLessThan(0.2);
    expect(Math.abs(si(found.sources[0]?.moments[0]?.apparent ?? null) / 1000 - 143)).toBeLessThan(0.2);
  });
});
