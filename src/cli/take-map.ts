import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { TakeMap } from '../../schemas/take-map.js';
import { NO_MEMORY } from '../check/check.js';
import type { Diagnostic } from '../check/diagnostic.js';
import { look, syntaxProblem } from '../check/parse.js';
import { placeProblems } from '../check/placing.js';
import { collector } from '../check/problem.js';
import type { SourceFile } from '../read/folder.js';
import { decode } from '../read/text.js';
import { seenFrom } from './book-root.js';
import { Refusal } from './refusal.js';

/** The map by which a table is read: a file of its own, checked like any of a book. */

/**
 * @param given as it was typed.
 * @throws Refusal for what is no text, and what the file system throws.
 */
export function mapSource(path: string, given: string, cwd: string): SourceFile {
  if (!/\.ya?ml$/.test(given)) throw new Refusal(`\`${given}\` is no YAML file; a map ends in .yaml.`);
  const decoded = decode(readFileSync(path));
  if (!decoded.ok)
    throw new Refusal(
      decoded.why === 'not-utf8'
        ? `\`${given}\` is no text in UTF-8.`
        : `\`${given}\` is far too large for a map.`,
      'Save it again as a plain text in UTF-8, with the few lines that the README shows.',
    );
  // It is read like any YAML of a book; it is none of its files.
  return { path: seenFrom(cwd, resolve(cwd, given)), role: 'book', text: decoded.text, hash: '' };
}

/** Reads and checks a map; null where it has problems. Never throws. */
export async function readMap(
  source: SourceFile,
): Promise<{ readonly map: TakeMap | null; readonly problems: readonly Diagnostic[] }> {
  const close = await look(source);
  const { problems, report } = collector(source.path);
  const unread = close.problems.map((problem) => syntaxProblem(source, problem));
  const { fitsTakeMap } = await import('../check/schema.js');
  const fits = unread.length === 0 && fitsTakeMap(close.data ?? {}, report);
  return {
    map: fits ? (close.data as TakeMap) : null,
    problems: await placeProblems(problems, unread, new Map([[source.path, source]]), NO_MEMORY),
  };
}
