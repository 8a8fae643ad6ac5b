import { describe, expect, it } from 'vitest';
import { BROKEN, book, run } from './support.js';

describe('ribband changes', () => {
  it('tells in sentences and tables what changed, with the first and the last day', async () => {
    const { code, out } = await run(['changes', '--from', '2026-03-01', '--to', '2026-04-18'], {
      cwd: book(),
    });
    expect(code).toBe(0);
    expect(out).toMatch(/^What changed from 1 Mar 2026 to 18 Apr 2026\n/);
    expect(out).toContain('2 entries tell of 3.5 h of work.');
    expect(out).toContain('1480.00 EUR spent on parts.');
    expect(out).toContain('1 spec stands otherwise than before: 1 contradicted.');
    expect(out).toContain('  Bank capacity  [unverified]  [contradicted]  318 ± 6 Ah, measured 18 Apr 2026');
    expect(out).toContain('  Test the bank  18 Apr 2026');
  });

  it('leaves out what was done before, and is this year where nothing is said', async () => {
    const cwd = book();
    const late = await run(['changes', '--from', '2026-03-02'], { cwd });
    expect(late.out).toContain('1 entry tells of 3.5 h of work.');
    const year = await run(['changes'], { cwd });
    expect(year.out).toMatch(/^What changed from 1 Jan 2026 to 20 Apr 2026\n/);
    const none = await run(['changes', '--from', '2026-04-19'], { cwd });
    expect(none.out).toBe('What changed from 19 Apr 2026 to 20 Apr 2026\nNothing was entered.\n');
  });

  it('is one JSON document for other programs', async () => {
    const { out } = await run(['changes', '--as', 'json'], { cwd: book() });
    const document = JSON.parse(out) as Record<string, unknown>;
    expect(document).toMatchObject({
      version: 1,
      from: '2026-01-01',
      to: '2026-04-20',
      entries: ['2026-03-01-looked', '2026-04-18-capacity-test'],
      tests: [{ id: 'house-dc.capacity-test', from: null, to: 'undecided' }],
    });
  });

  it('says what is wrong with days, and tells nothing of a book with errors', async () => {
    const wrong = await run(['changes', '--from', '2026-05-01', '--to', '2026-04-01'], { cwd: book() });
    expect([wrong.code, wrong.err]).toEqual([2, expect.stringContaining('is after')]);
    const broken = await run(['changes'], { cwd: book(BROKEN) });
    expect([broken.code, broken.out]).toEqual([1, '']);
  });
});
