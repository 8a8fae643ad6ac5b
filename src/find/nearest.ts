import { distance } from 'fastest-levenshtein';
import { fold } from './words.js';

/** The known name that a misspelt one most likely stands for, or null where none is within a third of its length. */
export function nearestName(written: string, known: Iterable<string>): string | null {
  const plain = fold(written.slice(0, 100));
  let best: string | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const name of known) {
    const away = distance(plain, fold(name));
    if (away >= least) continue;
    best = name;
    least = away;
  }
  return best !== null && least <= Math.max(1, Math.floor(Math.max(plain.length, best.length) / 3))
    ? best
    : null;
}

/** `a, b and c`. */
export function listed(words: readonly string[], last = 'and'): string {
  if (words.length <= 1) return words[0] ?? '';
  return `${words.slice(0, -1).join(', ')} ${last} ${words[words.length - 1]}`;
}
