import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { chainOf } from '../../src/seal/chain.js';
import { sealText, sha256 } from '../../src/seal/text.js';
import { tempFolder } from '../folders.js';

/** Makes a key without a passphrase, or with one; gives the path of its private half. */
export function makeKey(args: readonly string[], passphrase = ''): string {
  const path = join(tempFolder(), 'key');
  execFileSync('ssh-keygen', ['-q', '-t', ...args, '-N', passphrase, '-C', 'made for a test', '-f', path]);
  return path;
}

/** A small seal. */
export function smallSeal(): string {
  return sealText({
    of: 'book',
    subject: 'Wherry “Ünal”',
    made: '2026-04-20',
    key: null,
    previous: { file: 'seals/2025-04-20.json', sha256: sha256('the one before') },
    book: null,
    files: ['book.yaml', 'systems/engine.md'].map((path) => ({ path, sha256: sha256(path) })),
    entries: chainOf(
      ['2026-03-01', '2026-04-18', '2026-04-18'].map((date, at) => {
        const path = `entries/2026/${date}-${at}.md`;
        return { date, path, sha256: sha256(path) };
      }),
    ),
  });
}

/** The same bytes with one bit turned. */
export function flipped(bytes: Uint8Array, bit: number): Buffer {
  const copy = Buffer.from(bytes);
  copy[bit >> 3] = (copy[bit >> 3] ?? 0) ^ (1 << (bit & 7));
  return copy;
}
