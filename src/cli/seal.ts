import { join, resolve } from 'node:path';
import { groupLines } from '../seal/groups.js';
import { newSeal } from '../seal/make.js';
import { SITE_SEAL } from '../seal/published.js';
import { fingerprint } from '../seal/ssh-key.js';
import { type Signer, sign, signerOf } from '../seal/ssh-sign.js';
import { keepSeal, readKept, SEAL_FOLDER, sealsIn } from '../seal/store.js';
import { sha256 } from '../seal/text.js';
import { LinkOnTheWay } from '../write/new-file.js';
import { findBook, seenFrom } from './book-root.js';
import type { Given, Run } from './command.js';
import { todayOf } from './day.js';
import type { Effects } from './effects.js';
import { tellFolder } from './pipeline.js';
import { asSeenFrom, problemsText } from './problems.js';
import { hasErrors } from './reckon-book.js';
import { EXIT, Refusal } from './refusal.js';

/** `ribband seal`: seals a book, holds it against its seal, or tells what is new since a seal. */
export const seal: Run = async (given, effects) => {
  refuseMixed(given);
  if (given.has('check')) return (await import('./seal-check.js')).checkSeal(given, effects);
  if (given.has('since')) return (await import('./seal-since.js')).sealSince(given, effects);
  return makeSeal(given, effects);
};

/** What each way of calling takes besides the folder. */
const FITS: Readonly<Record<string, readonly string[]>> = {
  make: ['key'],
  check: ['check', 'seal', 'signer', 'hash', 'later-than'],
  since: ['since', 'seal'],
};

function refuseMixed(given: Given): void {
  const way = given.has('check') ? 'check' : given.has('since') ? 'since' : 'make';
  const odd = ['check', 'since', 'key', 'seal', 'signer', 'hash', 'later-than'].find(
    (option) => given.has(option) && FITS[way]?.includes(option) !== true,
  );
  if (odd === undefined) return;
  const call = way === 'make' ? '`ribband seal`' : `\`ribband seal --${way}\``;
  throw new Refusal(
    way === 'make'
      ? `\`--${odd}\` goes with \`ribband seal --check\`; this would make a new seal.`
      : `\`--${odd}\` does not go with ${call}.`,
  );
}

async function makeSeal(given: Given, effects: Effects): Promise<number> {
  const root = findBook(given.operands[0], effects);
  const signer = signerGiven(given.value('key'), effects);
  const today = todayOf(effects);
  const { folder, diagnostics } = await tellFolder(root, today);
  if (hasErrors(diagnostics)) {
    effects.err(problemsText(asSeenFrom(effects.cwd, root, diagnostics), effects));
    effects.err('Nothing was sealed: a seal is for a book that is in order.\n');
    return EXIT.problems;
  }
  const made = newSeal(folder, sealsIn(root), today, signer?.key ?? null);
  if (made.state === 'refused') throw new Refusal(made.why, made.hint);
  if (made.state === 'sealed-already') {
    effects.out(
      `Nothing has changed since ${seenFrom(effects.cwd, join(root, made.file))} was made today.\n`,
    );
    effects.out(hashText(sha256(readKept(join(root, made.file)).bytes)));
    return EXIT.clean;
  }
  const signature = signer === null ? null : await signed(made.text, signer, effects);
  keep(root, made.file, made.text, signature);
  const by = signer === null ? '' : `, signed with ${signer.key.type} ${fingerprint(signer.key)}`;
  effects.out(
    `Sealed ${made.files} files, ${made.entries} of them entries: ${seenFrom(effects.cwd, join(root, made.file))}${by}.\n`,
  );
  effects.out(hashText(sha256(made.text)));
  effects.out(KEEP);
  return EXIT.clean;
}

/** Puts a seal into the book. @throws Refusal where its place is not free, or is not in the book. */
function keep(root: string, file: string, text: string, signature: string | null): void {
  try {
    if (keepSeal(root, file, text, signature)) return;
  } catch (error) {
    if (!(error instanceof LinkOnTheWay)) throw error;
    throw new Refusal(
      `\`${SEAL_FOLDER}\` in the book is a link; the seal would lie outside of it.`,
      'Make it a folder.',
    );
  }
  throw new Refusal(`Something else has the name \`${file}\`.`, 'Move it away, and call this again.');
}

const KEEP =
  'Keep that hash where you cannot change it yourself: on paper that somebody else has dated, in a letter, with a timestamp service. Only that can show when this was written.\n';

/** The hash of a seal, to be read aloud. */
export function hashText(hash: string): string {
  const lines = groupLines(hash).map((line) => `  ${line}\n`);
  return `Hash of the seal (its SHA-256):\n${lines.join('')}`;
}

/** The hash of the seal of a site that was built just now. */
export function siteHashText(out: string): string {
  return hashText(sha256(readKept(join(out, SITE_SEAL)).bytes));
}

/** The key that is named, or null. @throws Refusal where it cannot sign. */
export function signerGiven(file: string | null, { cwd }: Effects): Signer | null {
  if (file === null) return null;
  const signer = signerOf(resolve(cwd, file), file);
  if (!signer.ok) throw new Refusal(signer.why, signer.hint);
  return signer.value;
}

/** Signs a seal. @throws Refusal where that cannot be. */
export async function signed(text: string, signer: Signer, { errIsTerminal }: Effects): Promise<string> {
  const result = await sign(text, signer, errIsTerminal);
  if (!result.ok) throw new Refusal(result.why, result.hint);
  return result.value;
}
