import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { book, run } from '../cli/support.js';

/** What waits on something hidden is not told as ready, and what it waits on is not told. */

const entry = (date: string, more: string) =>
  `---\ndate: ${date}\ntitle: On ${date}\nsystems: [house-dc]\n${more}---\n`;

const HIDDEN = {
  'entries/2026/2026-04-01-orders.md': entry(
    '2026-04-01',
    `private: [entry]
parts:
  - { part: secret-pump, move: ordered, what: a secret pump }
  - { part: secret-hose, move: ordered, what: a secret hose }
opens:
  - { item: secret-job, what: A secret job, system: house-dc }
  - { item: secret-done, what: Done in secret, system: house-dc }
`,
  ),
  'entries/2026/2026-04-02-came.md': entry(
    '2026-04-02',
    'private: [entry]\nparts: [{ part: secret-hose, move: arrived }]\ncloses: [secret-done]\n',
  ),
  'entries/2026/2026-04-03-work.md': entry(
    '2026-04-03',
    `opens:
  - { item: on-part, what: Waits on a part, waits-on: [part secret-pump] }
  - { item: on-job, what: Waits on a job, waits-on: [item secret-job] }
  - { item: on-neither, what: Waited, waits-on: [part secret-hose, item secret-done] }
  - { item: on-shown, what: Waits on what is shown, waits-on: [item test-bank-again] }
  - { item: test-bank-again, what: Test the bank again }
  - { item: closed, what: Done already, waits-on: [part secret-pump] }
`,
  ),
  'entries/2026/2026-04-04-closed.md': entry('2026-04-04', 'closes: [closed]\n'),
};

interface Item {
  readonly id: string;
  readonly status: string;
  readonly waitsOnHidden: boolean;
}

async function items(cwd: string, audience: string): Promise<Readonly<Record<string, string>>> {
  const { out } = await run(['export', '--for', audience], { cwd });
  if (audience !== 'owner') expect(out).not.toMatch(/secret/);
  const { items } = JSON.parse(out) as { readonly items: readonly Item[] };
  return Object.fromEntries(
    items.map(({ id, status, waitsOnHidden }) => [
      id,
      waitsOnHidden ? `${status}, on something hidden` : status,
    ]),
  );
}

describe('work that waits on something hidden', () => {
  it('is told as waiting in a copy, as long as what it waits on is not there', async () => {
    const cwd = book(HIDDEN);
    expect(await items(cwd, 'owner')).toMatchObject({
      'on-part': 'waiting',
      'on-job': 'blocked',
      'on-neither': 'ready',
    });
    expect(await items(cwd, 'public')).toEqual({
      'change-oil': 'ready',
      'test-bank': 'done',
      'on-part': 'waiting, on something hidden',
      'on-job': 'waiting, on something hidden',
      'on-neither': 'ready',
      'on-shown': 'blocked',
      'test-bank-again': 'ready',
      closed: 'done',
    });
  });

  it('says so where the work is listed', async () => {
    const cwd = book(HIDDEN);
    await run(['build', '--for', 'public', '--out', 'site'], { cwd });
    const page = readFileSync(join(cwd, 'site/work.html'), 'utf8');
    expect(page.match(/something that is not shown here/g)).toHaveLength(2);
    expect(page).not.toMatch(/secret/);
  });
});
