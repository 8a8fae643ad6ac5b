import { mkdirSync, mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { checkBook } from '../../src/check/check.js';
import { main } from '../../src/cli/main.js';
import { realEffects } from '../../src/cli/real-effects.js';
import { readFolder } from '../../src/read/folder.js';
import { readSeries } from '../../src/read/series.js';
import { reckon } from '../../src/reckon/reckon.js';
import { thinned } from '../../src/reckon/series.js';

/**
 * How long a logger's table of 300,000 rows takes: to take in, to take in again, to check, and to thin for
 * drawing. Run by hand: `npx tsx tests/bench/take.ts`.
 */

const ROWS = 300_000;

function table(): string {
  const start = Date.UTC(2020, 0, 1) / 1000;
  const lines = ['Time;Humidity [%RH];Remark'];
  for (let at = 0; at < ROWS; at += 1) {
    const iso = new Date((start + at * 300) * 1000).toISOString();
    const value = (60 + 20 * Math.sin(at / 40) + ((at * 7919) % 97) / 20).toFixed(1).replace('.', ',');
    lines.push(
      `${iso.slice(8, 10)}.${iso.slice(5, 7)}.${iso.slice(0, 4)} ${iso.slice(11, 16)};${value};"a; b"`,
    );
  }
  return `${lines.join('\n')}\n`;
}

const FILES: Readonly<Record<string, string>> = {
  'book.yaml': 'book: bench\nsubject: { name: Bench }\n',
  'systems/hull.md':
    '---\nsystem: hull\ntitle: Hull\npoints:\n  air: { quantity: relative-humidity, plausible: [0 %RH, 100 %RH], series: series/air.csv }\n---\n',
  'map.yaml':
    'delimiter: ";"\ndecimal: comma\ntime: { column: Time, as: "DD.MM.YYYY HH:mm" }\nvalues:\n  - { column: Humidity, point: hull.air, stuck: 2 h }\n',
};

const root = mkdtempSync(join(tmpdir(), 'ribband-bench-take-'));

async function timed(what: string, run: () => unknown): Promise<void> {
  const from = performance.now();
  await run();
  const megabytes = Math.round(process.memoryUsage().rss / 1e6);
  process.stdout.write(
    `${what.padEnd(44)} ${String(Math.round(performance.now() - from)).padStart(6)} ms  ${megabytes} MB\n`,
  );
}

async function take(): Promise<void> {
  const silent = () => undefined;
  const effects = { ...realEffects(), out: silent, err: silent, env: {}, cwd: root, ask: null };
  await main(['take', 'table.csv', '--map', 'map.yaml'], { ...effects, today: () => '2026-01-01' });
}

try {
  for (const folder of ['systems', 'series']) mkdirSync(join(root, folder));
  for (const [path, text] of Object.entries(FILES)) writeFileSync(join(root, path), text);
  writeFileSync(join(root, 'table.csv'), table());
  process.stdout.write(`${ROWS} rows, ${(statSync(join(root, 'table.csv')).size / 1e6).toFixed(1)} MB\n`);
  await timed('take', take);
  await timed('take again, nothing new', take);
  const folder = readFolder(root);
  await timed('read the file of the point', () => readSeries(folder.series[0]?.text ?? ''));
  const { book } = await checkBook(folder, '2026-01-01');
  await timed('check the book', () => checkBook(readFolder(root), '2026-01-01'));
  if (book !== null) {
    await timed('reckon the days', () => reckon(book, '2026-01-01'));
    const series = book.series.get('hull.air');
    if (series !== undefined) await timed('thin for drawing', () => thinned(series, 150));
  }
} finally {
  rmSync(root, { recursive: true, force: true });
}
