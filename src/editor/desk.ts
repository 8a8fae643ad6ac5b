import type { CheckMemory } from '../check/check.js';
import { type CheckAndReckon, type EditedBook, editBook } from './book.js';
import type { Documents } from './documents.js';

/** The books that are open at one editor: each from the first of its files that is opened to the last one closed. */

export interface DeskOptions {
  readonly check: CheckAndReckon;
  /** A memory for one book. */
  readonly memory: () => CheckMemory;
  readonly today: () => string;
}

export interface Desk {
  readonly book: (root: string) => EditedBook;
  /** Something in a book has changed: it is looked at again when nothing more has changed for a moment. */
  readonly changed: (root: string) => void;
  /** Files may have changed on disk, in any of the books. */
  readonly changedOnDisk: () => void;
  /** The last file of a book was closed. */
  readonly close: (root: string) => void;
}

/** Long enough that nothing is said in the middle of a word, short enough to be there at its end. */
const MOMENT_MS = 150;

/** @param tell told of a book when it has changed and come to rest. */
export function openDesk(
  options: DeskOptions,
  documents: Documents,
  tell: (book: EditedBook) => Promise<void>,
): Desk {
  const books = new Map<string, EditedBook>();
  const timers = new Map<string, NodeJS.Timeout>();
  const book = (root: string): EditedBook => {
    const known = books.get(root);
    if (known !== undefined) return known;
    const { check, memory, today } = options;
    const opened = editBook({ root, check, memory: memory(), today, open: () => documents.openIn(root) });
    books.set(root, opened);
    return opened;
  };
  const changed = (root: string): void => {
    const touched = book(root);
    touched.touch();
    clearTimeout(timers.get(root));
    timers.set(
      root,
      setTimeout(() => {
        timers.delete(root);
        if (books.get(root) === touched) void tell(touched);
      }, MOMENT_MS),
    );
  };
  return {
    book,
    changed,
    changedOnDisk: () => {
      for (const root of books.keys()) changed(root);
    },
    close: (root) => {
      clearTimeout(timers.get(root));
      timers.delete(root);
      books.delete(root);
    },
  };
}
