import { reportText, summaryLine } from '../check/report/text.js';
import type { BookFolder } from '../read/folder.js';
import type { Reckoning } from '../reckon/model.js';
import { reckon } from '../reckon/reckon.js';
import { parseMemory } from '../write/cache.js';
import { paintFor } from './colour.js';
import type { Given } from './command.js';
import { audienceGiven, seenBy } from './copy.js';
import { dayGiven, todayOf } from './day.js';
import type { Effects } from './effects.js';
import { cacheOf, checkFolder } from './pipeline.js';
import { asSeenFrom } from './problems.js';

/** A book as of a day, as the audience of `--for` sees it, with the files that say so. */
export interface ReckonedFolder {
  readonly reckoning: Reckoning;
  readonly folder: BookFolder;
}

/**
 * The book of a folder as of the day that `--as-of` names, for commands that answer a question about it.
 * Where the book has an error, its problems are told and null is returned; warnings are the business of
 * `check`.
 */
export async function reckonedFolder(
  root: string,
  given: Given,
  effects: Effects,
): Promise<ReckonedFolder | null> {
  const today = todayOf(effects);
  const asOf = dayGiven(given, 'as-of', effects) ?? today;
  const { book, folder, diagnostics, reckoning } = await checkFolder(root, today);
  if (book !== null && reckoning !== null) {
    const memory = () => parseMemory(cacheOf(root));
    const seen = await seenBy(audienceGiven(given), { folder, book, reckoning }, today, memory);
    const { reckoning: now } = seen;
    return { folder: seen.folder, reckoning: asOf === today ? now : reckon(now.book, asOf) };
  }
  const seen = asSeenFrom(effects.cwd, root, diagnostics);
  effects.err(
    `${reportText(seen, paintFor(effects.errIsTerminal, effects.env))}\n${summaryLine(seen, folder.files.length)}\n`,
  );
  return null;
}

/** The same for commands that need no files. */
export async function reckonedBook(root: string, given: Given, effects: Effects): Promise<Reckoning | null> {
  return (await reckonedFolder(root, given, effects))?.reckoning ?? null;
}
