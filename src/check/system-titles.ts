import { quickFrontMatter } from '../read/front-matter.js';
import * as m from './messages.js';
import type { System } from './model.js';
import type { ParsedFile } from './parse.js';
import type { Problem } from './problem.js';
import { valueAt } from './schema-walk.js';

/** A system that is called by its title, where its short name is due. */

type Titled = ReadonlyMap<string, Pick<System, 'title'>>;

/** The one system whose title is written, in whatever case; null where there is none, or several. */
export function systemTitled(systems: Titled, written: string): string | null {
  const wanted = plain(written);
  const found = [...systems].filter(([, { title }]) => plain(title) === wanted);
  return found.length === 1 ? (found[0]?.[0] ?? null) : null;
}

function plain(text: string): string {
  return text
    .toLowerCase()
    .replace(/[\s-]+/g, ' ')
    .trim();
}

/**
 * Names the system that is meant in problems of form that were found in a file by itself: only all files together
 * tell titles. What is written is read again, since of a file with a problem nothing is kept.
 */
export function withSystemsMeant(
  problems: readonly Problem[],
  files: readonly ParsedFile[],
  systems: Titled,
): readonly Problem[] {
  return problems.map((problem) => {
    if (problem.code !== 'bad-form' || !isSystemName(problem.at.path)) return problem;
    const text = files.find(({ source }) => source.path === problem.at.file)?.source.text ?? '';
    const written = valueAt(quickFrontMatter(text)?.data, problem.at.path);
    const meant = typeof written === 'string' ? systemTitled(systems, written) : null;
    return meant === null ? problem : { ...problem, ...m.titleForName(meant) };
  });
}

function isSystemName(path: Problem['at']['path']): boolean {
  return (path[0] === 'systems' && path.length === 2) || (path.length > 1 && path.at(-1) === 'system');
}
