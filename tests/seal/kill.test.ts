import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { openSeal } from '../../src/seal/check.js';
import { sealsIn } from '../../src/seal/store.js';
import { makeKey, tempFolder } from './support.js';

/** A run that is killed at any moment leaves the old state or the new one, and nothing that hinders the next. */

const SRC = pathToFileURL(join(import.meta.dirname, '../../src')).href;

/** Seals a book again and again, a seal a day, until it is killed: `ready` once all is loaded. */
const SEALING = `
  const [{ readFolder }, { newSeal }, { keepSeal, sealsIn }, { signerOf, sign }] = await Promise.all(
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
  it('forty times over leaves whole seals with good signatures, and no seal without its signature', async () => {
    const root = tempFolder();
    mkdirSync(join(root, 'entries'));
    writeFileSync(join(root, 'book.yaml'), 'book: wherry\nsubject: { name: Wherry }\n');
    writeFileSync(join(root, 'entries/2026-01-01-x.md'), '---\ndate: 2026-01-01\n---\n');
    const key = makeKey(['ed25519']);
    const rubbish = { orphans: 0, aside: 0 };
    let opened = 0;
    for (let time = 0; time < 40; time += 1) {
      const before = sealsIn(root).length;
      await sealAndDie(root, key, before, (time * 7) % 40);
      const names = existsSync(join(root, 'seals')) ? readdirSync(join(root, 'seals')) : [];
      rubbish.aside += names.filter((name) => name.startsWith('.')).length;
      rubbish.orphans += names.filter(
        (name) => name.endsWith('.sig') && !names.includes(name.slice(0, -4)),
      ).length;
      for (const { file } of sealsIn(root).slice(before)) {
        expect(openSeal(join(root, file), file, null), file).toMatchObject({ signature: { state: 'good' } });
        opened += 1;
      }
    }
    expect(opened).toBeGreaterThan(40);
    // Some were killed between the two files, or the test has shown nothing.
    expect(rubbish.aside + rubbish.orphans).toBeGreaterThan(0);
  }, 240_000);
});
