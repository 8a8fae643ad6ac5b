import { basename } from 'node:path';
import { NO_PAINT } from '../check/report/text.js';
import { plainLine } from '../quantity/plain-line.js';
import type { BookFolder } from '../read/folder.js';
import { type Changes, changesBetween, type FindingsMoved, findingsMoved } from '../reckon/changes.js';
import type { Reckoning } from '../reckon/model.js';
import { bookOfFiles } from '../reckon/of-files.js';
import { reckon } from '../reckon/reckon.js';
import type { Links } from '../render/links.js';
import { entriesMoved, type SealedComparison, type SealedSide } from '../render/pages/changes-sealed.js';
import type { OpenedSeal } from '../seal/check.js';
import { type Differences, differencesOf, type Listed } from '../seal/compare.js';
import type { HashedEntry } from '../seal/order.js';
import { recall } from '../seal/recall.js';
import { sourcesOf } from '../seal/sources.js';
import { sealsIn } from '../seal/store.js';
import type { Given } from './command.js';
import type { Effects } from './effects.js';
import { Refusal } from './refusal.js';
import { namedSeal } from './seal-named.js';
import { signatureLine } from './seal-report.js';

/** What became of a book since a seal, or between two: the states are made of the files that were under them. */

/** The seals that are compared. */
export interface SealsGiven {
  readonly from: OpenedSeal;
  /** Null for the book as it lies there. */
  readonly to: OpenedSeal | null;
}

/** Two states of which the earlier one is under seal. */
export interface ComparedUnderSeal {
  readonly after: Reckoning;
  readonly changes: Changes;
  readonly findings: FindingsMoved;
  readonly compared: SealedComparison;
}

/**
 * The seals that `--from-seal` and `--to-seal` name, or null where there is none.
 *
 * @throws Refusal for options that do not go together, and for what is no whole seal of a book.
 */
export function sealsGiven(given: Given, root: string, effects: Effects): SealsGiven | null {
  if (!given.has('from-seal') && !given.has('to-seal')) return null;
  const odd = ['from', 'to'].find((option) => given.has(option));
  if (odd !== undefined)
    throw new Refusal(
      `\`--${odd}\` does not go with a seal.`,
      'Compare two days by `--from` and `--to`, or two seals by `--from-seal` and `--to-seal`.',
    );
  if (!given.has('from-seal'))
    throw new Refusal('`--to-seal` needs the seal that is compared with: `--from-seal SEAL`.');
  const open = (option: string) => opened(given.value(option), root, effects);
  const from = open('from-seal');
  const to = given.has('to-seal') ? open('to-seal') : null;
  if (to !== null && to.seal.made < from.seal.made)
    throw new Refusal(
      `\`${from.file}\` was made on ${from.seal.made}, after \`${to.file}\` on ${to.seal.made}.`,
      'Name the earlier one by `--from-seal`.',
    );
  return { from, to };
}

function opened(named: string | null, root: string, effects: Effects): OpenedSeal {
  const { file, opened } = namedSeal(named, root, sealsIn(root), null, effects);
  if (typeof opened === 'string') throw new Refusal(`\`${plainLine(file)}\` is no whole seal: ${opened}.`);
  if (opened.seal.of !== 'book')
    throw new Refusal(
      `\`${plainLine(file)}\` is the seal of a site; two states of a book are compared by seals of the book.`,
    );
  const { state } = opened.signature;
  if (state === 'bad' || state === 'missing')
    throw new Refusal(`\`${plainLine(file)}\`: ${signatureLine(opened, NO_PAINT)}`);
  return opened;
}

/**
 * Compares the state under a seal with a later one.
 *
 * @param reckoning the owner's book as it lies there, as of today.
 * @throws Refusal where the seal is of another book.
 */
export function compareUnderSeal(
  { from, to }: SealsGiven,
  folder: BookFolder,
  reckoning: Reckoning,
  links: (reckoning: Reckoning) => Links,
): ComparedUnderSeal {
  const now = sourcesOf(folder);
  const [earlier, later] = [sideOf(from, now), to === null ? null : sideOf(to, now)];
  const stateOf = (side: SealedSide) =>
    reckon(
      bookOfFiles(reckoning.book, (path) => side.recalled.paths.has(path)),
      side.made,
    );
  const before = stateOf(earlier);
  const after = later === null ? reckoning : stateOf(later);
  const { entry } = links(after);
  const ids = new Map(after.book.entries.map(({ file, id }) => [file, id]));
  const entries = to?.seal.entries ?? now.entries;
  return {
    after,
    changes: changesBetween(before, after),
    findings: findingsMoved(before, after),
    compared: {
      from: earlier,
      to: later,
      differences: namesShown(differencesOf(from.seal, to?.seal ?? now)),
      entries: datesShown(entries),
      entryAt: (path) => {
        const id = ids.get(path);
        return id === undefined ? null : entry(id);
      },
    },
  };
}

function sideOf(opened: OpenedSeal, now: Listed): SealedSide {
  const { file, seal, hash } = opened;
  const recalled = recall(seal, now);
  const all = seal.files.length + seal.entries.length;
  if (all > 0 && recalled.gone.length + recalled.altered.length === all)
    throw new Refusal(
      `Nothing that is under \`${plainLine(file)}\` is in this book as it was sealed: it is the seal of another, of ${plainLine(seal.subject)}.`,
    );
  const { entries, made } = seal;
  return {
    // The name alone: the way to it on this machine is nobody's business whom a page of it is sent.
    file: plainLine(basename(file)),
    made,
    hash,
    signature: signatureLine(opened, NO_PAINT),
    entries: datesShown(entries),
    recalled: {
      paths: recalled.paths,
      altered: recalled.altered.map((path) => plainLine(path)),
      gone: recalled.gone.map((path) => plainLine(path)),
    },
  };
}

/** Paths in a seal are a stranger's: none may do anything to the terminal of whoever compares. */
function datesShown(entries: readonly HashedEntry[]): SealedSide['entries'] {
  return entries.map(({ path, date }) => ({ path: plainLine(path), date }));
}

function namesShown({ changed, removed, added, renamed, redated, between }: Differences): Differences {
  return {
    changed: changed.map((path) => plainLine(path)),
    removed: removed.map((path) => plainLine(path)),
    added: added.map((path) => plainLine(path)),
    renamed: renamed.map(({ from, to }) => ({ from: plainLine(from), to: plainLine(to) })),
    redated: redated.map((one) => ({ ...one, path: plainLine(one.path) })),
    between: between.map((one) => ({ ...one, path: plainLine(one.path) })),
  };
}

/** What is said of the seals, for other programs. */
export function sealsAsJson(compared: SealedComparison): unknown {
  const { from, to, differences } = compared;
  const side = ({ file, made, hash, recalled }: SealedSide) => ({
    file,
    made,
    sha256: hash,
    notAsSealed: recalled.altered,
    notThere: recalled.gone,
  });
  return {
    from: side(from),
    to: to === null ? null : side(to),
    entries: entriesMoved(compared),
    files: {
      changed: differences.changed,
      removed: differences.removed,
      added: differences.added,
      renamed: differences.renamed,
    },
  };
}
