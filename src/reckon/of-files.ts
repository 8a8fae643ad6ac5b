import type { CheckedBook } from '../check/model.js';

/**
 * A book without the entries and the readings of loggers that came later, whatever date they bear. What systems
 * declare stays: an earlier text of theirs is not known.
 *
 * @param had whether a file, by its path in the book, was there already.
 */
export function bookOfFiles(book: CheckedBook, had: (path: string) => boolean): CheckedBook {
  return {
    ...book,
    entries: book.entries.filter(({ file }) => had(file)),
    series: new Map([...book.series].filter(([, { file }]) => had(file))),
  };
}
