import type { BookFile } from '../../schemas/book.js';
import type { EntryFile } from '../../schemas/entry.js';
import type { PowerPlanFile } from '../../schemas/power-plan.js';
import type { WeightsPlanFile } from '../../schemas/weights-plan.js';
import type { BookFolder, Role } from '../read/folder.js';
import { begunIn } from '../read/reading-slips.js';
import { type BookHead, buildBook } from './build/book.js';
import { linkSystems } from './build/derived.js';
import { type EntryData, entryId } from './build/entry.js';
import { checkPowerPlan, checkWeightsPlan } from './build/plans.js';
import { type BuiltMemory, entryBuilder, systemOf } from './built-memory.js';
import type { Diagnostic } from './diagnostic.js';
import { locateTold, TOLD, toldIn } from './inline.js';
import * as m from './messages.js';
import type { CheckedBook, Entry, System } from './model.js';
import { gatherNames, type Names } from './names.js';
import { type Parsed, type ParsedFile, type ParseMemory, parseFiles } from './parse.js';
import { diagnose, inOrder, type PlaceMemory, placeProblems } from './placing.js';
import type { PlacedProblem, Problem } from './problem.js';
import { mayLeadNowhere } from './prose-links.js';
import { checkAudiences } from './rules/audiences.js';
import { checkCopies } from './rules/copies.js';
import { checkEntryDate, type NamedFiles, namedFiles } from './rules/dates.js';
import { checkDecisions } from './rules/decisions.js';
import { checkItems } from './rules/items.js';
import { checkMeters } from './rules/meters.js';
import { checkParts } from './rules/parts.js';
import { checkPhotos } from './rules/photos.js';
import { checkReadings } from './rules/readings.js';
import { checkDerivedLoops, checkSpecs, checkUpkeepMeters } from './rules/specs.js';
import { checkSeries } from './series.js';
import { withSystemsMeant } from './system-titles.js';

/** What checking a book comes to. */
export interface Checked {
  /** The book as far as it could be read: whatever is wrong is left out of it. Null without a book.yaml. */
  readonly book: CheckedBook | null;
  /** By file and place. */
  readonly diagnostics: readonly Diagnostic[];
}

/** What earlier runs found out about files that have not changed since. */
export type CheckMemory = ParseMemory & PlaceMemory & { readonly built?: BuiltMemory };

/** Remembers nothing: every file is parsed anew. */
export const NO_MEMORY: CheckMemory = {
  recall: () => undefined,
  keep: () => undefined,
  recallPlace: () => undefined,
  keepPlace: () => undefined,
};

/**
 * Checks all files of a book and makes the typed book of them. Never throws for what a file says; all files
 * are checked and all problems kept.
 *
 * @param today the day on which it is checked, `YYYY-MM-DD`: entries after it are an error.
 */
export async function checkBook(
  folder: BookFolder,
  today: string,
  memory: CheckMemory = NO_MEMORY,
): Promise<Checked> {
  const parsed = await parseFiles(folder, memory);
  const { book, problems, placed, texts } = await checkParsed(parsed, folder, today, memory.built);
  const sources = new Map(folder.files.map((file) => [file.path, file]));
  const found = await placeProblems(problems, placed, sources, memory);
  const ofRows = texts.map(({ problem, text }) => diagnose(problem, text, null));
  const diagnostics = ofRows.length === 0 ? found : inOrder([...found, ...ofRows]);
  return { book, diagnostics };
}

/** The checked book and what is wrong in it, before lines and columns are worked out. */
export interface Findings extends Pick<Checked, 'book'> {
  readonly problems: readonly Problem[];
  /** Problems with a place in the text from the start. */
  readonly placed: readonly PlacedProblem[];
  /** Problems of files of readings, each with the text of its file. */
  readonly texts: readonly { readonly problem: PlacedProblem; readonly text: string }[];
}

/** Checks files that were parsed: what `checkBook` does, but for the parsing and the placing. */
export async function checkParsed(
  parsed: Parsed,
  folder: BookFolder,
  today: string,
  memory?: BuiltMemory,
): Promise<Findings> {
  const problems: Problem[] = [];
  const placed: PlacedProblem[] = [...parsed.placed];
  const of = (role: Role) => parsed.files.filter((file) => file.source.role === role);

  const bookFile = of('book')[0];
  const head = bookFile?.data == null ? null : buildBook(bookFile.data as BookFile);
  problems.push(...(head?.problems ?? []));

  const { names, systems, written } = declare(
    of('system'),
    of('entry'),
    head?.head ?? null,
    memory,
    problems,
  );
  problems.push(...withSystemsMeant(parsed.problems, parsed.files, systems));
  if (bookFile?.data != null) problems.push(...checkAudiences(bookFile.data as BookFile, names));
  const build = entryBuilder(memory, [...of('book'), ...of('system')], names);
  const entries = buildEntries(written, build, { today, named: namedFiles(folder.files) }, problems);
  checkAcross(entries, names, folder, problems);
  const plans = checkPlans(of('power-plan')[0], of('weights-plan')[0], names, problems);

  const pages = new Set([...of('system'), ...of('entry')].map(({ source }) => nameOfPage(source.path)));
  const toLookAt = parsed.files.filter((file) => mayLeadNowhere(file.body, pages));
  if (toLookAt.length > 0) {
    const { checkProse } = await import('./prose.js');
    const { attachments } = folder;
    placed.push(...toLookAt.flatMap((file) => checkProse(file, { attachments, pages })));
  }
  for (const file of of('entry')) placed.push(...(await slippedReadings(file)));
  const withSections = parsed.files.filter(namesSections);
  if (withSections.length > 0) {
    const { checkPrivateSections } = await import('./rules/sections.js');
    problems.push(...withSections.flatMap(checkPrivateSections));
  }
  for (const file of of('system')) placed.push(...(await strayReadings(file)));
  const logged = checkSeries(folder, names.points, today, names.broken.size === 0);
  problems.push(...logged.problems);
  const rows = new Map(folder.series.map(({ path, text }) => [path, text]));
  const texts = logged.placed.map((problem) => ({ problem, text: rows.get(problem.file) ?? '' }));
  const { series } = logged;
  const book = head === null ? null : { ...head.head, systems, entries, series, plans };
  return { book, problems, placed, texts };
}

function namesSections({ data }: ParsedFile): boolean {
  return data !== null && Object.hasOwn(data as object, 'private-sections');
}

/** The name by which a link in prose leads to an entry or a system. */
function nameOfPage(path: string): string {
  return path.slice(path.lastIndexOf('/') + 1).replace(/\.md$/, '');
}

/** Readings told in a prose that has no day. */
async function strayReadings({ source, body }: ParsedFile): Promise<readonly PlacedProblem[]> {
  const told = await toldIn(body);
  const start = source.text.length - body.length;
  return told.map((_, index) => ({
    ...m.readingOutsideEntry(),
    file: source.path,
    ...locateTold(told, start, [TOLD, index], 'value'),
  }));
}

/** What was most likely meant to tell a reading in the prose of an entry, and is plain text. */
async function slippedReadings({ source, body }: ParsedFile): Promise<readonly PlacedProblem[]> {
  if (begunIn(body).length === 0) return [];
  const { readingSlipsIn } = await import('../read/prose-readings.js');
  const start = source.text.length - body.length;
  return readingSlipsIn(body).map(({ offset, length }) => ({
    ...m.readingSlip(body.slice(offset, offset + length)),
    file: source.path,
    offset: start + offset,
    length,
  }));
}

interface Declarations {
  readonly names: Names;
  readonly systems: ReadonlyMap<string, System>;
  readonly written: readonly ParsedFile[];
}

/** Reads the system files and gathers every name that the book declares. */
function declare(
  systemFiles: readonly ParsedFile[],
  entryFiles: readonly ParsedFile[],
  head: BookHead | null,
  memory: BuiltMemory | undefined,
  problems: Problem[],
): Declarations {
  const built = new Map<string, System>();
  const broken = new Set<string>();
  for (const file of systemFiles) {
    if (file.data === null) {
      broken.add(entryId(file.source.path));
      continue;
    }
    const { system, problems: found } = systemOf(file, memory);
    built.set(system.id, system);
    problems.push(...found);
    // What was left out of a system for being wrong is still declared: entries that name it are not at fault.
    if (found.length > 0) broken.add(system.id);
  }
  const written = entryFiles.filter((file) => file.data !== null);
  const first = gatherNames(
    { systems: built, people: head?.people ?? new Map(), instruments: head?.instruments ?? new Map() },
    written.map((file) => file.data as EntryFile),
    { systems: broken, entries: written.length < entryFiles.length, book: head === null },
  );
  const linked = linkSystems(first);
  problems.push(...linked.problems);
  const derived = new Map(
    [...linked.systems.values()].flatMap((system) =>
      [...system.derived.values()].map((value) => [value.ref, value] as const),
    ),
  );
  return { names: { ...first, systems: linked.systems, derived }, systems: linked.systems, written };
}

function buildEntries(
  files: readonly ParsedFile[],
  build: ReturnType<typeof entryBuilder>,
  { today, named }: { readonly today: string; readonly named: NamedFiles },
  problems: Problem[],
): readonly Entry[] {
  const entries: Entry[] = [];
  const seen = new Map<string, string>();
  for (const file of files) {
    const written = file.data as EntryData;
    const { problems: dates, dated } = checkEntryDate(file, written.date, written.title, today, named);
    const { entry, problems: found } = build(file);
    problems.push(...dates, ...found);
    const twin = seen.get(entry.id);
    if (twin !== undefined)
      problems.push({ ...m.duplicateId('entry', entry.id, twin), at: { file: entry.file, path: ['date'] } });
    seen.set(entry.id, entry.file);
    if (dated && twin === undefined) entries.push(entry);
  }
  return entries.sort((a, b) => (a.date !== b.date ? (a.date < b.date ? -1 : 1) : a.file < b.file ? -1 : 1));
}

function checkAcross(entries: readonly Entry[], names: Names, folder: BookFolder, problems: Problem[]): void {
  problems.push(
    ...checkSpecs(names),
    ...checkUpkeepMeters(names),
    ...checkDerivedLoops(names),
    ...checkMeters(entries),
    ...checkItems(entries),
    ...checkParts(entries),
    ...checkDecisions(entries),
    ...checkReadings(entries, names.points),
    ...checkCopies(entries),
    ...checkPhotos(entries, folder.attachments),
  );
}

function checkPlans(
  power: ParsedFile | undefined,
  weights: ParsedFile | undefined,
  names: Names,
  problems: Problem[],
): CheckedBook['plans'] {
  const powerPlan = (power?.data ?? null) as PowerPlanFile | null;
  const weightsPlan = (weights?.data ?? null) as WeightsPlanFile | null;
  if (power !== undefined && powerPlan !== null)
    problems.push(...checkPowerPlan(powerPlan, power.source.path, names));
  if (weights !== undefined && weightsPlan !== null)
    problems.push(...checkWeightsPlan(weightsPlan, weights.source.path, names));
  return { power: powerPlan, weights: weightsPlan };
}
