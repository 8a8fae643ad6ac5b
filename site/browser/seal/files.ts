import { groupLines } from '../../../src/seal/groups.js';

/** Reading a site's seal and its files by the browser's own means. */

interface SealedFile {
  readonly path: string;
  readonly sha256: string;
}

/** A seal as far as the page needs it. */
export interface PublishedSeal {
  readonly made: string;
  readonly signed: boolean;
  readonly files: readonly SealedFile[];
  /** Its own hash, in lines of groups. */
  readonly hash: readonly string[];
}

/** A file that is not as it was sealed, and how. */
export interface Differing {
  readonly path: string;
  readonly how: 'changed' | 'missing';
}

/** SHA-256 in hexadecimal. */
async function sha256(bytes: BufferSource): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', bytes);
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** The bytes of a file of the site; null where the host has none. @throws where the host cannot be reached. */
async function bytesOf(path: string): Promise<ArrayBuffer | null> {
  const address = path.split('/').map(encodeURIComponent).join('/');
  // From the host, not from what the browser kept of it.
  const response = await fetch(address, { cache: 'no-store', credentials: 'same-origin' });
  return response.ok ? response.arrayBuffer() : null;
}

/** Reads the seal of the site. @returns a text where there is none that can be used: why. */
export async function publishedSeal(): Promise<PublishedSeal | string> {
  const bytes = await bytesOf('seal.json');
  if (bytes === null) return 'The seal (seal.json) is not there: it was taken away, or left behind.';
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    const seal = JSON.parse(text) as {
      readonly format: string;
      readonly made: string;
      readonly key: string | null;
      readonly files: readonly SealedFile[];
      readonly sum: string;
    };
    const above = new TextEncoder().encode(text.slice(0, text.lastIndexOf('"sum": ')));
    if (seal.format === 'ribband-seal' && seal.sum === (await sha256(above)))
      return {
        made: seal.made,
        signed: seal.key !== null,
        files: seal.files,
        hash: groupLines(await sha256(bytes)),
      };
  } catch {
    // Told below: what cannot be read is no seal either.
  }
  return 'The seal (seal.json) is not whole: it was altered after it was made.';
}

/** Files that are fetched at one time: what a browser asks one host for. */
const AT_ONCE = 6;

/**
 * Fetches every file that a seal names and tells those that differ, in the order of the seal.
 *
 * @param tell called after each file with how many are done.
 * @throws where the host cannot be reached any more.
 */
export async function differingFiles(
  files: readonly SealedFile[],
  tell: (done: number) => void,
): Promise<readonly Differing[]> {
  const found: (Differing | null)[] = files.map(() => null);
  let next = 0;
  let done = 0;
  const work = async () => {
    for (let at = next++; at < files.length; at = next++) {
      const file = files[at];
      if (file === undefined) return;
      const bytes = await bytesOf(file.path);
      if (bytes === null) found[at] = { path: file.path, how: 'missing' };
      else if ((await sha256(bytes)) !== file.sha256) found[at] = { path: file.path, how: 'changed' };
      done += 1;
      tell(done);
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, work));
  return found.filter((one) => one !== null);
}
