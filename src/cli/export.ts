import type { Place } from '../check/model.js';
import { exportDocument } from '../reckon/export.js';
import type { Reckoning } from '../reckon/model.js';
import { reckon } from '../reckon/reckon.js';
import { findBook } from './book-root.js';
import type { Run } from './command.js';
import { dayGiven, todayOf } from './day.js';
import { linesOf } from './lines.js';
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
  const document = exportDocument(reckoning, await linesOf(placesIn(reckoning), folder));
  effects.out(`${JSON.stringify(document, null, 1)}\n`);
  return EXIT.clean;
};

/** The places that an export names. */
function placesIn(reckoning: Reckoning): Place[] {
  const places: Place[] = [];
  exportDocument(reckoning, (place) => {
    places.push(place);
    return 1;
  });
  return places;
}
