import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { run } from '../cli/support.js';
import { loggerTable } from './logger.js';

const LOG = join(import.meta.dirname, '../../log');
const FILES = ['saloon-humidity.csv', 'bank-voltage.csv'];

it('the demo book has what its map takes out of the table of its logger', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'ribband-demo-'));
  try {
    cpSync(LOG, join(folder, 'log'), {
      recursive: true,
      filter: (path) => !/[/\\](?:series|\.ribband)$/.test(path),
    });
    writeFileSync(join(folder, 'winter.csv'), loggerTable());
    const argv = ['take', 'winter.csv', 'log', '--map', 'log/logger-map.yaml'];
    const setting = { cwd: folder, env: { RIBBAND_TODAY: '2026-12-31' } };
    const { code, out } = await run(argv, setting);
    expect(code).toBe(0);
    expect(out).toContain('13 values refused: 13 standing still.');
    const read = (...path: string[]) => readFileSync(join(...path), 'utf8');
    for (const file of FILES) expect(read(folder, 'log', 'series', file)).toBe(read(LOG, 'series', file));
    const rows = FILES.map((file) => read(LOG, 'series', file).trim().split('\n').length - 1);
    expect(rows.reduce((sum, count) => sum + count, 0)).toBeGreaterThan(20_000);
    expect((await run(argv, setting)).out).toContain(
      'Of what was not refused nothing is new; nothing was written.',
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}, 60_000);
