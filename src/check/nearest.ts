import { distance } from 'fastest-levenshtein';

/**
 * The known name that a misspelt one most likely stands for, or null where none is near. A name counts as
 * near within a third of its length; the same letters in another case, or with `_` for `-`, always do.
 */
export function nearest(written: string, known: Iterable<string>): string | null {
  const plain = fold(written);
  let best: string | null = null;
  let bestDistance = Number.POSITIVE_INFINITY;
  for (const name of known) {
    const other = fold(name);
    // Letters that changed places are one slip, not two.
    const away =
      sorted(plain) === sorted(other) ? Math.min(1, distance(plain, other)) : distance(plain, other);
    if (away < bestDistance) {
      best = name;
      bestDistance = away;
    }
  }
  return best !== null && bestDistance <= Math.max(1, Math.floor(Math.max(plain.length, best.length) / 3))
    ? best
    : null;
}

/** Whether two names differ only in case, or in the sort of dash or blank between their words. */
export function sameButForm(a: string, b: string): boolean {
  return fold(a) === fold(b);
}

function fold(name: string): string {
  return name.slice(0, 200).toLowerCase().replaceAll(/[_\s]/g, '-');
}

function sorted(letters: string): string {
  return letters.length > 64 ? letters : [...letters].sort().join('');
}
