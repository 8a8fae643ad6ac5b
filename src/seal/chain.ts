import { createHash } from 'node:crypto';
import type { Seal } from '../../schemas/seal.js';
import { byDate, type HashedEntry, isInOrder } from './order.js';

/**
 * The chain of entries. Each link is the SHA-256 of the link before and of the entry, so that the last one stands
 * for all entries in their order: none can be changed, taken out, put in between or moved without every later link
 * becoming another.
 */

type ChainedEntry = Seal['entries'][number];

/** What stands for the link before the first. */
const START = '0'.repeat(64);

/** Puts entries into order and chains them. */
export function chainOf(entries: readonly HashedEntry[]): ChainedEntry[] {
  let before = START;
  return [...entries].sort(byDate).map(({ date, path, sha256 }) => {
    const link = linkOf(before, { date, path, sha256 });
    before = link;
    return { date, path, sha256, link };
  });
}

/** The place of the first entry whose link does not follow from those before it, or that is out of order; else null. */
export function brokenLink(entries: readonly ChainedEntry[]): number | null {
  let before = START;
  for (const [at, entry] of entries.entries()) {
    const inOrder = isInOrder(entries.slice(Math.max(0, at - 1), at + 1), byDate);
    if (!inOrder || entry.link !== linkOf(before, entry)) return at;
    before = entry.link;
  }
  return null;
}

function linkOf(before: string, { date, path, sha256 }: HashedEntry): string {
  return createHash('sha256').update(`${before} ${date} ${sha256} ${path}\n`).digest('hex');
}
