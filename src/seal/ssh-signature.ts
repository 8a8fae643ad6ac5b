import { createHash, verify } from 'node:crypto';
import { curveBytes, keyObject, type SshKey } from './ssh-key.js';
import { NotWhole, wireReader, wireString } from './ssh-wire.js';

/**
 * Signatures of OpenSSH over files, as `ssh-keygen -Y sign` makes them (PROTOCOL.sshsig of OpenSSH, version 1),
 * checked without it. Only one way of writing a signature is taken, so that no change of it goes unseen.
 */

/** What signatures are for: one made for something else (mail, a commit) is not taken for one on a seal. */
export const NAMESPACE = 'ribband';

/** What a signature turned out to be. */
export type Verdict =
  | { readonly ok: true; readonly key: SshKey }
  /** Why it is none, in words that follow "the signature does not hold:". */
  | { readonly ok: false; readonly why: string };

const ARMOUR = /^-----BEGIN SSH SIGNATURE-----\n((?:[A-Za-z0-9+/]+=*\n)+)-----END SSH SIGNATURE-----\n$/;
const MAGIC = 'SSHSIG';
const HASHES: readonly string[] = ['sha256', 'sha512'];

/**
 * Whether a signature is one over just these bytes, and by which key. Whose key that is it does not say.
 *
 * @param armoured the text of the `.sig` file.
 */
export function verifySignature(message: Uint8Array, armoured: string): Verdict {
  try {
    return { ok: true, key: check(message, unarmour(armoured)) };
  } catch (error) {
    if (error instanceof NotWhole) return { ok: false, why: error.message };
    throw error;
  }
}

function unarmour(text: string): Buffer {
  // Written on Windows, or fetched through something that changes line ends, it is the same signature.
  const lines = (ARMOUR.exec(text.replaceAll('\r\n', '\n'))?.[1] ?? '').split('\n').slice(0, -1);
  const base64 = lines.join('');
  const data = Buffer.from(base64, 'base64');
  const width = lines[0]?.length ?? 0;
  const even = lines.every((line, at) =>
    at < lines.length - 1 ? line.length === width : line.length <= width,
  );
  if (lines.length === 0 || !even || data.toString('base64') !== base64)
    throw new NotWhole('it is no signature of OpenSSH');
  return data;
}

function check(message: Uint8Array, data: Buffer): SshKey {
  const reader = wireReader(data);
  if (reader.bytes(MAGIC.length).toString('latin1') !== MAGIC || reader.uint32() !== 1)
    throw new NotWhole('it is no signature of OpenSSH');
  const blob = reader.string();
  const [namespace, reserved, hash] = [reader.text(), reader.string(), reader.text()];
  const signature = wireReader(reader.string());
  reader.end();
  if (namespace !== NAMESPACE) throw new NotWhole(`it was made for another use, \`${printable(namespace)}\``);
  if (!HASHES.includes(hash)) throw new NotWhole('it uses a hash that is not understood');
  const key: SshKey = { type: wireReader(blob).text(), blob };
  const digest = createHash(hash).update(message).digest();
  const signed = Buffer.concat([
    Buffer.from(MAGIC),
    ...[namespace, reserved, hash, digest].map((part) => wireString(part)),
  ]);
  const how = signature.text();
  const value = signature.string();
  signature.end();
  if (!holds(key, how, signed, value)) throw new NotWhole('these bytes are not what was signed');
  return key;
}

/** No letters that would move about on somebody's terminal. */
function printable(text: string): string {
  return text.replaceAll(/[^\x20-\x7e]/g, '?').slice(0, 40);
}

const RSA_HASHES: Readonly<Record<string, string>> = { 'rsa-sha2-256': 'sha256', 'rsa-sha2-512': 'sha512' };
const CURVE_HASHES: Readonly<Record<string, string>> = {
  'ecdsa-sha2-nistp256': 'sha256',
  'ecdsa-sha2-nistp384': 'sha384',
  'ecdsa-sha2-nistp521': 'sha512',
};

function holds(key: SshKey, how: string, signed: Buffer, value: Buffer): boolean {
  const publicKey = keyObject(key);
  if (key.type === 'ssh-ed25519') return how === key.type && verify(null, signed, publicKey, value);
  if (key.type === 'ssh-rsa') {
    const hash = RSA_HASHES[how];
    // The old way, over SHA-1, is not taken.
    return hash !== undefined && verify(hash, signed, publicKey, value);
  }
  const hash = CURVE_HASHES[key.type];
  if (hash === undefined || how !== key.type) return false;
  const halves = halvesOf(value, curveBytes(key.type));
  return verify(hash, signed, { key: publicKey, dsaEncoding: 'ieee-p1363' }, halves);
}

/** The two numbers of a signature on a curve, each filled up to the size of the curve. */
function halvesOf(value: Buffer, bytes: number): Buffer {
  const reader = wireReader(value);
  const halves = [reader.positive(), reader.positive()];
  reader.end();
  if (halves.some((half) => half.length > bytes)) throw new NotWhole('a number in it is too large');
  return Buffer.concat(halves.map((half) => Buffer.concat([Buffer.alloc(bytes - half.length), half])));
}
