import { closeSync, openSync, readSync, realpathSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { OWNER } from '../audience/policy.js';
import { BROWSER_VARIABLE, findChromium, PrintFailure, thisMachine } from '../print/chromium.js';
import { type PrintableSite, printNumbered } from '../print/pack.js';
import type { Reckoning } from '../reckon/model.js';
import { reckon } from '../reckon/reckon.js';
import { siteAssets } from '../render/assets.js';
import { loadBodies, renderBody } from '../render/bodies.js';
import { paths } from '../render/links.js';
import type { Paper } from '../render/pack/heads.js';
import { packPages, withPageNumbers } from '../render/pack/pages.js';
import type { PackSeal } from '../render/pack/seal.js';
import type { PackFor } from '../render/pack/view.js';
import { rendererId } from '../render/renderer-id.js';
import { siteContext } from '../render/site-context.js';
import { openSeal } from '../seal/check.js';
import { sealsIn } from '../seal/store.js';
import { sealSummary } from '../seal/summary.js';
import { parseMemory } from '../write/cache.js';
import { codeOf } from '../write/new-file.js';
import { toldOf, writeWhole } from '../write/whole.js';
import { findBook, seenFrom } from './book-root.js';
import type { Run } from './command.js';
import { audienceGiven, type Seen, seenBy } from './copy.js';
import { dayGiven, todayOf } from './day.js';
import type { Effects } from './effects.js';
import { cacheOf, checkFolder, photosOf } from './pipeline.js';
import { asSeenFrom, problemsText } from './problems.js';
import { hasErrors } from './reckon-book.js';
import { EXIT, Refusal } from './refusal.js';

/** `ribband pack`: the whole record as a PDF, printed by a browser that is there already. */
export const pack: Run = async (given, effects) => {
  const root = findBook(given.operands[0], effects);
  const browser = browserOf(effects);
  const today = todayOf(effects);
  const asOf = dayGiven(given, 'as-of', effects) ?? today;
  const { book, folder, diagnostics, reckoning: now } = await checkFolder(root, today);
  if (book === null || now === null) {
    effects.err(problemsText(asSeenFrom(effects.cwd, root, diagnostics), effects));
    return EXIT.problems;
  }
  const memory = () => parseMemory(cacheOf(root));
  const seen = await seenBy(audienceGiven(given), { folder, book, reckoning: now }, today, memory);
  const reckoning = asOf === today ? seen.reckoning : reckon(seen.reckoning.book, asOf);
  const asked = given.value('pdf') ?? `${reckoning.book.id}-pack.pdf`;
  const out = resolve(effects.cwd, asked);
  refuseForeign(out, asked);
  const paper: Paper = given.value('paper') === 'letter' ? 'letter' : 'a4';
  const seal = sealOf(root, asOf, audienceGiven(given) === OWNER);
  const whom = { seal, words: given.has('entries') };
  const site = await printable(reckoning, seen, whom, paper, effects);
  if (site === null) return EXIT.problems;
  const pdf = await printNumbered(browser, site, livesInSnap(browser) ? dirname(out) : null).catch(asRefusal);
  writeWhole(out, pdf);
  effects.out(
    `${seenFrom(effects.cwd, out)}: ${(pdf.length / 1e6).toFixed(1)} MB, for ${paper === 'a4' ? 'A4' : 'Letter'} paper.\n`,
  );
  return EXIT.clean;
};

/** The newest seal of the book up to a day; null where there is none that is whole. */
function sealOf(root: string, asOf: string, isOwners: boolean): PackSeal | null {
  const kept = sealsIn(root).findLast(({ day }) => day <= asOf);
  const opened = kept === undefined ? null : openSeal(join(root, kept.file), kept.file, null);
  if (opened === null || typeof opened === 'string') return null;
  const summary = sealSummary(opened.seal, opened.hash);
  // How many files the owner's book has tells how much of it a copy does not show.
  return isOwners ? summary : { ...summary, files: null };
}

/** @throws Refusal where there is no browser. */
function browserOf({ env }: Effects): string {
  const machine = thisMachine(env);
  const found = findChromium(machine);
  if (found !== null) return found;
  const asked = env[BROWSER_VARIABLE] ?? '';
  if (asked !== '') throw new Refusal(`\`${BROWSER_VARIABLE}\` names ${asked}, where there is nothing.`);
  throw new Refusal(
    'A pack is printed by Chromium, Chrome or Edge, and none was found on this machine.',
    `Install one, or name it in \`${BROWSER_VARIABLE}\`. The site has the pack as a page too, ${paths.pack}, which any browser prints.`,
  );
}

/** @throws Refusal where something lies there that is no PDF: only a pack takes the place of a pack. */
function refuseForeign(out: string, asked: string): void {
  const begins = firstBytes(out, 5);
  if (begins !== null && begins !== '%PDF-')
    throw new Refusal(
      `\`${asked}\` is there already and is no PDF; nothing was written.`,
      'Give another name with `--pdf`.',
    );
}

/** How a file begins; null where there is none. */
function firstBytes(path: string, count: number): string | null {
  let handle: number;
  try {
    handle = openSync(path, 'r');
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return null;
    throw error;
  }
  try {
    const bytes = Buffer.alloc(count);
    return bytes.toString('latin1', 0, readSync(handle, bytes, 0, count, 0));
  } finally {
    closeSync(handle);
  }
}

/** A browser that is installed as a snap sees neither the folder for temporary files nor hidden ones. */
function livesInSnap(browser: string): boolean {
  return /[/\\]snap[/\\]/.test(realpathSync(browser)) || realpathSync(browser).endsWith('/snap');
}

function asRefusal(error: unknown): never {
  if (error instanceof PrintFailure) throw new Refusal(error.message, 'Nothing was written.');
  // What the browser prints is put together in a folder of the machine's own; there it may be full too.
  throw error instanceof Error && !('path' in error) ? toldOf(error, tmpdir()) : error;
}

/** The pack with all that it shows; null where a picture of the book cannot be opened, which is told. */
async function printable(
  reckoning: Reckoning,
  seen: Seen,
  whom: PackFor,
  paper: Paper,
  effects: Effects,
): Promise<PrintableSite | null> {
  const { published, diagnostics } = await photosOf(reckoning.book, seen, cacheOf(seen.folder.root), {});
  effects.err(problemsText(asSeenFrom(effects.cwd, seen.folder.root, diagnostics), effects));
  if (hasErrors(diagnostics)) return null;
  await loadBodies();
  const site = siteContext({
    reckoning,
    photos: published.index,
    rendererId: rendererId(),
    renderBody,
  });
  const pages = packPages(site, whom, paper).map(({ path, render }) => ({ path, content: render() }));
  const html = pages.find(({ path }) => path === paths.pack)?.content ?? '';
  return {
    files: [
      ...pages.filter(({ path }) => path !== paths.pack),
      ...siteAssets().map(({ path, bytes }) => ({ path, content: bytes })),
      ...published.files.map(({ path, source }) => ({ path, content: { copyOf: source } })),
    ],
    page: paths.pack,
    numbered: (numbers) => withPageNumbers(html, numbers),
    day: reckoning.asOf,
  };
}
