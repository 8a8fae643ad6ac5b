import { resolve } from 'node:path';
import { OWNER } from '../audience/policy.js';
import { findBook, seenFrom } from './book-root.js';
import type { Given, Run } from './command.js';
import { audienceGiven } from './copy.js';
import { dayGiven, todayOf } from './day.js';
import type { Effects } from './effects.js';
import { type BuildResult, buildSite } from './pipeline.js';
import { asSeenFrom, problemsText } from './problems.js';
import { EXIT, Refusal } from './refusal.js';
import type { SiteSealing } from './sealed-site.js';
import { siteFolder } from './site-folder.js';
import { OVER } from './tame.js';

/** `ribband build`: makes the site of a book, or tells why not and leaves the old one. */
export const build: Run = async (given, effects) => {
  const root = findBook(given.operands[0], effects);
  const audience = audienceGiven(given);
  const asked = given.value('out') ?? usualOut(audience);
  const out = siteFolder(resolve(effects.cwd, asked), root, asked);
  const seal = await sealingOf(given, effects);
  const began = performance.now();
  const progress = progressLine(effects);
  const result = await buildSite({
    root,
    out,
    today: todayOf(effects),
    asOf: dayGiven(given, 'as-of', effects),
    audience,
    pathPrefix: readPrefix(given.value('path-prefix') ?? '/'),
    ...(seal === null ? {} : { seal }),
    progress: progress.show,
  }).finally(progress.clear);
  effects.err(problemsText(asSeenFrom(effects.cwd, root, result.diagnostics), effects));
  if (result.stopped) {
    effects.err(`No site was built; what is in ${seenFrom(effects.cwd, out)} is as it was.\n`);
    return EXIT.problems;
  }
  effects.out(summary(result, seenFrom(effects.cwd, out), performance.now() - began));
  if (seal !== null) {
    const { siteHashText } = await import('./seal.js');
    effects.out(siteHashText(out));
  }
  if (!given.has('check-links')) return EXIT.clean;
  const { checkLinks, linksText } = await import('./check-links.js');
  const links = checkLinks(out);
  effects.out(linksText(links));
  return links.dead.length === 0 ? EXIT.clean : EXIT.problems;
};

/** A copy for somebody else never takes the place of the owner's site by itself. */
function usualOut(audience: string): string {
  return audience === OWNER ? '_site' : `_site-${audience.replaceAll(/[^\w-]/g, '')}`;
}

/** How the site is to be sealed, or null where it is not. @throws Refusal where the key cannot sign. */
async function sealingOf(given: Given, effects: Effects): Promise<SiteSealing | null> {
  const key = given.value('key');
  if (!given.has('seal')) {
    if (key !== null) throw new Refusal('`--key` signs a seal; it goes with `--seal`.');
    return null;
  }
  const { signed, signerGiven } = await import('./seal.js');
  const signer = signerGiven(key, effects);
  if (signer === null) return { signer: null };
  return { signer: { key: signer.key, sign: (text) => signed(text, signer, effects) } };
}

function summary({ pages, photos, written, removed }: BuildResult, out: string, ms: number): string {
  const pictures = photos === 0 ? '' : ` and ${photos} ${photos === 1 ? 'picture' : 'pictures'}`;
  const changes =
    written + removed === 0
      ? 'nothing has changed'
      : `${written} ${written === 1 ? 'file' : 'files'} written, ${removed} taken away`;
  return `${pages} pages${pictures} in ${out}: ${changes}, ${(ms / 1000).toFixed(1)} s.\n`;
}

/** One line on a terminal that is written over again and again; nothing elsewhere. */
function progressLine({ err, errIsTerminal, env }: Effects) {
  const moves = errIsTerminal && env['TERM'] !== 'dumb';
  return {
    show: (line: string) => {
      if (moves) err(OVER + line);
    },
    clear: () => {
      if (moves) err(OVER);
    },
  };
}

/** A prefix with its slashes: `boat` and `/boat/` are both `/boat/`. */
function readPrefix(written: string): string {
  const inner = written.replace(/^\/+|\/+$/g, '');
  if (inner === '') return '/';
  if (!/^[\w~-][\w.~-]*(?:\/[\w~-][\w.~-]*)*$/.test(inner))
    throw new Refusal(`\`--path-prefix\` is a path such as \`/boat/\`, not \`${written}\`.`);
  return `/${inner}/`;
}
