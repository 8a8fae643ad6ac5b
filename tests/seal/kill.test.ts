import { spawn } from 'node:child_process';
import { mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { openSeal } from '../../src/seal/check.js';
import { sealsIn } from '../../src/seal/store.js';
import { finishWriting } from '../../src/write/together.js';
import { tempFolder } from '../folders.js';
import { makeKey } from './support.js';

/** A run that is killed at any moment leaves the old state or the new one, and nothing that hinders the next. */

/** Some times over, or as often as `KILLS` in the environment says. */
const KILLS = Number(process.env['KILLS'] ?? 16);

const SRC = pathToFileURL(join(import.meta.dirname, '../../src')).href;

/** Seals a book again and again, a seal a day, until it is killed: `ready` once all is loaded. */
const SEALING = `
  const [{ readFolder }, { newSeal }, { keepSeal }, { signerOf, sign }] = await Promise.all(
    ['read/folder.ts', 'seal/make.ts', 'seal/store.ts', 'seal/ssh-sign.ts'].map((file) => import('${SRC}/' + file)),
  );
  const [root, key, first] = process.argv.slice(1);
  const signer = signerOf(key, key).value;
  const made = newSeal(readFolder(root), [], '2000-01-01', signer.key);
  const signature = (await sign(made.text, signer, false)).value;
  console.log('ready');
  for (let day = Number(first); ; day += 1) {
    const file = 'seals/' + (2000 + Math.floor(day / 28)) + '-01-' + String(1 + (day % 28)).padStart(2, '0') + '.json';
    keepSeal(root, file, made.text, signature);
  }
`;

/** Runs that, and kills it so many milliseconds after it has begun. */
async function sealAndDie(root: string, key: string, first: number, after: number): Promise<void> {
  const args = ['--import', 'tsx', '--input-type=module', '-e', SEALING, root, key, String(first)];
  const child = spawn(process.execPath, args, {
    cwd: join(import.meta.dirname, '../..'),
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    said += text;
  });
  child.stdout.once('data', () => setTimeout(() => child.kill('SIGKILL'), after));
  const signal = await new Promise((resolve) => child.on('close', (_code, by) => resolve(by)));
  expect(signal, said).toBe('SIGKILL');
}

describe('sealing that is killed', () => {
  it('again and again leaves whole seals with good signatures, and no seal without its signature', async () => {
    const root = tempFolder();
    mkdirSync(join(root, 'entries'));
    writeFileSync(join(root, 'book.yaml'), 'book: wherry\nsubject: { name: Wherry }\n');
    writeFileSync(join(root, 'entries/2026-01-01-x.md'), '---\ndate: 2026-01-01\n---\n');
    mkdirSync(join(root, 'seals'));
    mkdirSync(join(root, '.ribband'));
    const key = makeKey(['ed25519']);
    let opened = 0;
    let cutShort = 0;
    for (let time = 0; time < KILLS; time += 1) {
      const before = sealsIn(root).length;
      await sealAndDie(root, key, before, (time * 7) % 40);
      cutShort += readdirSync(join(root, '.ribband')).filter((name) => name.startsWith('writing-')).length;
      // Neither as it was left, nor when somebody opens the book again, is a seal without its signature.
      for (const finish of [() => [], () => finishWriting(root)]) {
        finish();
        for (const { file } of sealsIn(root).slice(before))
          expect(openSeal(join(root, file), file, null), file).toMatchObject({
            signature: { state: 'good' },
          });
      }
      const names = readdirSync(join(root, 'seals'));
      expect(names.filter((name) => name.startsWith('.'))).toEqual([]);
      expect(names.filter((name) => name.endsWith('.sig') && !names.includes(name.slice(0, -4)))).toEqual([]);
      opened += sealsIn(root).length - before;
    }
    expect(opened).toBeGreaterThan(KILLS / 4);
    // Some were killed in the middle of it, or the test has shown nothing.
    expect(cutShort).toBeGreaterThan(KILLS / 4);
  }, 600_000);
});
