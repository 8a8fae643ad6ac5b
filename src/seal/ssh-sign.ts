import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { KEY_TYPES, keysIn, keyText, publicOfPrivate, type SshKey } from './ssh-key.js';
import { NAMESPACE, verifySignature } from './ssh-signature.js';

/** Signing, by the `ssh-keygen` that is installed: keys, agents and tokens are its business, and no key passes here. */

/** A key to sign with. */
export interface Signer {
  readonly key: SshKey;
  /** Its file: a private key, or the public one of a key that an agent holds. */
  readonly path: string;
  /** The same as it was named, for messages. */
  readonly file: string;
}

/** What came of it, or why not with what to do about it. */
export type Result<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly why: string; readonly hint: string | null };

/**
 * Looks at a key before anything is made.
 *
 * @param path of a private key, or of the public one of a key that an agent holds.
 * @param file the same as it was named.
 */
export function signerOf(path: string, file: string): Result<Signer> {
  const own = textOf(path);
  if (own === null) return no(`There is no key \`${file}\` that can be read.`, null);
  // The public half is told by the file beside, and by most private keys themselves.
  const key = keysIn(own)[0] ?? keysIn(textOf(`${path}.pub`) ?? '')[0] ?? publicOfPrivate(own);
  if (key === undefined || key === null)
    return no(
      `\`${file}\` is no key of OpenSSH.`,
      'Name a private key such as ~/.ssh/id_ed25519; an old one (PEM) needs its .pub file beside it.',
    );
  if (!KEY_TYPES.some((type) => type === key.type))
    return no(
      `Keys of the sort ${key.type} are not understood by \`ribband seal --check\`.`,
      `Take one of ${KEY_TYPES.join(', ')}; \`ssh-keygen -t ed25519\` makes one.`,
    );
  return { ok: true, value: { key, path, file } };
}

function textOf(file: string): string | null {
  try {
    return readFileSync(file, 'latin1');
  } catch {
    return null;
  }
}

/**
 * Signs bytes.
 *
 * @param isTerminal whether somebody is there to be asked for a passphrase.
 * @returns the text of the `.sig` file, which has been checked.
 */
export async function sign(
  message: string,
  { key, path: keyPath, file }: Signer,
  isTerminal: boolean,
  program = 'ssh-keygen',
): Promise<Result<string>> {
  const folder = mkdtempSync(join(tmpdir(), 'ribband-sign-'));
  try {
    const path = join(folder, 'seal.json');
    writeFileSync(path, message);
    const ran = await run(program, ['-Y', 'sign', '-q', '-n', NAMESPACE, '-f', keyPath, path], isTerminal);
    if (ran === null)
      return no(
        '`ssh-keygen` was not found, without which nothing can be signed.',
        'It comes with OpenSSH; install that, or seal without `--key` and sign elsewhere.',
      );
    if (ran.code !== 0) return failed(file, ran.said);
    const armoured = readFileSync(`${path}.sig`, 'utf8');
    const verdict = verifySignature(Buffer.from(message), armoured);
    if (!verdict.ok) return no(`\`ssh-keygen\` gave a signature that does not hold: ${verdict.why}.`, null);
    if (keyText(verdict.key) !== keyText(key))
      return no(`\`${file}.pub\` is not the public half of \`${file}\`.`, 'Mend or remove it.');
    return { ok: true, value: armoured };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function failed(file: string, said: string): Result<never> {
  if (/passphrase/i.test(said))
    return no(
      `The key \`${file}\` needs its passphrase, and it was not given or is wrong.`,
      'Seal on a terminal, which asks for it; or `ssh-add` the key and name its .pub file.',
    );
  if (/too open/i.test(said))
    return no(`Others can read the key \`${file}\`, so it is not used.`, `\`chmod 600 ${file}\` mends it.`);
  if (/agent|no private key found/i.test(said))
    return no(
      `No agent holds the key of \`${file}\`.`,
      'Add it with `ssh-add`, or name the private key instead of its .pub file.',
    );
  const reason = said
    .trim()
    .split(/\r?\n/)
    .at(-1)
    ?.replaceAll(/[^\x20-\x7e]/g, '?');
  return no(`\`ssh-keygen\` could not sign with \`${file}\`: ${reason ?? 'it did not say why'}.`, null);
}

/** Runs a program to its end; null where it is not there. */
async function run(program: string, args: readonly string[], isTerminal: boolean) {
  return new Promise<{ readonly code: number | null; readonly said: string } | null>((resolve, reject) => {
    const child = spawn(program, args, {
      stdio: ['ignore', 'ignore', 'pipe'],
      // Away from the terminal it cannot stop to ask somebody who is not there.
      detached: !isTerminal,
      windowsHide: true,
      env: isTerminal ? process.env : { ...process.env, SSH_ASKPASS_REQUIRE: 'never' },
    });
    let said = '';
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      said += text;
    });
    child.on('error', (error: NodeJS.ErrnoException) =>
      error.code === 'ENOENT' || error.code === 'EACCES' ? resolve(null) : reject(error),
    );
    child.on('close', (code) => resolve({ code, said }));
  });
}

function no(why: string, hint: string | null): Result<never> {
  return { ok: false, why, hint };
}
