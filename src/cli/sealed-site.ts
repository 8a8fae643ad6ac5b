import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Seal } from '../../schemas/seal.js';
import { hashFile } from '../seal/hash-file.js';
import { byPath, type HashedFile } from '../seal/order.js';
import { SITE_SEAL, SITE_SUMS, sumsText } from '../seal/published.js';
import { keyText, type SshKey } from '../seal/ssh-key.js';
import { sealsIn } from '../seal/store.js';
import { sealText, sha256 } from '../seal/text.js';
import type { Manifest } from '../write/manifest.js';
import type { SiteFile } from '../write/publish.js';
import type { SiteFiles } from './pipeline.js';

/** How a site is to be sealed. */
export interface SiteSealing {
  /** Who signs it; null for a seal without a signature. */
  readonly signer: { readonly key: SshKey; readonly sign: (text: string) => Promise<string> } | null;
}

/** What a site's seal says besides the hashes. */
export interface SealedFacts {
  readonly subject: string;
  readonly made: string;
  /** The newest seal of the owner's book, for the owner's site; else null. */
  readonly book: Seal['book'];
}

/** The newest seal of a book, by its hash. @throws what the file system throws. */
export function newestSeal(root: string): Seal['book'] {
  const file = sealsIn(root).at(-1)?.file;
  return file === undefined ? null : { file, sha256: sha256(readFileSync(join(root, file))) };
}

/**
 * The files of a site with its seal: every file is hashed as it is published, and behind the last one come
 * `SHA256SUMS` and the seal. A seal that was made of just these files on the same day is kept.
 *
 * @param out where the site lies now, for files that are kept.
 */
export function withSeal(
  site: SiteFiles,
  { signer }: SiteSealing,
  facts: SealedFacts,
  manifest: Manifest<unknown>,
  out: string,
): SiteFiles {
  const key = signer === null ? null : keyText(signer.key);
  const standsFor = JSON.stringify([facts, key, [...site.keys].sort()]);
  const sealKey = createHash('sha256').update(standsFor).digest('hex');
  const paths = [SITE_SUMS, SITE_SEAL, ...(key === null ? [] : [`${SITE_SEAL}.sig`])];
  const isKept = site.written === 0 && paths.every((path) => manifest.has(path, sealKey));
  return {
    keys: new Map([...site.keys, ...paths.map((path) => [path, sealKey] as const)]),
    written: site.written + (isKept ? 0 : paths.length),
    files: async function* (progress) {
      if (isKept) {
        yield* paths.map((path): SiteFile => ({ path, keep: true }));
        yield* site.files(progress);
        return;
      }
      const hashed: HashedFile[] = [];
      for await (const file of site.files(progress)) {
        hashed.push({ path: file.path, sha256: hashOf(file, out) });
        yield file;
      }
      progress('sealing');
      yield* sealFiles(hashed, facts, signer);
    },
  };
}

function hashOf(file: SiteFile, out: string): string {
  if ('content' in file) return sha256(file.content);
  if ('pieces' in file) {
    const sum = createHash('sha256');
    for (const piece of file.pieces()) sum.update(piece);
    return sum.digest('hex');
  }
  return hashFile('copyOf' in file ? file.copyOf : join(out, file.path));
}

async function* sealFiles(
  hashed: readonly HashedFile[],
  { subject, made, book }: SealedFacts,
  signer: SiteSealing['signer'],
): AsyncGenerator<SiteFile> {
  const sums = sumsText(hashed);
  yield { path: SITE_SUMS, content: sums };
  const files = [...hashed, { path: SITE_SUMS, sha256: sha256(sums) }].sort(byPath);
  const key = signer === null ? null : keyText(signer.key);
  const text = sealText({ of: 'site', subject, made, key, previous: null, book, files, entries: [] });
  if (signer !== null) yield { path: `${SITE_SEAL}.sig`, content: await signer.sign(text) };
  yield { path: SITE_SEAL, content: text };
}
