import { join } from 'node:path';
import type { Diagnostic } from '../check/diagnostic.js';
import { countWords, reportText } from '../check/report/text.js';
import { seenFrom } from './book-root.js';
import { paintFor } from './colour.js';
import type { Effects } from './effects.js';

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
            ...(diagnostic.fix.rename === undefined
              ? {}
              : { rename: { from: seen(diagnostic.fix.rename.from), to: seen(diagnostic.fix.rename.to) } }),
          },
  }));
}

/**
 * Problems in the words of a command that is not about them: errors in full, since they stop it; warnings
 * alone in one line, since they were there yesterday and will be tomorrow.
 *
 * @param diagnostics with files as seen from the current folder.
 */
export function problemsText(
  diagnostics: readonly Diagnostic[],
  { errIsTerminal, env }: Pick<Effects, 'errIsTerminal' | 'env'>,
): string {
  if (diagnostics.length === 0) return '';
  if (diagnostics.every((diagnostic) => diagnostic.severity === 'warning'))
    return `${countWords(diagnostics)} in the book; \`ribband check\` tells more.\n`;
  return `${reportText(diagnostics, paintFor(errIsTerminal, env))}\n${countWords(diagnostics)} in the book.\n`;
}
