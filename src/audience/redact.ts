import type { BookFile } from '../../schemas/book.js';
import type { EntryFile } from '../../schemas/entry.js';
import { checkParsed } from '../check/check.js';
import { CODES } from '../check/codes.js';
import { type ParsedFile, type ParseMemory, parseFiles } from '../check/parse.js';
import type { Problem } from '../check/problem.js';
import type { BookFolder } from '../read/folder.js';
import { cutFiles } from './cuts.js';
import { declaredIn, withoutDangling } from './dangling.js';
import { type DraftFile, parsedOf, without } from './draft.js';
import { tally, withCopyMark, withStricterNeeds } from './mark.js';
import { policyOf } from './policy.js';
import { spokenFor } from './speech.js';
import { folderOf } from './texts.js';
import { itemsWaitingOnHidden } from './waits.js';

/**
 * A copy of a book for an audience: a book of its own, written anew from what the audience may see. It is made before
 * anything is computed or shown, and what is computed and shown is made from its texts alone, so that nothing hidden
 * can get any further.
 */
export interface Redacted {
  readonly folder: BookFolder;
  /** The pictures that stay: path in the copy, and path in the owner's book. */
  readonly photos: ReadonlyMap<string, string>;
  /** Path in the owner's book of each text, by its path in the copy. */
  readonly origin: ReadonlyMap<string, string>;
}

/** A copy, or what in the owner's book keeps one from being made. */
export type Redaction =
  | { readonly ok: true; readonly redacted: Redacted }
  | { readonly ok: false; readonly file: string; readonly why: string };

/** Rounds of taking out what cannot stand any more; far more than the longest chain of a book that was checked. */
const MOST_ROUNDS = 100;

/**
 * Makes the copy of a book for an audience.
 *
 * 1. What the book hides from the audience is taken out of each file by itself (`cuts.ts`).
 * 2. What names something that is gone goes too, and so on, until nothing leads nowhere (`dangling.ts`).
 * 3. What the checker then finds wrong (a part that is fitted and never came) goes too, until it finds nothing.
 * 4. What is left is told without the names of what is hidden (`speech.ts`), marked as a copy (`mark.ts`), and written
 *    (`texts.ts`).
 *
 * @param folder a book that was checked and has no errors
 * @param audience one that `policyOf` knows; for the owner there is no copy
 * @param today the day on which it is checked, `YYYY-MM-DD`
 */
export async function redactBook(
  folder: BookFolder,
  audience: string,
  today: string,
  memory: ParseMemory,
): Promise<Redaction> {
  const { files: written } = await parseFiles(folder, memory);
  const book = written.find(({ source }) => source.role === 'book')?.data as BookFile;
  const policy = policyOf(book, audience);
  if (policy === null) throw new Error(`no audience ${audience}`);
  const whole = await declaredIn(written.map(asDraft));
  let files = await withoutDangling(cutFiles(written, policy), whole);
  for (let round = 0; ; round += 1) {
    const wrong = await problemsOf(files, folder, today);
    const [first] = wrong;
    if (first === undefined) break;
    const less = await withoutDangling(withoutWrong(files, wrong), whole);
    if (round === MOST_ROUNDS || sizeOf(less) === sizeOf(files))
      return { ok: false, file: first.at.file, why: first.message };
    files = less;
  }
  files = withoutPartialWeights(withoutPartialCosts(files, written), written);
  const counts = { before: tally(written), after: tally(await Promise.all(files.map(parsedOf))) };
  const marked = files.map((file) => withStricterNeeds(file, policy));
  const spoken = spokenFor(marked, written, policy, folder);
  const waiting = itemsWaitingOnHidden(written, files).map((id) => spoken.ids.get(id) ?? id);
  return {
    ok: true,
    redacted: folderOf(withCopyMark(spoken.files, written, policy, counts, waiting), spoken, folder),
  };
}

function asDraft({ source: { path, role }, data, body }: ParsedFile): DraftFile {
  return { path, role, data, body, hides: new Set() };
}

/** What the checker finds wrong in the files as they are now; files of readings are not looked at again. */
async function problemsOf(
  files: readonly DraftFile[],
  folder: BookFolder,
  today: string,
): Promise<readonly Problem[]> {
  const parsed = await Promise.all(files.map(parsedOf));
  const alone = { ...folder, series: [], problems: [] };
  const { problems } = await checkParsed({ files: parsed, problems: [], placed: [] }, alone, today);
  return problems.filter(({ code }) => CODES[code].severity === 'error' && code !== 'series-missing');
}

function withoutWrong(files: readonly DraftFile[], wrong: readonly Problem[]): readonly DraftFile[] {
  return files.flatMap((file) => {
    const paths = wrong.filter(({ at }) => at.file === file.path).map(({ at }) => at.path);
    const kept = paths.length === 0 ? file : without(file, paths);
    return kept === null ? [] : [kept];
  });
}

/** What a part cost is a sum over all that was told of it: where one of those is not shown, none is. */
function withoutPartialCosts(
  files: readonly DraftFile[],
  written: readonly ParsedFile[],
): readonly DraftFile[] {
  const before = costsByPart(written);
  const after = costsByPart(files);
  return files.map((file) => {
    const partial = partsOf(file).flatMap(({ part, cost }, index) =>
      cost !== undefined && after.get(part) !== before.get(part) ? [['parts', index, 'cost']] : [],
    );
    return partial.length === 0 ? file : (without(file, partial) ?? file);
  });
}

type Parts = NonNullable<EntryFile['parts']>;

function partsOf({ data }: { readonly data: unknown }): Parts {
  return (data as Partial<EntryFile>).parts ?? [];
}

function costsByPart(files: readonly { readonly data: unknown }[]): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const { part, cost } of files.flatMap(partsOf))
    if (cost !== undefined) counts.set(part, (counts.get(part) ?? 0) + 1);
  return counts;
}

/** The weights are a sum of the plan and of the parts that were told of: with some of those gone it is another. */
function withoutPartialWeights(
  files: readonly DraftFile[],
  written: readonly ParsedFile[],
): readonly DraftFile[] {
  const weighed = (all: readonly { readonly data: unknown }[]) =>
    all.flatMap(partsOf).filter(({ mass }) => mass !== undefined).length;
  return weighed(files) === weighed(written) ? files : files.filter(({ role }) => role !== 'weights-plan');
}

function sizeOf(files: readonly DraftFile[]): number {
  return JSON.stringify(files.map(({ data, body }) => [data, body])).length;
}
