import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { expect, it } from 'vitest';
import { buildSite } from '../../src/cli/pipeline.js';
import { makeBook, writeBook } from '../bench/generate.js';

/** The shipped program makes the prose of a large book on a second core; run from source it does not. */

const BIN = join(import.meta.dirname, '../../dist/src/bundle/bin.js');
const TODAY = '2025-06-01';

function treeOf(folder: string): ReadonlyMap<string, string> {
  const files = readdirSync(folder, { withFileTypes: true, recursive: true }).filter((file) => file.isFile());
  return new Map(
    files.map((file) => {
      const path = join(file.parentPath ?? file.path, file.name);
      return [relative(folder, path), readFileSync(path, 'latin1')];
    }),
  );
}

it('prose made ahead gives the same site, to the byte, as prose made in its turn', {
  timeout: 240_000,
}, async () => {
  if (!existsSync(BIN)) throw new Error('There is no compiled program yet: run `npm run build` first.');
  const folder = mkdtempSync(join(tmpdir(), 'ribband-ahead-'));
  try {
    const root = join(folder, 'book');
    writeBook(makeBook(310), root);
    const [ahead, inTurn] = [join(folder, 'ahead'), join(folder, 'in-turn')];
    const ran = spawnSync(process.execPath, [BIN, 'build', root, '--out', ahead], {
      env: { PATH: process.env['PATH'] ?? '', RIBBAND_TODAY: TODAY },
      encoding: 'utf8',
    });
    expect(ran.status, ran.stderr).toBe(0);
    rmSync(join(root, '.ribband'), { recursive: true });
    const progress = () => undefined;
    await buildSite({
      root,
      out: inTurn,
      today: TODAY,
      asOf: null,
      audience: 'owner',
      pathPrefix: '/',
      progress,
    });
    const [one, other] = [treeOf(ahead), treeOf(inTurn)];
    expect([...one.keys()].sort()).toEqual([...other.keys()].sort());
    expect([...one].filter(([path, text]) => other.get(path) !== text).map(([path]) => path)).toEqual([]);
    expect(one.size).toBeGreaterThan(310);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
