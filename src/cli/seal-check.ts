import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { readFolder } from '../read/folder.js';
import { holdAgainst, holds, type OpenedSeal, sealsBefore } from '../seal/check.js';
import { delaysOf } from '../seal/delays.js';
import { digitsOf, FEWEST_DIGITS } from '../seal/groups.js';
import { publishedIn, SITE_SEAL } from '../seal/published.js';
import { sourcesOf } from '../seal/sources.js';
import type { SshKey } from '../seal/ssh-key.js';
import { sealsIn } from '../seal/store.js';
import { firstCommits } from '../seal/written-down.js';
import { MARKER } from '../write/publish.js';
import { findBook } from './book-root.js';
import { paintFor } from './colour.js';
import type { Given } from './command.js';
import type { Effects } from './effects.js';
import { EXIT, Refusal } from './refusal.js';
import { namedSeal, signersGiven } from './seal-named.js';
import { type CheckReport, reportText } from './seal-report.js';

/** `ribband seal --check`: holds a book or a site against its seal. Ends with 1 where anything differs. */
export async function checkSeal(given: Given, effects: Effects): Promise<number> {
  const folder = given.operands[0];
  const asked = { hash: hashGiven(given), signers: signersGiven(given.value('signer'), effects) };
  const allowed = daysGiven(given);
  const site = folder === undefined ? null : siteAt(resolve(effects.cwd, folder), folder);
  const root = site ?? findBook(folder, effects);
  const isSite = site !== null;
  const found = isSite
    ? namedSeal(given.value('seal') ?? join(root, SITE_SEAL), root, [], asked.signers, effects)
    : namedSeal(given.value('seal'), root, sealsIn(root), asked.signers, effects);
  const { file, opened } = found;
  if (typeof opened === 'string') {
    effects.out(`${file} is no whole seal: ${opened}.\n`);
    return EXIT.problems;
  }
  if ((opened.seal.of === 'site') !== isSite)
    throw new Refusal(
      `\`${file}\` is the seal of a ${opened.seal.of}, and this folder is a ${isSite ? 'site' : 'book'}.`,
    );
  const covered = isSite ? publishedIn(root) : sourcesOf(readFolder(root));
  const commits = isSite ? null : firstCommits(root);
  const report: CheckReport = {
    opened,
    hash: asked.hash === null ? null : { digits: asked.hash, agrees: opened.hash.startsWith(asked.hash) },
    before: isSite ? [] : sealsBefore(root, opened, sealsIn(root)),
    holding: holdAgainst(opened.seal, covered),
    delays: commits === null ? null : delaysOf(covered.entries, commits, allowed),
    allowed,
  };
  effects.out(reportText(report, paintFor(effects.outIsTerminal, effects.env)));
  return isAsSealed(report, asked.signers) ? EXIT.clean : EXIT.problems;
}

function isAsSealed(
  { opened, hash, before, holding }: CheckReport,
  signers: readonly SshKey[] | null,
): boolean {
  return holds(holding) && before.length === 0 && hash?.agrees !== false && isSignedAsAsked(opened, signers);
}

function isSignedAsAsked({ signature }: OpenedSeal, signers: readonly SshKey[] | null): boolean {
  if (signature.state === 'good') return signature.isNamed !== false;
  return signature.state === 'none' && signers === null;
}

/**
 * The folder of a site, or null for one that may be a book.
 *
 * @throws Refusal for a site without a seal.
 */
function siteAt(folder: string, named: string): string | null {
  if (existsSync(join(folder, 'book.yaml'))) return null;
  if (existsSync(join(folder, SITE_SEAL))) return folder;
  if (!existsSync(join(folder, MARKER))) return null;
  throw new Refusal(`The site in \`${named}\` has no seal.`, '`ribband build --seal` makes a site with one.');
}

function hashGiven(given: Given): string | null {
  const typed = given.value('hash');
  if (typed === null) return null;
  const digits = digitsOf(typed);
  if (digits === null)
    throw new Refusal(
      `\`--hash\` is the hash of a seal, or at least its first ${FEWEST_DIGITS} digits (0 to 9, a to f), in quotes if it has blanks.`,
    );
  return digits;
}

const USUAL_DAYS = 14;

function daysGiven(given: Given): number {
  const written = given.value('later-than') ?? String(USUAL_DAYS);
  if (!/^\d{1,5}$/.test(written))
    throw new Refusal(`\`--later-than\` is a number of days, not \`${written}\`.`);
  return Number(written);
}
