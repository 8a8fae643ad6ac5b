import { createReadStream } from 'node:fs';
import { Readable } from 'node:stream';
import { type CsvError, parse } from 'csv-parse';
import type { TakeMap } from '../../schemas/take-map.js';

/** Reads a table row by row, without ever holding it whole. */

/** A row that is no row: quotes that do not close, say. */
export interface BrokenRow {
  readonly line: number;
  readonly why: string;
}

/** A file that is no table of text; the message says in one sentence what it is, the hint what to do. */
export class NoTable extends Error {
  readonly hint: string;

  constructor(message: string, hint: string) {
    super(message);
    this.hint = hint;
  }
}

/** Longest row: past it, a quote was opened and never closed. */
const MAX_ROW = 200_000;
const TOO_LONG = 'is longer than any row; a quote before it may not have been closed';
const OUT_OF_ORDER = 'its quotes do not open and close as they should';

/**
 * The rows of a file, each with the line in which it ends, counted from 1; a row that cannot be taken apart is
 * handed to `broken`, once for each line. Lines may end in any way, also in more than one way in one file.
 *
 * @throws NoTable, and what the file system throws.
 */
export async function* tableRows(
  path: string,
  { delimiter = ',', encoding = 'utf-8', 'skip-lines': skip = 0 }: TakeMap,
  broken: (row: BrokenRow) => void,
): AsyncGenerator<{ readonly cells: readonly string[]; readonly line: number }> {
  const source = createReadStream(path, { encoding: encoding === 'latin1' ? 'latin1' : 'utf8' });
  let toldOf = 0;
  const parser = parse({
    bom: true,
    delimiter: delimiter === 'tab' ? '\t' : delimiter,
    from_line: skip + 1,
    info: true,
    max_record_size: MAX_ROW,
    record_delimiter: ['\r\n', '\n', '\r'],
    relax_column_count: true,
    skip_empty_lines: true,
    skip_records_with_error: true,
    on_skip: (error: CsvError | undefined) => {
      const line = Number(error?.['lines'] ?? 0);
      if (error === undefined || line === toldOf) return undefined;
      toldOf = line;
      broken({ line, why: error.code === 'CSV_MAX_RECORD_SIZE' ? TOO_LONG : OUT_OF_ORDER });
      return undefined;
    },
  });
  const text = Readable.from(shortLines(source as AsyncIterable<string>, broken));
  // Whatever goes wrong with the file is told by the parser, of which the rows are asked.
  text.on('error', (error) => parser.destroy(error));
  text.pipe(parser);
  for await (const { record, info } of parser as AsyncIterable<{
    readonly record: readonly string[];
    readonly info: { readonly lines: number };
  }>)
    yield { cells: record, line: info.lines };
}

/** The text, looked at whether it is one, without lines that are longer than any row. */
async function* shortLines(
  pieces: AsyncIterable<string>,
  broken: (row: BrokenRow) => void,
): AsyncGenerator<string> {
  // What stands behind the last line end so far; null while a line that is too long goes on.
  let open: string | null = '';
  let lines = 0;
  let isFirst = true;
  for await (const piece of pieces) {
    if (isFirst) refuseOthers(piece);
    isFirst = false;
    const first = piece.search(/[\r\n]/);
    const last = Math.max(piece.lastIndexOf('\n'), piece.lastIndexOf('\r')) + 1;
    if (first < 0) {
      open = open === null ? null : open + piece;
    } else {
      yield (open ?? '') + piece.slice(open === null ? first : 0, last);
      lines += Math.max(countOf('\n', piece), countOf('\r', piece));
      open = piece.slice(last);
    }
    if (open !== null && open.length > MAX_ROW) {
      broken({ line: lines + 1, why: TOO_LONG });
      open = null;
    }
  }
  yield open ?? '';
}

function countOf(sign: string, text: string): number {
  let count = 0;
  for (let at = text.indexOf(sign); at >= 0; at = text.indexOf(sign, at + 1)) count += 1;
  return count;
}

/** Files that are often taken for a table. */
function refuseOthers(start: string): void {
  if (
    start.startsWith('PK\u0003\u0004') ||
    start.startsWith('\u00d0\u00cf') ||
    start.startsWith('\ufffd\ufffd\u0011')
  )
    throw new NoTable('is a file of a spreadsheet program', 'Save the sheet as CSV and take that.');
  // Of UTF-16 every other byte of a plain letter is nought, and no table of text has such.
  if (start.slice(0, 4_000).includes('\0'))
    throw new NoTable('is no text in UTF-8 or latin1', 'Save it again as CSV in UTF-8.');
}
