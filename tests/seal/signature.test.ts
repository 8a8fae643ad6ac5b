import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { fingerprint, keysIn, keyText, publicOfPrivate } from '../../src/seal/ssh-key.js';
import { sign, signerOf } from '../../src/seal/ssh-sign.js';
import { verifySignature } from '../../src/seal/ssh-signature.js';
import { tempFolder } from '../folders.js';
import { flipped, makeKey, smallSeal } from './support.js';

/** Signatures are held against the `ssh-keygen` that is installed, both ways. */

const message = smallSeal();

const KEYS: readonly (readonly [string, readonly string[]])[] = [
  ['ssh-ed25519', ['ed25519']],
  ['ssh-rsa', ['rsa', '-b', '2048']],
  ['ecdsa-sha2-nistp256', ['ecdsa', '-b', '256']],
  ['ecdsa-sha2-nistp384', ['ecdsa', '-b', '384']],
  ['ecdsa-sha2-nistp521', ['ecdsa', '-b', '521']],
];

/** What `ssh-keygen -Y verify` says of a signature over a message, or why it refuses. */
function stockVerdict(key: string, text: string, signature: string): string {
  const folder = tempFolder();
  const allowed = join(folder, 'allowed');
  writeFileSync(allowed, `owner@wherry ${readFileSync(`${key}.pub`, 'utf8')}`);
  writeFileSync(join(folder, 'sig'), signature);
  const args = [
    '-Y',
    'verify',
    '-f',
    allowed,
    '-I',
    'owner@wherry',
    '-n',
    'ribband',
    '-s',
    join(folder, 'sig'),
  ];
  try {
    return execFileSync('ssh-keygen', args, {
      input: text,
      encoding: 'utf8',
      stdio: ['pipe', 'pipe', 'pipe'],
    });
  } catch (error) {
    return `refused: ${(error as { stdout: string }).stdout}`;
  }
}

async function signedBy(key: string): Promise<string> {
  const signer = signerOf(key, key);
  if (!signer.ok) throw new Error(signer.why);
  const made = await sign(message, signer.value, false);
  if (!made.ok) throw new Error(made.why);
  return made.value;
}

describe.each(KEYS)('a signature by a key of the sort %s', (type, args) => {
  it('is good here and for ssh-keygen, for these bytes alone', async () => {
    const key = makeKey(args);
    const signature = await signedBy(key);
    const verdict = verifySignature(Buffer.from(message), signature);
    expect(verdict).toMatchObject({ ok: true, key: { type } });
    const own = keysIn(readFileSync(`${key}.pub`, 'utf8'))[0];
    if (own === undefined || !verdict.ok) throw new Error('no key');
    expect(keyText(verdict.key)).toBe(keyText(own));
    expect(keyText(publicOfPrivate(readFileSync(key, 'latin1')) ?? own)).toBe(keyText(own));
    expect(execFileSync('ssh-keygen', ['-l', '-f', `${key}.pub`], { encoding: 'utf8' })).toContain(
      fingerprint(own),
    );
    expect(stockVerdict(key, message, signature)).toMatch(/^Good "ribband" signature/);
    for (const other of [`${message} `, message.replace('Wherry', 'wherry')]) {
      expect(verifySignature(Buffer.from(other), signature)).toMatchObject({
        ok: false,
        why: 'these bytes are not what was signed',
      });
      expect(stockVerdict(key, other, signature)).toMatch('refused');
    }
  });

  it('is good with none of its bits turned', async () => {
    const signature = Buffer.from(await signedBy(makeKey(args)));
    const step = type === 'ssh-ed25519' ? 1 : 7;
    const bits = Array.from({ length: Math.floor((signature.length * 8) / step) }, (_, at) => at * step);
    const taken = bits.filter(
      (bit) => verifySignature(Buffer.from(message), flipped(signature, bit).toString('latin1')).ok,
    );
    expect(bits.length).toBeGreaterThan(300);
    expect(taken).toEqual([]);
  });
});

describe('a signature', () => {
  it('that was made for another use is not taken', () => {
    const key = makeKey(['ed25519']);
    const args = ['-Y', 'sign', '-q', '-n', 'file', '-f', key];
    const signature = execFileSync('ssh-keygen', args, { input: message, encoding: 'utf8' });
    expect(verifySignature(Buffer.from(message), signature)).toEqual({
      ok: false,
      why: 'it was made for another use, `file`',
    });
  });

  it('by a key that is too weak is not taken', () => {
    const key = makeKey(['rsa', '-b', '1024']);
    const args = ['-Y', 'sign', '-q', '-n', 'ribband', '-f', key];
    const signature = execFileSync('ssh-keygen', args, { input: message, encoding: 'utf8' });
    expect(verifySignature(Buffer.from(message), signature)).toMatchObject({
      why: 'its key has fewer than 2048 bits',
    });
  });

  it.each(['', 'text', '-----BEGIN SSH SIGNATURE-----\n-----END SSH SIGNATURE-----\n'])(
    'is told from what is none: %j',
    (text) => {
      expect(verifySignature(Buffer.from(message), text)).toMatchObject({
        why: 'it is no signature of OpenSSH',
      });
    },
  );
});

describe('a key that cannot sign', () => {
  it('is told of in one line, with what to do', async () => {
    expect(signerOf('/nowhere/key', 'key')).toMatchObject({ why: 'There is no key `key` that can be read.' });
    const folder = tempFolder();
    writeFileSync(join(folder, 'key'), 'no key');
    expect(signerOf(join(folder, 'key'), 'key')).toMatchObject({ why: '`key` is no key of OpenSSH.' });
    writeFileSync(join(folder, 'sk.pub'), `sk-ssh-ed25519@openssh.com ${skKey()} token\n`);
    expect(signerOf(join(folder, 'sk.pub'), 'sk.pub')).toMatchObject({
      why: 'Keys of the sort sk-ssh-ed25519@openssh.com are not understood by `ribband seal --check`.',
    });
    const locked = signerOf(makeKey(['ed25519'], 'a passphrase'), 'locked');
    if (!locked.ok) throw new Error(locked.why);
    expect(await sign(message, locked.value, false)).toMatchObject({
      why: 'The key `locked` needs its passphrase, and it was not given or is wrong.',
    });
    const key = makeKey(['ed25519']);
    writeFileSync(join(folder, 'public.pub'), readFileSync(`${key}.pub`));
    const elsewhere = signerOf(join(folder, 'public.pub'), 'public.pub');
    if (!elsewhere.ok) throw new Error(elsewhere.why);
    expect(await sign(message, elsewhere.value, false)).toMatchObject({
      why: 'No agent holds the key of `public.pub`.',
    });
    expect(await sign(message, elsewhere.value, false, 'no-such-program')).toMatchObject({
      why: '`ssh-keygen` was not found, without which nothing can be signed.',
    });
  });

  it('is told of where its public half is another', async () => {
    const key = makeKey(['ed25519']);
    writeFileSync(`${key}.pub`, readFileSync(`${makeKey(['ed25519'])}.pub`));
    const signer = signerOf(key, 'key');
    if (!signer.ok) throw new Error(signer.why);
    const made = await sign(message, signer.value, false);
    expect(made).toMatchObject({ ok: false });
  });
});

/** The public half of a key in a token, made up. */
function skKey(): string {
  const type = Buffer.from('sk-ssh-ed25519@openssh.com');
  return Buffer.concat([Buffer.from([0, 0, 0, type.length]), type, Buffer.alloc(40)]).toString('base64');
}
