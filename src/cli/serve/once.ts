import { createHash } from 'node:crypto';
import type { Draft } from '../../draft/draft.js';
import type { Taken } from '../take-entry.js';
import type { TakeIn } from './entries.js';

/**
 * Takes each entry once. A phone in a yard loses the answer to what it has sent, and sends it again; whoever did
 * not see that must not find the entry twice in the book.
 *
 * @param isThere whether an entry that was taken is still in the book.
 */
export function onceEach(takeIn: TakeIn, isThere: (path: string) => boolean): TakeIn {
  const taken = new Map<string, Promise<Taken>>();
  return async (draft, pictures, sentAs) => {
    if (sentAs === null) return takeIn(draft, pictures, null);
    const key = hashOf(sentAs, draft, pictures);
    const earlier = await taken.get(key);
    if (earlier?.ok === true && isThere(earlier.path)) return earlier;
    const taking = takeIn(draft, pictures, sentAs);
    taken.set(key, taking);
    try {
      const now = await taking;
      if (!now.ok) taken.delete(key);
      return now;
    } catch (error) {
      taken.delete(key);
      throw error;
    }
  };
}

function hashOf(sentAs: string, draft: Draft, pictures: ReadonlyMap<string, Uint8Array>): string {
  const hash = createHash('sha256').update(JSON.stringify([sentAs, draft]));
  for (const bytes of pictures.values()) hash.update(createHash('sha256').update(bytes).digest());
  return hash.digest('hex');
}
