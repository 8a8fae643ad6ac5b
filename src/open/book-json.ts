import { entryRow, exportHead, exportRest, type LineOf, readingRow } from '../reckon/export.js';
import type { Reckoning } from '../reckon/model.js';
import type { Trend } from '../reckon/trend-model.js';
import { byYear } from './years.js';

/** A piece of a text. `year` is that of the entries it tells of; null for what hangs on the whole book. */
export interface TextPiece {
  readonly name: string;
  readonly year: string | null;
  readonly text: () => string;
}

/** A site has no lines of files, which nobody there could look up. */
const NO_LINES: LineOf = () => null;

/**
 * The whole book as JSON, as `schemas/export.ts` describes it, in pieces that make the document when joined: what is
 * said of one year's entries does not change with those of another.
 *
 * @param trends of all points; asked for when the piece that shows them is made.
 */
export function bookJson(
  reckoning: Reckoning,
  trends: () => ReadonlyMap<string, Trend>,
): readonly TextPiece[] {
  const head = (): string => withoutBraces(JSON.stringify(exportHead(reckoning)));
  const rest = (): string => withoutBraces(JSON.stringify(exportRest(reckoning, NO_LINES, trends())));
  return [
    { name: 'head', year: null, text: () => `{${head()},\n"entries":[\n` },
    ...listPieces('entries', reckoning.book.entries, (entry) => entryRow(entry, NO_LINES)),
    { name: 'between', year: null, text: () => '],\n"readings":[\n' },
    ...listPieces('readings', reckoning.readings, (reading) => readingRow(reading, NO_LINES)),
    { name: 'rest', year: null, text: () => `],\n${rest()}}\n` },
  ];
}

function listPieces<T extends { readonly date: string }>(
  name: string,
  all: readonly T[],
  rowOf: (one: T) => unknown,
): readonly TextPiece[] {
  return [...byYear(all)].map(([year, those], index) => ({
    name: `${name} ${year}`,
    year,
    text: () => (index === 0 ? '' : ',\n') + those.map((one) => JSON.stringify(rowOf(one))).join(',\n'),
  }));
}

function withoutBraces(json: string): string {
  return json.slice(1, -1);
}
