import { describe, expect, it } from 'vitest';
import type { Holding } from '../../src/reckon/holds.js';
import { entry, type Files, reckoned, system } from './book.js';

const SYSTEM = system(
  's',
  `points:
  amps: { quantity: current, unit: A }
  more-amps: { quantity: current, unit: A }
  stored: { quantity: charge, unit: Ah }
specs:
  bank: { value: 400 Ah, basis: told, within: 5 %, point: stored }
  late-claim: { value: 40 A, basis: told, within: 1 A, since: 2026-03-01 }
derived:
  both: { from: amps + more-amps, quantity: current }
  twice: { from: 2 * both, quantity: current }`,
);

/** A decision of 1 February with that condition. */
function decided(holdsWhile: string): Files {
  return entry(
    '2026-02-01',
    `decisions:
  - { decision: size, question: Which?, chose: this, because: so, holds-while: "${holdsWhile}" }`,
    'decide',
  );
}

const read = (date: string, lines: string, name = 'read'): Files =>
  entry(
    date,
    `measurements:\n${lines
      .split(';')
      .map((line) => `  - ${line.trim()}\n`)
      .join('')}`,
    name,
  );

async function holding(
  holdsWhile: string,
  more: readonly Files[],
  asOf = '2026-12-31',
): Promise<Holding | null | undefined> {
  return (await reckoned(asOf, SYSTEM, decided(holdsWhile), ...more)).decisions.get('size')?.holding;
}

describe('whether a decision still holds', () => {
  it('has nothing to say of a decision without a condition', async () => {
    const plain = entry(
      '2026-02-01',
      'decisions:\n  - { decision: size, question: Which?, chose: this, because: so }',
    );
    expect((await reckoned('2026-12-31', SYSTEM, plain)).decisions.get('size')?.holding).toBeNull();
  });

  it('holds', async () => {
    expect(await holding('s.amps <= 30 A', [read('2026-03-01', 's.amps: 29 A')])).toEqual({
      verdict: 'holds',
      turned: null,
      missing: [],
    });
  });

  it('cannot say while something has not been read, and names it', async () => {
    expect(await holding('s.amps <= 30 A', [])).toEqual({
      verdict: 'unknown',
      turned: null,
      missing: ['s.amps'],
    });
  });

  it('is undecided where the uncertainty reaches across, and says since when', async () => {
    const found = await holding('s.amps <= 30 A', [
      read('2026-03-01', 's.amps: 20 ± 1 A'),
      read('2026-04-01', 's.amps: 29.5 ± 1 A'),
    ]);
    expect(found?.verdict).toBe('undecided');
    expect(found?.turned).toEqual({ date: '2026-04-01', entry: '2026-04-01-read', ref: 's.amps' });
  });

  it('fails, with the reading and the day that turned it', async () => {
    const found = await holding('s.amps <= 30 A', [
      read('2026-01-01', 's.amps: 25 A'),
      read('2026-03-01', 's.amps: 31 A'),
      read('2026-04-01', 's.amps: 32 A'),
    ]);
    expect(found).toEqual({
      verdict: 'fails',
      turned: { date: '2026-03-01', entry: '2026-03-01-read', ref: 's.amps' },
      missing: [],
    });
  });

  it('counts from the last time it turned', async () => {
    const found = await holding('s.amps <= 30 A', [
      read('2026-03-01', 's.amps: 31 A'),
      read('2026-04-01', 's.amps: 29 A'),
      read('2026-05-01', 's.amps: 33 A'),
      read('2026-06-01', 's.amps: 34 A'),
    ]);
    expect(found?.turned?.date).toBe('2026-05-01');
  });

  it('was never so: nothing turned it', async () => {
    const found = await holding('s.amps <= 30 A', [
      read('2026-01-01', 's.amps: 31 A'),
      read('2026-03-01', 's.amps: 32 A'),
    ]);
    expect(found).toMatchObject({ verdict: 'fails', turned: null });
  });

  it('is not turned by what was read on the day of the decision, which was known then', async () => {
    const found = await holding('s.amps <= 30 A', [
      read('2026-01-01', 's.amps: 29 A'),
      read('2026-02-01', 's.amps: 31 A'),
      read('2026-03-01', 's.amps: 32 A'),
    ]);
    expect(found).toMatchObject({ verdict: 'fails', turned: null });
  });

  it('is turned by the reading that contradicts a spec', async () => {
    const found = await holding('s.bank >= 380 Ah', [
      read('2026-03-01', 's.stored: 395 Ah'),
      read('2026-04-01', 's.stored: 318 ± 6 Ah'),
    ]);
    expect(found).toEqual({
      verdict: 'fails',
      turned: { date: '2026-04-01', entry: '2026-04-01-read', ref: 's.bank' },
      missing: [],
    });
  });

  it('is turned by a statement that contradicts a spec', async () => {
    const found = await holding('s.bank >= 380 Ah', [
      entry('2026-04-01', 'statements:\n  - { spec: s.bank, says: 200 Ah, basis: marked }', 'plate'),
    ]);
    expect(found?.turned).toEqual({ date: '2026-04-01', entry: '2026-04-01-plate', ref: 's.bank' });
  });

  it('is turned by a reading below a value derived from others', async () => {
    const found = await holding('s.twice <= 60 A', [
      read('2026-01-01', 's.amps: 10 A; s.more-amps: 10 A'),
      read('2026-03-01', 's.more-amps: 15 A'),
      read('2026-04-01', 's.amps: 16 A'),
    ]);
    expect(found?.turned).toEqual({ date: '2026-04-01', entry: '2026-04-01-read', ref: 's.amps' });
  });

  it('blames of several readings of one day the one that turned it', async () => {
    const found = await holding('s.amps <= 30 A and s.more-amps <= 30 A', [
      read('2026-01-01', 's.amps: 20 A; s.more-amps: 20 A'),
      read('2026-03-01', 's.amps: 21 A; s.more-amps: 35 A'),
    ]);
    expect(found?.turned?.ref).toBe('s.more-amps');
  });

  it('knows nothing of a claim before it was made', async () => {
    const found = await holding('s.late-claim <= 30 A and s.amps <= 90 A', [
      read('2026-02-15', 's.amps: 1 A'),
      read('2026-03-15', 's.amps: 2 A'),
    ]);
    expect(found).toMatchObject({ verdict: 'fails', turned: { date: '2026-03-15' } });
  });

  it('knows on a past day only what was known then', async () => {
    const more = [read('2026-03-01', 's.amps: 29 A'), read('2026-04-01', 's.amps: 31 A')];
    expect((await holding('s.amps <= 30 A', more, '2026-03-31'))?.verdict).toBe('holds');
    expect((await holding('s.amps <= 30 A', more, '2026-04-01'))?.verdict).toBe('fails');
  });
});

describe('decisions', () => {
  it('are taken back by later ones', async () => {
    const again = entry(
      '2026-05-01',
      'decisions:\n  - { decision: size-2, question: Which?, chose: that, because: so, undoes: size }',
    );
    const { decisions } = await reckoned('2026-12-31', SYSTEM, decided('s.amps <= 30 A'), again);
    expect(decisions.get('size')?.undoneBy).toBe('size-2');
    expect(decisions.get('size-2')?.undoneBy).toBeNull();
    const before = await reckoned('2026-04-30', SYSTEM, decided('s.amps <= 30 A'), again);
    expect(before.decisions.get('size')?.undoneBy).toBeNull();
  });

  it('say how the specs stand on which they rest', async () => {
    const made = entry(
      '2026-02-01',
      `decisions:
  - { decision: size, question: Which?, chose: this, because: so, rests-on: [s.bank, s.amps] }`,
    );
    const { decisions } = await reckoned('2026-12-31', SYSTEM, made);
    expect(decisions.get('size')?.restsOn).toEqual([
      { ref: 's.bank', standing: 'unverified' },
      { ref: 's.amps', standing: null },
    ]);
  });
});
