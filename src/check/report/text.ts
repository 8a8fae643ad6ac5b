import { withoutUnseen } from '../../quantity/plain-line.js';
import type { Diagnostic } from '../diagnostic.js';

/** Paints a piece of text; the identity where there are no colours. */
export type Paint = (style: 'error' | 'warning' | 'faint' | 'strong' | 'mark', text: string) => string;

export const NO_PAINT: Paint = (_style, text) => text;

/** Widest stretch of a line that is shown around a problem. */
const MAX_EXCERPT = 160;

/**
 * Problems for a person: where, what, the line with the stretch marked, and how to mend it.
 *
 * @param paint how to colour; terminals differ, files want none.
 */
export function reportText(diagnostics: readonly Diagnostic[], paint: Paint = NO_PAINT): string {
  return diagnostics.map((diagnostic) => one(diagnostic, paint)).join('\n');
}

function one(diagnostic: Diagnostic, paint: Paint): string {
  const { file, span, severity, code, message, hint, fix } = diagnostic;
  const head = `${paint('strong', `${file}:${span.line}:${span.column}`)} ${paint(severity, `${severity} ${code}`)}`;
  const lines = [head, `  ${message}`];
  if (span.length > 0 && diagnostic.excerpt.trim() !== '') lines.push(...frame(diagnostic, paint));
  if (hint !== null) lines.push(`  ${paint('faint', 'Hint:')} ${hint}`);
  if (fix !== null) lines.push(`  ${paint('faint', 'With --fix:')} ${fix.title}.`);
  return `${lines.join('\n')}\n`;
}

function frame({ span, excerpt, severity }: Diagnostic, paint: Paint): string[] {
  const gutter = `  ${String(span.line).padStart(5)} | `;
  const column = span.column - 1;
  const cut = column > MAX_EXCERPT - 40 ? column - 60 : 0;
  const shown = excerptFrom(excerpt, cut);
  const before = visible(shown.slice(0, column - cut));
  const inLine = span.endLine === span.line ? span.length : excerpt.length - column;
  const marked = Math.max(1, visible(shown.slice(column - cut, column - cut + inLine)));
  return [
    paint('faint', gutter) + shown,
    `${' '.repeat(gutter.length - 2)}${paint('faint', '| ')}${' '.repeat(before)}${paint(severity, '^'.repeat(marked))}`,
  ];
}

/** A line from a column on, as far as it is shown; where it was cut stands an ellipsis, also in the middle of a letter. */
function excerptFrom(line: string, cut: number): string {
  const shown = line.slice(cut, cut + MAX_EXCERPT).replaceAll('\t', ' ');
  const begun = cut > 0 ? `…${shown.slice(1)}` : shown;
  return withoutUnseen(line.length > cut + MAX_EXCERPT ? `${begun.slice(0, -1)}…` : begun);
}

/** Width on a terminal, near enough: combining marks take no room, wide letters (CJK, emoji) two columns. */
function visible(text: string): number {
  let width = 0;
  for (const letter of text) {
    if (/\p{M}|\u200d|\ufe0f/u.test(letter)) continue;
    width +=
      /[\u1100-\u115f\u2e80-\ua4cf\uac00-\ud7a3\uf900-\ufaff\ufe30-\ufe6f\uff00-\uff60\uffe0-\uffe6]|\p{Emoji_Presentation}/u.test(
        letter,
      )
        ? 2
        : 1;
  }
  return width;
}

/** One line that counts what was found. */
export function summaryLine(diagnostics: readonly Diagnostic[], files: number): string {
  const checked = `${files} ${files === 1 ? 'file' : 'files'} checked`;
  return `${checked}: ${diagnostics.length === 0 ? 'nothing wrong' : countWords(diagnostics)}.`;
}

/** How many there are, in words: `2 errors and 1 warning`. */
export function countWords(diagnostics: readonly Diagnostic[]): string {
  const errors = diagnostics.filter((diagnostic) => diagnostic.severity === 'error').length;
  const warnings = diagnostics.length - errors;
  return [errors > 0 ? count(errors, 'error') : '', warnings > 0 ? count(warnings, 'warning') : '']
    .filter((text) => text !== '')
    .join(' and ');
}

function count(number: number, noun: string): string {
  return `${number} ${noun}${number === 1 ? '' : 's'}`;
}
