import type { Diagnostic, Edit } from './diagnostic.js';

/**
 * Makes the mends that are safe to make without asking, and changes nothing else: neither line ends nor
 * order nor anything beside the stretch of an edit.
 *
 * @param diagnostics what was found in the texts as they are now.
 * @param textOf the text of a file as the checker saw it (without a byte order mark).
 * @returns the new text of every file that changes, by path. A mend that would touch what another one has
 *   changed is left for the next time.
 */
export function applyFixes(
  diagnostics: readonly Diagnostic[],
  textOf: (file: string) => string,
): ReadonlyMap<string, string> {
  const accepted: Edit[] = [];
  for (const { fix } of diagnostics) {
    const edits = fix?.edits ?? [];
    if (!edits.some((edit) => accepted.some((other) => collide(edit, other)))) accepted.push(...edits);
  }
  const byFile = new Map<string, Edit[]>();
  for (const edit of accepted) byFile.set(edit.file, [...(byFile.get(edit.file) ?? []), edit]);
  return new Map([...byFile].map(([file, edits]) => [file, applyEdits(textOf(file), edits)]));
}

function collide(a: Edit, b: Edit): boolean {
  return a.file === b.file && a.offset <= b.offset + b.length && b.offset <= a.offset + a.length;
}

/** Makes edits that do not touch each other: from the last to the first, so that the places of those before stay true. */
export function applyEdits(text: string, edits: readonly Edit[]): string {
  return [...edits]
    .sort((a, b) => b.offset - a.offset)
    .reduce(
      (changed, { offset, length, text: put }) =>
        changed.slice(0, offset) + put + changed.slice(offset + length),
      text,
    );
}
