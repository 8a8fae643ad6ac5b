import type { Place } from '../check/model.js';
import { look } from '../check/parse.js';
import { spanOf } from '../check/placing.js';
import type { BookFolder } from '../read/folder.js';

/**
 * Finds the lines of places. To find a place its file has to be parsed closely; so the places are gathered
 * first, and no more than one file is held open at a time.
 *
 * @returns the line of a place; 1 for one that was not asked for
 */
export async function linesOf(
  places: Iterable<Place>,
  folder: BookFolder,
): Promise<(place: Place) => number> {
  const byFile = new Map<string, Place[]>();
  for (const place of places) {
    const known = byFile.get(place.file);
    if (known === undefined) byFile.set(place.file, [place]);
    else known.push(place);
  }
  const lines = new Map<string, number>();
  for (const source of folder.files) {
    const wanted = byFile.get(source.path);
    if (wanted === undefined) continue;
    const { locate } = await look(source);
    for (const place of wanted) {
      const { offset } = locate(place.path, 'value');
      lines.set(keyOf(place), spanOf(source.text, offset, 0).line);
    }
  }
  return (place) => lines.get(keyOf(place)) ?? 1;
}

function keyOf({ file, path }: Place): string {
  return JSON.stringify([file, ...path]);
}
