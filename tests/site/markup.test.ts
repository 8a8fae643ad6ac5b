import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { book, run, TODAY } from '../cli/support.js';
import { buildInto, DEMO } from './demo.js';

/** The Nu Html Checker over every page of the demo. It needs Java; without one the test says so and is left out. */

const hasJava = spawnSync('java', ['-version']).status === 0;
if (!hasJava)
  console.warn('tests/site/markup.test.ts is left out: there is no Java to run the Nu Html Checker.');

let out: string;

beforeAll(async () => {
  out = mkdtempSync(join(tmpdir(), 'markup-'));
  if (!hasJava) return;
  await buildInto(out, DEMO);
  // The pages that only a seal makes.
  const cwd = book();
  for (const args of [
    ['seal'],
    ['build', '--seal', '--out', join(out, 'sealed')],
    ['changes', '--from-seal', TODAY, '--out', join(out, 'letter')],
  ])
    expect(await run(args, { cwd })).toMatchObject({ code: 0 });
});

afterAll(() => rmSync(out, { recursive: true, force: true }));

test.runIf(hasJava)('the Nu Html Checker finds no error in any page', { timeout: 240_000 }, () => {
  const jar = String(createRequire(import.meta.url)('vnu-jar'));
  const result = spawnSync(
    'java',
    ['-Xss1m', '-jar', jar, '--skip-non-html', '--errors-only', '--format', 'json', out],
    {
      encoding: 'utf8',
      maxBuffer: 64 * 1024 * 1024,
    },
  );
  const { messages } = JSON.parse(result.stderr) as {
    messages: { url: string; message: string; extract?: string }[];
  };
  const found = messages.map(
    ({ url, message, extract }) => `${url.slice(url.indexOf(out) + out.length)}: ${message} ${extract ?? ''}`,
  );
  expect(found.slice(0, 20)).toEqual([]);
  expect(result.status).toBe(0);
});
