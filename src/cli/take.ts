import { existsSync, statSync } from 'node:fs';
import { basename, join, resolve } from 'node:path';
import type { TakeMap } from '../../schemas/take-map.js';
import { NO_MEMORY } from '../check/check.js';
import type { CheckedBook } from '../check/model.js';
import { placeProblems } from '../check/placing.js';
import { collector, type Problem } from '../check/problem.js';
import { reportText } from '../check/report/text.js';
import { nameFor } from '../check/rules/dates.js';
import { entryText } from '../draft/entry-text.js';
import type { BookFolder, SourceFile } from '../read/folder.js';
import { readSeries, startOfDay } from '../read/series.js';
import { type Columns, findColumns, type Known, type TakenColumn } from '../take/columns.js';
import { gatherer, type Taken } from '../take/gather.js';
import { intoEntries } from '../take/into-entries.js';
import { intoSeries } from '../take/into-series.js';
import type { TakePlan } from '../take/plan.js';
import { BY_RULE, type Refusals, refusals } from '../take/refusals.js';
import { NoTable, tableRows } from '../take/table.js';
import type { Together } from '../write/together.js';
import { findBook, seenFrom } from './book-root.js';
import { paintFor } from './colour.js';
import type { Run } from './command.js';
import { todayOf } from './day.js';
import type { Effects } from './effects.js';
import { checkFolder, tellFolder } from './pipeline.js';
import { hasErrors } from './reckon-book.js';
import { EXIT, Refusal } from './refusal.js';
import { entryModelineOf } from './schema-copies.js';
import { mapSource, readMap } from './take-map.js';
import { takeReport } from './take-report.js';
import { freeEntryName, namesIn, writeIntoBook } from './write-into-book.js';

/** `ribband take`: turns a table, of a spreadsheet or of a logger, into a file of readings or into entries. */
export const take: Run = async (given, effects) => {
  const [file, named] = given.operands;
  const mapPath = given.value('map');
  if (file === undefined)
    throw new Refusal('Name the table that is to be taken: `ribband take readings.csv --map map.yaml`.');
  if (mapPath === null) throw new Refusal('`--map` is needed: the file that says which columns go where.');
  const table = fileAt(file, effects.cwd);
  const root = findBook(named, effects);
  const today = todayOf(effects);
  const { book, folder, diagnostics } = await checkFolder(root, today);
  if (book === null)
    throw new Refusal('The book has no book.yaml that can be read; `ribband check` tells more.');
  const source = mapSource(fileAt(mapPath, effects.cwd), mapPath, effects.cwd);
  const { map, problems } = await readMap(source);
  if (map === null) {
    effects.err(reportText(problems, paintFor(effects.errIsTerminal, effects.env)));
    return EXIT.problems;
  }
  const plan = await planOf(table, map, source, book, folder, today, effects);
  if (plan === null) return EXIT.problems;
  const dry = given.has('dry-run');
  const written = dry ? [] : write(plan, root, folder);
  effects.out(
    takeReport(
      plan,
      written.map((path) => seenFrom(effects.cwd, join(root, path))),
      dry,
    ),
  );
  // A file of readings that is not there yet is what this is for.
  const before = diagnostics.filter(({ code }) => code !== 'series-missing');
  if (hasErrors(dry ? before : (await tellFolder(root, today)).diagnostics))
    effects.err('The book has errors; `ribband check` tells them.\n');
  const odd = [...plan.refused.counts().keys()].some((reason) => !BY_RULE.includes(reason));
  return odd ? EXIT.problems : EXIT.clean;
};

function fileAt(given: string, cwd: string): string {
  const path = resolve(cwd, given);
  const stat = statSync(path, { throwIfNoEntry: false });
  if (stat === undefined) throw new Refusal(`There is no file \`${given}\`.`);
  if (!stat.isFile()) throw new Refusal(`\`${given}\` is no file.`);
  return path;
}

async function tell(problems: readonly Problem[], source: SourceFile, effects: Effects): Promise<void> {
  const placed = await placeProblems(problems, [], new Map([[source.path, source]]), NO_MEMORY);
  effects.err(reportText(placed, paintFor(effects.errIsTerminal, effects.env)));
}

/** Reads the table and works out what is new in it; null where the map does not fit it, which is told. */
async function planOf(
  table: string,
  map: TakeMap,
  source: SourceFile,
  book: CheckedBook,
  folder: BookFolder,
  today: string,
  effects: Effects,
): Promise<TakePlan | null> {
  const refused = refusals();
  const { problems, report } = collector(source.path);
  const known = knownOf(book, folder);
  const [year = 0, month = 0, day = 0] = today.split('-').map(Number);
  const end = startOfDay(year, month, day) + 86_400;
  const begin = (columns: Columns | null) => (columns === null ? null : gatherer(map, columns, end, refused));
  let gathering = map.headings === false ? begin(findColumns(map, null, known, report)) : undefined;
  let rows = 0;
  const broken = ({ line, why }: { readonly line: number; readonly why: string }) =>
    refused.add({ row: line, column: null, written: '', reason: 'no-row', words: why });
  try {
    for await (const { cells, line } of tableRows(table, map, broken)) {
      if (gathering === undefined) gathering = begin(findColumns(map, cells, known, report));
      else {
        rows += 1;
        gathering?.add(cells, line);
      }
      if (gathering === null) break;
    }
  } catch (error) {
    if (error instanceof NoTable) throw new Refusal(`\`${basename(table)}\` ${error.message}.`, error.hint);
    throw error;
  }
  if (gathering === undefined) throw new Refusal(`\`${basename(table)}\` is empty.`);
  if (gathering === null) {
    await tell(problems, source, effects);
    return null;
  }
  return { rows, ...plansOf(gathering.done(), map, book, folder, refused), refused };
}

function knownOf({ systems, instruments, people }: CheckedBook, { series }: BookFolder): Known {
  const points = new Map(
    [...systems.values()].flatMap((system) => [...system.points.values()]).map((point) => [point.ref, point]),
  );
  const units = new Map(
    series.map(({ path, text }) => [path, readSeries(text.slice(0, 200)).unit?.text ?? null]),
  );
  return { points, instruments, people, unitOfSeries: (file) => units.get(file) ?? null };
}

function plansOf(
  taken: ReadonlyMap<TakenColumn, readonly Taken[]>,
  map: TakeMap,
  book: CheckedBook,
  folder: BookFolder,
  refused: Refusals,
): Pick<TakePlan, 'series' | 'entries'> {
  const texts = new Map(folder.series.map(({ path, text }) => [path, text]));
  const forSeries = [...taken].filter(([{ to }]) => to === 'series');
  const forEntries = new Map([...taken].filter(([{ to }]) => to === 'entries'));
  const series = forSeries.map(([column, rows]) => {
    const before = texts.get(column.point.series ?? '') ?? null;
    refuseFaulty(column.point.series ?? '', before);
    return intoSeries(column, rows, before, refused);
  });
  const readings = book.entries.flatMap((entry) => entry.readings);
  const entries =
    forEntries.size === 0 || map.entries === undefined
      ? null
      : intoEntries(forEntries, readings, map.entries, refused);
  return { series, entries };
}

/** A file with rows that cannot be read would lose them. */
function refuseFaulty(file: string, text: string | null): void {
  if (text === null) return;
  const { headed, faults } = readSeries(text);
  if (!headed || faults.length > 0)
    throw new Refusal(
      `${file} has rows that cannot be read; nothing was written.`,
      '`ribband check` tells which.',
    );
}

/** Writes what is new, all of it or nothing. @returns the paths, from the book's folder. */
function write({ series, entries }: TakePlan, root: string, folder: BookFolder): string[] {
  const files: Together[] = series.flatMap(({ file, text }) =>
    text === null ? [] : [{ path: file, content: text, replaces: true }],
  );
  const taken = namesIn(folder.files);
  const isTaken = (path: string) => taken.has(basename(path)) || existsSync(join(root, path));
  for (const draft of entries?.drafts ?? []) {
    const content = entryText(draft, { modeline: entryModelineOf(root), facts: null });
    const path = freeEntryName(nameFor(draft.date, draft.title), isTaken);
    taken.add(basename(path));
    files.push({ path, content, replaces: false });
  }
  writeIntoBook(root, files);
  return files.map(({ path }) => path);
}
