import { createReadStream } from 'node:fs';
import { type CsvError, parse } from 'csv-parse';
import type { TakeMap } from '../../schemas/take-map.js';

/** Reads a table row by row, without ever holding it whole. */

/** A row that is no row: quotes that do not close, say. */
export interface BrokenRow {
  readonly line: number;
  readonly why: string;
}

/** Longest row: past it, a quote was opened and never closed. */
const MAX_ROW = 200_000;

/**
 * The rows of a file, each with the line in which it ends, counted from 1; a row that cannot be taken apart is
 * handed to `broken`.
 *
 * @throws what the file system throws.
 */
export async function* tableRows(
  path: string,
  { delimiter = ',', encoding = 'utf-8', 'skip-lines': skip = 0 }: TakeMap,
  broken: (row: BrokenRow) => void,
): AsyncGenerator<{ readonly cells: readonly string[]; readonly line: number }> {
  const source = createReadStream(path, { encoding: encoding === 'latin1' ? 'latin1' : 'utf8' });
  const parser = parse({
    bom: true,
    delimiter: delimiter === 'tab' ? '\t' : delimiter,
    from_line: skip + 1,
    info: true,
    max_record_size: MAX_ROW,
    relax_column_count: true,
    skip_empty_lines: true,
    skip_records_with_error: true,
    on_skip: (error: CsvError | undefined) => {
      if (error !== undefined)
        broken({ line: Number(error['lines'] ?? 0), why: 'its quotes do not open and close as they should' });
      return undefined;
    },
  });
  source.on('error', (error) => parser.destroy(error));
  source.pipe(parser);
  for await (const { record, info } of parser as AsyncIterable<{
    readonly record: readonly string[];
    readonly info: { readonly lines: number };
  }>)
    yield { cells: record, line: info.lines };
}
