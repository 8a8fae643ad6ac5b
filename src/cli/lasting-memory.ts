import { emptyMemory } from '../check/built-memory.js';
import { emptyReckonMemory } from '../reckon/reckon-memory.js';
import { type Cache, parseMemory } from '../write/cache.js';

/**
 * A memory for a program that looks at a book again and again: besides what is stored of its files, what was built and
 * reckoned of them stays at hand.
 */
export function lastingMemory(cache: Cache) {
  return { ...parseMemory(cache), built: emptyMemory(), reckoned: emptyReckonMemory() };
}
