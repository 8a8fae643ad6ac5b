import { createHash } from 'node:crypto';
import { type Seal, sealSchema } from '../../schemas/seal.js';
import { decode } from '../read/text.js';
import { brokenLink } from './chain.js';
import { byPath, isInOrder } from './order.js';

/** The bytes of a seal: one way to write what it says, and a reader that takes nothing else. */

/** A seal before its text has been summed up. */
export type SealBody = Omit<Seal, 'format' | 'version' | 'sum'>;

/** Largest seal that is read, in bytes: some two hundred thousand files. */
const MAX_SEAL_BYTES = 50_000_000;

/** What a seal turned out to be. */
export type ReadSeal =
  | { readonly ok: true; readonly seal: Seal; readonly hash: string }
  | { readonly ok: false; readonly why: string };

/** SHA-256 in hexadecimal. */
export function sha256(data: string | Uint8Array): string {
  return createHash('sha256').update(data).digest('hex');
}

/**
 * Writes a seal: fields in the order of the schema, a line each; lists with a row a line; at the end the SHA-256
 * of all the lines above it.
 */
export function sealText({ of, subject, made, key, previous, book, files, entries }: SealBody): string {
  const fields: readonly (readonly [string, string])[] = [
    ['format', JSON.stringify('ribband-seal')],
    ['version', '1'],
    ['of', JSON.stringify(of)],
    ['subject', JSON.stringify(subject)],
    ['made', JSON.stringify(made)],
    ['key', JSON.stringify(key)],
    ['previous', JSON.stringify(otherSeal(previous))],
    ['book', JSON.stringify(otherSeal(book))],
    ['files', rowLines(files.map(({ path, sha256 }) => ({ path, sha256 })))],
    ['entries', rowLines(entries.map(({ date, path, sha256, link }) => ({ date, path, sha256, link })))],
  ];
  const above = `{\n${fields.map(([name, value]) => `"${name}": ${value},\n`).join('')}`;
  return `${above}"sum": "${sha256(above)}"\n}\n`;
}

function otherSeal(seal: Seal['previous']): Seal['previous'] {
  return seal === null ? null : { file: seal.file, sha256: seal.sha256 };
}

function rowLines(rows: readonly object[]): string {
  return rows.length === 0 ? '[]' : `[\n${rows.map((row) => JSON.stringify(row)).join(',\n')}\n]`;
}

/**
 * Reads a seal and proves it whole: to the byte what would be written of what it says, its sum right, its rows in
 * order, its chain unbroken.
 *
 * @returns the seal with the SHA-256 of its bytes, or why it is none, in words that follow "it is no whole seal:".
 */
export function readSeal(bytes: Uint8Array): ReadSeal {
  const decoded = decode(bytes, MAX_SEAL_BYTES);
  if (!decoded.ok) return no('its bytes are no text');
  const { text } = decoded;
  if (text === '') return no('it is empty');
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch {
    return no(text.endsWith('\n}\n') ? 'it is no JSON' : 'it breaks off before its end');
  }
  const version = (data as { readonly version?: unknown } | null)?.version;
  if (typeof version === 'number' && version > 1)
    return no(`it is of version ${version}, which a newer ribband has made`);
  const parsed = sealSchema.safeParse(data);
  if (!parsed.success)
    return no(`\`${parsed.error.issues[0]?.path.join('.') ?? ''}\` is not as it has to be`);
  const seal = parsed.data;
  const written = sealText(seal);
  if (!written.endsWith(`"sum": "${seal.sum}"\n}\n`))
    return no('its sum is not that of its lines: it was altered after it was made');
  if (written !== text) return no('it is not written as ribband writes it: it was altered after it was made');
  const paths = [...seal.files, ...seal.entries].map(({ path }) => path);
  if (!isInOrder(seal.files, byPath) || new Set(paths).size !== paths.length)
    return no('its files are out of order, or named twice');
  const at = brokenLink(seal.entries);
  if (at !== null) return no(`the chain of its entries is broken at ${seal.entries[at]?.path ?? ''}`);
  return { ok: true, seal, hash: sha256(bytes) };
}

function no(why: string): ReadSeal {
  return { ok: false, why };
}
