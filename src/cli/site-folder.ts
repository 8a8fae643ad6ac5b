import { realpathSync } from 'node:fs';
import { relative, resolve, sep } from 'node:path';
import { inspectTarget, strangersIn } from '../write/publish.js';
import { Refusal } from './refusal.js';

const BOOK_FOLDERS = ['entries', 'systems', 'plans', 'series', 'photos', 'seals', '.schemas', '.ribband'];

/**
 * The folder for a site, with links followed.
 *
 * @throws Refusal where a site there would put the book, or something else of the user's, at risk.
 */
export function siteFolder(out: string, root: string, asked: string): string {
  const kind = inspectTarget(out);
  if (kind === 'not-a-folder') throw new Refusal(`\`${asked}\` is a file; the site needs a folder.`);
  const real = kind === 'absent' ? out : realpathSync(out);
  if (holds(real, realpathSync(root)))
    throw new Refusal(`\`${asked}\` holds the book itself; the site would take its place.`);
  const inBook = BOOK_FOLDERS.find((name) => holds(resolve(realpathSync(root), name), real));
  if (inBook !== undefined)
    throw new Refusal(
      `\`${asked}\` lies in the book's own \`${inBook}\`; the site needs a folder of its own.`,
    );
  if (kind === 'foreign')
    throw new Refusal(
      `\`${asked}\` has something in it that ribband has not made, and a site takes the place of its whole folder.`,
      'Give another folder with `--out`, or empty this one.',
    );
  const strangers = kind === 'ours' ? strangersIn(real) : [];
  if (strangers.length > 0)
    throw new Refusal(
      `\`${asked}\` has something in it that ribband has not made: ${strangers.join(', ')}. A site takes the place of its whole folder.`,
      'Move it out, or give another folder with `--out`.',
    );
  return real;
}

function holds(outer: string, inner: string): boolean {
  const way = relative(outer, inner);
  return way !== '..' && !way.startsWith(`..${sep}`) && resolve(outer, way) === inner;
}
