import { createHash } from 'node:crypto';

/** Drawn once by lot; names of books are made unique below it. */
const NAMESPACE = Buffer.from('7d4b0c1e5a9f4c61b3d28e57f0a6c914', 'hex');

/**
 * A name for something in a book that is the same in every build and on every host: a UUID by name (RFC 9562,
 * version 5) from the short name of the book and what it is called there.
 */
export function stableId(book: string, what: string): string {
  const hash = createHash('sha1').update(NAMESPACE).update(`${book}/${what}`).digest();
  hash[6] = ((hash[6] as number) & 0x0f) | 0x50;
  hash[8] = ((hash[8] as number) & 0x3f) | 0x80;
  const hex = hash.toString('hex');
  return `urn:uuid:${[hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20, 32)].join('-')}`;
}
