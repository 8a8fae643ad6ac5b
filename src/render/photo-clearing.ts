import { readdirSync, rmSync, statSync, utimesSync } from 'node:fs';
import { join } from 'node:path';

/** Takes away what was made of pictures that no site shows any longer. */

const DAY = 86_400_000;

/**
 * For how long what nobody uses is kept, in milliseconds: copies for others are made of the same pictures, some of them
 * once a year, and a picture that is taken out may come back.
 */
const KEPT = 90 * DAY;

/**
 * Notes that files were used, and removes those that have not been for long. It is for afterwards, when a site is whole:
 * what goes wrong with it hinders nothing.
 *
 * @param folder where made pictures are kept. @param used names of the files there that the site shows.
 * @param now in milliseconds since the beginning of 1970.
 * @returns how many were removed.
 */
export function clearPhotos(folder: string, used: ReadonlySet<string>, now: number): number {
  let removed = 0;
  for (const name of namesIn(folder)) {
    const path = join(folder, name);
    const age = now - (statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? now);
    try {
      if (!used.has(name)) {
        if (age <= KEPT) continue;
        rmSync(path);
        removed += 1;
      } else if (age > DAY) utimesSync(path, now / 1000, now / 1000);
    } catch {
      // A disk that lets nothing be written keeps them.
    }
  }
  return removed;
}

function namesIn(folder: string): readonly string[] {
  try {
    return readdirSync(folder, { withFileTypes: true })
      .filter((item) => item.isFile())
      .map(({ name }) => name);
  } catch {
    return [];
  }
}
