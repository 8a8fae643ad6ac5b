import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import {
  atOnce,
  BEST_FIRST,
  countsBySort,
  encode,
  type Found,
  leftOut,
  NO_QUERY,
  namesOf,
  openTable,
  type Plan,
  pageOf,
  planOf,
  type Query,
  type QueryField,
  readHead,
  run,
  whyNothing,
} from '../find/index.js';
import { plainLine } from '../quantity/plain-line.js';
import { type BookRecord, recordsOf } from '../reckon/records.js';
import { findBook, seenFrom } from './book-root.js';
import { paintFor } from './colour.js';
import type { Given, Run } from './command.js';
import type { Effects } from './effects.js';
import { hitsAsCsv } from './find-csv.js';
import { type Hit, hitsAsJson } from './find-hits.js';
import { hitsAsText } from './find-text.js';
import { linesOf } from './lines.js';
import { reckonedFolder } from './reckoned.js';
import { EXIT, Refusal } from './refusal.js';

/** Options by the limit that each is. */
const FIELDS: readonly (readonly [option: string, field: QueryField])[] = [
  ['sort', 'sort'],
  ['system', 'system'],
  ['point', 'point'],
  ['quantity', 'quantity'],
  ['below', 'below'],
  ['above', 'above'],
  ['between', 'between'],
  ['since', 'since'],
  ['until', 'until'],
  ['under', 'under'],
  ['standing', 'standing'],
  ['outcome', 'outcome'],
  ['entry', 'entry'],
];

/** `ribband find`: what answers to words and limits, with the place of each. Ends with 1 where nothing does. */
export const find: Run = async (given, effects) => {
  const { folder, words } = splitOperands(given.operands, effects);
  const query = queryOf(given, words);
  if (Object.values(query).every((text) => text.trim() === ''))
    throw new Refusal('Say what to find: words, or a limit such as `--quantity length --below "40 mm"`.');
  const root = findBook(folder, effects);
  const reckoned = await reckonedFolder(root, given, effects);
  if (reckoned === null) return EXIT.problems;
  const { reckoning } = reckoned;
  const records = recordsOf(reckoning);
  const { table, plan, found } = search(records, query, namesOf(reckoning));
  const rows = atOnce(pageOf(table, found, BEST_FIRST, 0, found.rows.length));
  const hits = rows.map((row) => records[row] as BookRecord);
  const lineOf = await linesOf(
    hits.map(({ place }) => place),
    reckoned.folder,
  );
  const placed = hits.map((record): Hit => {
    // Files of a copy do not lie here: they are named as in the sources that go with it.
    const { file: path } = record.place;
    const file = reckoning.book.copy === null ? seenFrom(effects.cwd, join(root, path)) : path;
    const title = record.entry === null ? null : (reckoning.entries.get(record.entry)?.title ?? null);
    const system = reckoning.book.systems.get(record.system)?.title ?? record.system;
    return { record, file, line: lineOf(record.place), entryTitle: title, systemTitle: system };
  });
  print(placed, given, effects, reckoning);
  effects.err(remarks(found, plan, countsBySort(table, found.rows), whyOf(table, plan, found)));
  return hits.length === 0 ? EXIT.problems : EXIT.clean;
};

/** The first operand is the book if it is the folder of one; everything else is words. */
function splitOperands(operands: readonly string[], { cwd }: Effects) {
  const [first, ...rest] = operands;
  if (first !== undefined && isBookFolder(resolve(cwd, first)))
    return { folder: first, words: rest.join(' ') };
  return { folder: undefined, words: operands.join(' ') };
}

function isBookFolder(path: string): boolean {
  // Words can be anything, also what no file can be called; of that it is only said that it is not there.
  return existsSync(join(path, 'book.yaml'));
}

function queryOf(given: Given, words: string): Query {
  const limits = FIELDS.map(([option, field]) => [field, given.value(option) ?? ''] as const);
  return { ...NO_QUERY, ...Object.fromEntries(limits), words };
}

function search(records: readonly BookRecord[], query: Query, names: ReturnType<typeof namesOf>) {
  const { head: sent, parts } = encode([{ name: 'all', records }], names);
  const head = readHead(sent);
  const plan = planOf(query, head);
  const unclear = plan.problems.find(({ isAbsent }) => isAbsent !== true);
  if (unclear !== undefined) throw new Refusal(wordsOf(unclear.field, unclear.message), unclear.hint);
  const table = openTable(head);
  for (const part of parts) atOnce(table.add(part));
  return { table, plan, found: atOnce(run(table, plan)) };
}

function wordsOf(field: QueryField, message: string): string {
  return field === 'words' ? message : `\`--${field}\`: ${message}`;
}

function whyOf(table: ReturnType<typeof openTable>, plan: Plan, found: Found): readonly string[] {
  if (found.rows.length > 0) return [];
  if (plan.problems.length > 0)
    return plan.problems.map(({ message, hint }) => `${message} ${hint ?? ''}`.trim());
  return atOnce(whyNothing(table, plan));
}

function print(
  hits: readonly Hit[],
  given: Given,
  effects: Effects,
  reckoning: Parameters<typeof hitsAsJson>[1],
): void {
  const form = given.value('as') ?? 'text';
  if (form === 'json') effects.out(hitsAsJson(hits, reckoning));
  else if (form === 'csv') effects.out(hitsAsCsv(hits));
  else {
    const paint = paintFor(effects.outIsTerminal, effects.env);
    effects.out(hitsAsText(hits, reckoning.book.display, { paint, width: widthOf(effects) }));
  }
}

/** Columns of the terminal; null where nobody looks at one. */
function widthOf({ outIsTerminal, outWidth, env }: Effects): number | null {
  if (!outIsTerminal) return null;
  const set = Number(env['COLUMNS'] ?? '');
  return Number.isInteger(set) && set >= 20 ? set : (outWidth?.() ?? 80);
}

/** As many of the words as are told of. */
const MOST_TOLD = 8;

/** What is said besides: counts, mended slips, values close to a limit, and why there is nothing. */
function remarks(found: Found, plan: Plan, counts: readonly string[], why: readonly string[]): string {
  const { slips, near } = found;
  const out = leftOut(found);
  const asked = plan.limits.some(({ field }) => field === 'words')
    ? [
        `Asked for: ${[...plan.words.slice(0, MOST_TOLD).map(({ written }) => `"${plainLine(written, 60)}"`), ...plan.limits.map(({ words }) => words)].join(', ')}.`,
      ]
    : [];
  const taken = slips
    .filter(({ as }) => as.length > 0)
    .slice(0, MOST_TOLD)
    .map(({ word, as }) => `\`${plainLine(word, 60)}\` is nowhere; taken for ${as.join(', ')}.`);
  const close =
    near === null || near.inside + near.outside === 0
      ? []
      : [
          `By the values as read. Within its ± each may lie on either side of the limit: ${near.inside} among these, ${near.outside} left out.`,
        ];
  const total = counts.length === 0 ? 'Nothing found.' : `${counts.join(', ')}.`;
  return `${[total, ...asked, ...(out === null ? [] : [out]), ...taken, ...close, ...why].join('\n')}\n`;
}
