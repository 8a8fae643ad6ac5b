import { join } from 'node:path';
import type { Diagnostic } from '../check/diagnostic.js';
import { seenFrom } from './book-root.js';

/**
 * Problems with their files as seen from the current folder, so that an editor, a terminal or a code host
 * finds them. The checker itself names files from the book's folder.
 */
export function asSeenFrom(
  cwd: string,
  root: string,
  diagnostics: readonly Diagnostic[],
): readonly Diagnostic[] {
  const seen = (file: string) => seenFrom(cwd, join(root, file));
  return diagnostics.map((diagnostic) => ({
    ...diagnostic,
    file: seen(diagnostic.file),
    fix:
      diagnostic.fix === null
        ? null
        : {
            ...diagnostic.fix,
            edits: diagnostic.fix.edits.map((edit) => ({ ...edit, file: seen(edit.file) })),
          },
  }));
}
