import type { Place } from '../check/model.js';
import { tableAsCsv } from '../open/csv.js';
import { TABLES, type TableName, tablesOf } from '../open/tables/index.js';
import { exportDocument } from '../reckon/export.js';
import type { Reckoning } from '../reckon/model.js';
import { reckon } from '../reckon/reckon.js';
import { openCalendar, openDiary, openLinkedData, openTables } from '../render/open-forms.js';
import { parseMemory } from '../write/cache.js';
import { findBook } from './book-root.js';
import type { Run } from './command.js';
import { audienceGiven, seenBy } from './copy.js';
import { dayGiven, todayOf } from './day.js';
import { linesOf } from './lines.js';
import { cacheOf, checkFolder } from './pipeline.js';
import { asSeenFrom, problemsText } from './problems.js';
import { EXIT } from './refusal.js';

/** Forms that can be asked for, besides the whole book as JSON. */
type Form = TableName | 'table-metadata' | 'calendar' | 'feed' | 'linked-data';

/** `ribband export`: the checked and computed book, in an open form. Of a book with an error nothing is printed. */
export const exportBook: Run = async (given, effects) => {
  const root = findBook(given.operands[0], effects);
  const today = todayOf(effects);
  const asOf = dayGiven(given, 'as-of', effects) ?? today;
  const { book, folder, diagnostics, reckoning: now } = await checkFolder(root, today);
  effects.err(problemsText(asSeenFrom(effects.cwd, root, diagnostics), effects));
  if (book === null || now === null) return EXIT.problems;
  const memory = () => parseMemory(cacheOf(root));
  const seen = await seenBy(audienceGiven(given), { folder, book, reckoning: now }, today, memory);
  const reckoning = asOf === today ? seen.reckoning : reckon(seen.reckoning.book, asOf);
  const form = (given.value('as') ?? 'json') as Form | 'json';
  if (form !== 'json') {
    effects.out(formOf(reckoning, form));
    return EXIT.clean;
  }
  const document = exportDocument(reckoning, await linesOf(placesIn(reckoning), seen.folder));
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

function formOf(reckoning: Reckoning, form: Form): string {
  switch (form) {
    case 'table-metadata':
      return openTables(reckoning, tablesOf(reckoning));
    case 'calendar':
      return openCalendar(reckoning);
    case 'feed':
      return openDiary(reckoning);
    case 'linked-data':
      return openLinkedData(reckoning, tablesOf(reckoning));
    default:
      return tableAsCsv(TABLES[form](reckoning));
  }
}
