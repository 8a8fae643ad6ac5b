import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import type { Seal } from '../../schemas/seal.js';
import { chainOf } from '../../src/seal/chain.js';
import { digitsOf, groupLines } from '../../src/seal/groups.js';
import { sealSummary } from '../../src/seal/summary.js';
import { readSeal, sealText, sha256 } from '../../src/seal/text.js';
import { tempFolder } from '../folders.js';
import { flipped, makeKey, smallSeal } from './support.js';

const text = smallSeal();
const bytes = Buffer.from(text);

function opened(): Seal {
  const read = readSeal(bytes);
  if (!read.ok) throw new Error(read.why);
  return read.seal;
}

function whyNot(changed: string): string {
  const read = readSeal(Buffer.from(changed));
  return read.ok ? 'it was taken' : read.why;
}

describe('the text of a seal', () => {
  it('says the same when it is read and written again, and is its own schema', () => {
    const seal = opened();
    expect(sealText(seal)).toBe(text);
    const schema: unknown = JSON.parse(
      readFileSync(join(import.meta.dirname, '../../schemas/json/seal.schema.json'), 'utf8'),
    );
    const validate = new Ajv2020({ strict: false }).compile(schema as object);
    expect(validate(JSON.parse(text)), JSON.stringify(validate.errors)).toBe(true);
  });

  it('is taken with none of its bits turned', () => {
    const taken = Array.from({ length: bytes.length * 8 }, (_, bit) => bit).filter(
      (bit) => readSeal(flipped(bytes, bit)).ok,
    );
    expect(bytes.length).toBeGreaterThan(1000);
    expect(taken).toEqual([]);
  });

  it('is not taken cut off anywhere, nor with anything behind it', () => {
    const taken = Array.from({ length: bytes.length }, (_, end) => end).filter(
      (end) => readSeal(bytes.subarray(0, end)).ok,
    );
    expect(taken).toEqual([]);
    expect(whyNot(text.slice(0, 300))).toBe('it breaks off before its end');
    expect(whyNot('')).toBe('it is empty');
    expect(readSeal(Buffer.from(`${text}\n`)).ok).toBe(false);
    expect(readSeal(Buffer.from(text.replaceAll('\n', '\r\n'))).ok).toBe(false);
  });

  it('is not taken with rows in another order, taken out or named twice, though all sums are right', () => {
    const seal = opened();
    const [a, b, c] = seal.entries as [Seal['entries'][0], Seal['entries'][0], Seal['entries'][0]];
    const chain = 'the chain of its entries is broken at';
    for (const entries of [
      [b, a, c],
      [a, c],
      [b, c],
      [a, b, { ...c, date: '2026-04-19' }],
    ])
      expect(whyNot(sealText({ ...seal, entries }))).toMatch(chain);
    // With the links worked out anew it stands for other entries: another seal, with another hash.
    const whole = readSeal(Buffer.from(sealText({ ...seal, entries: chainOf([a, c]) })));
    expect(whole.ok && whole.hash).not.toBe(sha256(bytes));
    const files = [...seal.files].reverse();
    expect(whyNot(sealText({ ...seal, files }))).toBe('its files are out of order, or named twice');
    expect(whyNot(sealText({ ...seal, files: [{ path: a.path, sha256: a.sha256 }] }))).toMatch('named twice');
  });

  it('says of one of a later version that it is', () => {
    expect(whyNot(text.replace('"version": 1', '"version": 2'))).toMatch('a newer ribband');
  });

  it('can be followed with other tools: its hash, its sum and its chain', () => {
    const folder = tempFolder();
    writeFileSync(join(folder, 'seal.json'), bytes);
    const stock = execFileSync('sha256sum', ['seal.json'], { cwd: folder, encoding: 'utf8' });
    const read = readSeal(bytes);
    expect(read.ok && stock.startsWith(read.hash)).toBe(true);
    const above = text.slice(0, text.indexOf('"sum"'));
    expect(createHash('sha256').update(above).digest('hex')).toBe(opened().sum);
    let link = '0'.repeat(64);
    for (const entry of opened().entries) {
      link = createHash('sha256')
        .update(`${link} ${entry.date} ${entry.sha256} ${entry.path}\n`)
        .digest('hex');
      expect(entry.link).toBe(link);
    }
  });
});

describe('the summary of a seal', () => {
  it('has what a printed page needs: hash, day, number of files and the key as ssh-keygen shows it', () => {
    const key = makeKey(['ed25519']);
    const publicKey = readFileSync(`${key}.pub`, 'utf8').split(' ').slice(0, 2).join(' ');
    const summary = sealSummary({ ...opened(), key: publicKey }, sha256(bytes));
    expect(summary).toMatchObject({ hash: sha256(bytes), made: '2026-04-20', files: 5 });
    expect(execFileSync('ssh-keygen', ['-l', '-f', `${key}.pub`], { encoding: 'utf8' })).toContain(
      summary.signedBy,
    );
    expect(sealSummary(opened(), '').signedBy).toBe(null);
  });
});

describe('a hash that is read aloud', () => {
  it('stands in groups of four, and is taken back in any grouping', () => {
    const hash = sha256('x');
    expect(groupLines(hash)).toHaveLength(2);
    expect(groupLines(hash)[0]).toMatch(/^(?:[0-9a-f]{4} ){7}[0-9a-f]{4}$/);
    expect(digitsOf(groupLines(hash).join('\n').toUpperCase())).toBe(hash);
    expect(digitsOf(hash.slice(0, 32))).toBe(hash.slice(0, 32));
    for (const bad of [hash.slice(0, 31), `${hash}0`, hash.replace(/./, 'g'), ''])
      expect(digitsOf(bad)).toBe(null);
  });
});
