import type { SourceFile } from '../read/folder.js';
import type { Stretch, Thorough } from '../read/thorough.js';
import { CODES } from './codes.js';
import type { Diagnostic, Fix, Span } from './diagnostic.js';
import { look } from './parse.js';
import type { PlacedProblem, Problem } from './problem.js';
import { QUOTED } from './problem.js';

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
  const stretchOf = async (problem: Problem, source: SourceFile): Promise<Stretch> => {
    const part = problem.part ?? 'value';
    const name = JSON.stringify([part, ...problem.at.path]);
    const known = memory.recallPlace(source, name);
    if (known !== undefined) return known;
    const close = looked.get(source.path) ?? (await look(source));
    looked.set(source.path, close);
    const stretch = close.locate(problem.at.path, part);
    memory.keepPlace(source, name, stretch);
    return stretch;
  };
  const counts = new Map<string, number>();
  for (const problem of problems) {
    const count = (counts.get(problem.at.file) ?? 0) + 1;
    counts.set(problem.at.file, count);
    if (count > MAX_PLACED) continue;
    const source = sources.get(problem.at.file);
    const whole = source === undefined ? { offset: 0, length: 0 } : await stretchOf(problem, source);
    found.push(place(problem, source?.text ?? '', whole));
  }
  return capped(found.sort(byPlace));
}

function place(problem: Problem, text: string, whole: Stretch): Diagnostic {
  const written = text.slice(whole.offset, whole.offset + whole.length);
  const stretch = problem.slice === undefined ? whole : narrow(whole, written, problem.slice);
  const fix = problem.mend === undefined ? null : fixOf(problem, problem.mend, stretch, text);
  return diagnose({ ...problem, file: problem.at.file, ...stretch }, text, fix);
}

/** A piece of a value; quotes around the value are stepped over. A value in several lines is marked whole. */
function narrow(
  whole: { offset: number; length: number },
  written: string,
  slice: { offset: number; length: number },
) {
  const quote = /^["']/.test(written) ? 1 : 0;
  // Inside quotes a sign may be written as several: then places in the value are not places in the text.
  if (quote === 1 && /\\|''/.test(written)) return whole;
  const inside = quote + slice.offset + slice.length <= whole.length;
  return inside && !written.includes('\n')
    ? { offset: whole.offset + quote + slice.offset, length: Math.max(1, slice.length) }
    : whole;
}

function fixOf(
  problem: Problem,
  mend: { title: string; text: string },
  stretch: { offset: number; length: number },
  text: string,
): Fix {
  const replacement =
    mend.text === QUOTED
      ? JSON.stringify(text.slice(stretch.offset, stretch.offset + stretch.length))
      : mend.text;
  return { title: mend.title, edits: [{ file: problem.at.file, ...stretch, text: replacement }] };
}

function diagnose(problem: PlacedProblem, text: string, fix: Fix | null): Diagnostic {
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
