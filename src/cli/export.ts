import type { Place } from '../check/model.js';
import { look } from '../check/parse.js';
import { spanOf } from '../check/placing.js';
import type { BookFolder } from '../read/folder.js';
import { exportDocument, type LineOf } from '../reckon/export.js';
import type { Reckoning } from '../reckon/model.js';
import { reckon } from '../reckon/reckon.js';
import { findBook } from './book-root.js';
import type { Run } from './command.js';
import { dayGiven, todayOf } from './day.js';
import { checkFolder, hasErrors } from './pipeline.js';
import { asSeenFrom, problemsText } from './problems.js';
import { EXIT } from './refusal.js';

/** `ribband export`: the checked and computed book as JSON. Of a book with an error nothing is printed. */
export const exportBook: Run = async (given, effects) => {
  const root = findBook(given.operands[0], effects);
  const today = todayOf(effects);
  const asOf = dayGiven(given, 'as-of') ?? today;
  const { book, folder, diagnostics, reckoning: now } = await checkFolder(root, today);
  effects.err(problemsText(asSeenFrom(effects.cwd, root, diagnostics), effects));
  if (book === null || hasErrors(diagnostics)) return EXIT.problems;
  const reckoning = asOf === today && now !== null ? now : reckon(book, asOf);
  const document = exportDocument(reckoning, await linesOf(reckoning, folder));
  effects.out(`${JSON.stringify(document, null, 1)}\n`);
  return EXIT.clean;
};

/**
 * Finds the line of every place that an export names. To find a place its file has to be parsed closely; so
 * the places are gathered first, and no more than one file is held open at a time.
 */
async function linesOf(reckoning: Reckoning, folder: BookFolder): Promise<LineOf> {
  const places = new Map<string, Place[]>();
  exportDocument(reckoning, (place) => {
    const known = places.get(place.file);
    if (known === undefined) places.set(place.file, [place]);
    else known.push(place);
    return 1;
  });
  const lines = new Map<string, number>();
  for (const source of folder.files) {
    const wanted = places.get(source.path);
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
