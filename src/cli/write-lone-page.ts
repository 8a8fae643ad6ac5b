import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { WholeFile } from '../render/lone-page.js';
import { publish } from '../write/publish.js';
import { seenFrom } from './book-root.js';
import type { Effects } from './effects.js';
import { Refusal } from './refusal.js';
import { siteFolder } from './site-folder.js';

/**
 * Makes a page that stands by itself, in a folder that is empty or holds such a page already.
 *
 * @param asked the folder as it was named. @throws Refusal where it holds something else.
 */
export async function writeLonePage(
  asked: string,
  root: string,
  files: () => Promise<readonly WholeFile[]>,
  { cwd, err }: Effects,
): Promise<void> {
  const out = siteFolder(resolve(cwd, asked), root, asked);
  if (existsSync(join(out, 'log')))
    throw new Refusal(
      `\`${asked}\` holds the site of a book, and the page would take its place.`,
      'Give another folder with `--out`.',
    );
  const whole = await files();
  await publish(
    out,
    (async function* () {
      yield* whole;
    })(),
  );
  err(`The page is in ${seenFrom(cwd, out)}.\n`);
}
