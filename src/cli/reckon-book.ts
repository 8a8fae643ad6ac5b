import { type Checked, type CheckMemory, checkBook } from '../check/check.js';
import type { Diagnostic } from '../check/diagnostic.js';
import { inOrder, placeProblems } from '../check/placing.js';
import type { BookFolder } from '../read/folder.js';
import { adviceOn } from '../reckon/advice.js';
import type { Reckoning } from '../reckon/model.js';
import { reckon } from '../reckon/reckon.js';
import type { ReckonMemory } from '../reckon/reckon-memory.js';

/** A book that was read, checked and reckoned: the middle of the five steps, for the owner's book and for any copy. */

/** Whether there is anything that keeps a site from being built. */
export function hasErrors(diagnostics: readonly Diagnostic[]): boolean {
  return diagnostics.some((diagnostic) => diagnostic.severity === 'error');
}

/** Checks a book that was read and, where there are no errors in it, reckons it as of the same day. */
export async function checkAndReckon(
  folder: BookFolder,
  today: string,
  memory: CheckMemory & { readonly reckoned?: ReckonMemory },
): Promise<Checked & { readonly reckoning: Reckoning | null }> {
  const { book, diagnostics } = await checkBook(folder, today, memory);
  if (book === null || hasErrors(diagnostics)) return { book, diagnostics, reckoning: null };
  const reckoning = reckon(book, today, undefined, memory.reckoned);
  const sources = new Map(folder.files.map((file) => [file.path, file]));
  const advice = await placeProblems(adviceOn(reckoning), [], sources, memory);
  return { book, diagnostics: inOrder([...diagnostics, ...advice]), reckoning };
}
