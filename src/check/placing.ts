import type { SourceFile } from '../read/folder.js';
import type { PathPart, Stretch, Thorough } from '../read/thorough.js';
import { CODES } from './codes.js';
import type { Diagnostic, Fix, Span } from './diagnostic.js';
import { look } from './parse.js';
import type { PlacedProblem, Problem } from './problem.js';
import { LONG_FORM, QUOTED } from './problem.js';

/** Last step of checking: paths become stretches of text, stretches become lines and columns. */

/** Most problems told of one file. Past that, one slip is being told over and over. */
const MAX_PER_FILE = 60;
/** Most problems of one file that are placed at all, so that the first of them can be told in order. */
const MAX_PLACED = 500;

/** Places that were looked up before, in files that have not changed since. */
export interface PlaceMemory {
  /** @param place the path and the part of a file, as a text. */
  readonly recallPlace: (source: SourceFile, place: string) => Stretch | undefined;
  readonly keepPlace: (source: SourceFile, place: string, stretch: Stretch) => void;
}

/** Places problems in the files they are about, and sorts them by file and place. */
export async function placeProblems(
  problems: readonly Problem[],
  placed: readonly PlacedProblem[],
  sources: ReadonlyMap<string, SourceFile>,
  memory: PlaceMemory,
): Promise<readonly Diagnostic[]> {
  const looked = new Map<string, Thorough>();
  const found: Diagnostic[] = placed.map((problem) =>
    diagnose(problem, sources.get(problem.file)?.text ?? '', null),
  );
  const stretchOf: StretchOf = async (source, path, part) => {
    const name = JSON.stringify([part, ...path]);
    const known = memory.recallPlace(source, name);
    if (known !== undefined) return known;
    const close = looked.get(source.path) ?? (await look(source));
    looked.set(source.path, close);
    const stretch = close.locate(path, part);
    memory.keepPlace(source, name, stretch);
    return stretch;
  };
  const counts = new Map<string, number>();
  for (const problem of problems) {
    const count = (counts.get(problem.at.file) ?? 0) + 1;
    counts.set(problem.at.file, count);
    if (count > MAX_PLACED) continue;
    const source = sources.get(problem.at.file);
    if (source === undefined) found.push(place(problem, '', NOWHERE, null));
    else {
      const { mend, part = 'value' } = problem;
      const whole = await stretchOf(source, problem.at.path, part);
      const beside = mend?.at === undefined ? null : await stretchOf(source, mend.at.path, mend.at.part);
      found.push(place(problem, source.text, whole, beside));
    }
  }
  return capped(found.sort(byPlace));
}

type StretchOf = (source: SourceFile, path: Problem['at']['path'], part: PathPart) => Promise<Stretch>;

const NOWHERE: Stretch = { offset: 0, length: 0 };

/** @param beside what the mend takes the place of, where it is not what is pointed at. */
function place(problem: Problem, text: string, whole: Stretch, beside: Stretch | null): Diagnostic {
  const inside = problem.slice === undefined ? whole : narrow(whole, text, problem.slice);
  const stretch = inside ?? whole;
  const { file } = problem.at;
  return diagnose({ ...problem, file, ...stretch }, text, fixOf(problem, beside ?? inside, text));
}

/**
 * The stretch of a piece of a value; quotes around the value are stepped over. Null where places in the value are
 * not places in the text: in several lines, or in quotes where a sign may be written as several.
 */
export function narrow(whole: Stretch, text: string, slice: Stretch): Stretch | null {
  const written = text.slice(whole.offset, whole.offset + whole.length);
  const quote = /^["']/.test(written) ? 1 : 0;
  if (quote === 1 && /\\|''/.test(written)) return null;
  const inside = quote + slice.offset + slice.length <= whole.length;
  return inside && !written.includes('\n')
    ? { offset: whole.offset + quote + slice.offset, length: Math.max(1, slice.length) }
    : null;
}

function fixOf({ at: { file }, mend, rename }: Problem, stretch: Stretch | null, text: string): Fix | null {
  if (rename !== undefined)
    return { title: `Rename it to \`${rename}\``, edits: [], rename: { from: file, to: rename } };
  if (mend === undefined || stretch === null) return null;
  const replacement = replacementOf(mend.text, stretch, text);
  return replacement === null
    ? null
    : { title: mend.title, edits: [{ file, ...stretch, text: replacement }] };
}

function replacementOf(put: string, { offset, length }: Stretch, text: string): string | null {
  const there = text.slice(offset, offset + length);
  if (put === QUOTED) return JSON.stringify(there);
  return put === LONG_FORM ? longForm(there, text, offset) : put;
}

/** The key of a short reading as the beginning of a long one; null where its surroundings leave doubts. */
function longForm(key: string, text: string, offset: number): string | null {
  const before = text.slice(text.lastIndexOf('\n', offset - 1) + 1, offset);
  if (before.includes('{')) return `point: ${key}, value`;
  if (!/^[ ]*-[ ]+$/.test(before)) return null;
  const lineEnd = text.includes('\r\n') ? '\r\n' : '\n';
  return `point: ${key}${lineEnd}${' '.repeat(before.length)}value`;
}

/** A problem with the line in which it stands. */
export function diagnose(problem: PlacedProblem, text: string, fix: Fix | null): Diagnostic {
  const span = spanOf(text, problem.offset, problem.length);
  return {
    code: problem.code,
    severity: CODES[problem.code].severity,
    file: problem.file,
    span,
    excerpt: lineAt(text, span.offset),
    message: problem.message,
    hint: problem.hint,
    fix,
  };
}

/** Lines and columns of a stretch of text; both count from 1, columns in UTF-16 units. */
export function spanOf(text: string, offset: number, length: number): Span {
  const start = Math.max(0, Math.min(offset, text.length));
  const end = Math.max(start, Math.min(start + length, text.length));
  const [line, column] = lineColumn(text, start);
  const [endLine, endColumn] = lineColumn(text, end);
  return { offset: start, length: end - start, line, column, endLine, endColumn };
}

function lineColumn(text: string, offset: number): [number, number] {
  let line = 1;
  let lineStart = 0;
  for (let at = text.indexOf('\n'); at >= 0 && at < offset; at = text.indexOf('\n', at + 1)) {
    line += 1;
    lineStart = at + 1;
  }
  return [line, offset - lineStart + 1];
}

function lineAt(text: string, offset: number): string {
  const start = text.lastIndexOf('\n', offset - 1) + 1;
  const end = text.indexOf('\n', offset);
  return text.slice(start, end < 0 ? text.length : end).replace(/\r$/, '');
}

/** Diagnostics by file and place. */
export function inOrder(diagnostics: readonly Diagnostic[]): readonly Diagnostic[] {
  return [...diagnostics].sort(byPlace);
}

function byPlace(a: Diagnostic, b: Diagnostic): number {
  if (a.file !== b.file) return a.file < b.file ? -1 : 1;
  return a.span.offset - b.span.offset || (a.code < b.code ? -1 : a.code > b.code ? 1 : 0);
}

function capped(sorted: readonly Diagnostic[]): readonly Diagnostic[] {
  const counts = new Map<string, number>();
  return sorted.filter((diagnostic) => {
    const count = (counts.get(diagnostic.file) ?? 0) + 1;
    counts.set(diagnostic.file, count);
    return count <= MAX_PER_FILE;
  });
}
