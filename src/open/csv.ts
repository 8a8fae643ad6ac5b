import { stringify } from 'csv-stringify/sync';
import type { Cell, Stretch, Table } from './table.js';

/**
 * Tables as CSV by RFC 4180: a head line, lines that end in CR LF, fields with commas, quotes or line ends in
 * quotes. A text that a spreadsheet would take for a formula gets an apostrophe before it; numbers stay numbers.
 */

/** How every CSV of ours is written. */
export const CSV_FORM = {
  record_delimiter: 'windows',
  escape_formulas: true,
  // By itself it quotes no line feed where lines end in both.
  quoted_match: /[\r\n]/,
  cast: { boolean: (value: boolean) => (value ? 'true' : 'false') },
} as const;

/** A whole table, with its head. */
export function tableAsCsv(table: Table): string {
  return csvHead(table) + table.stretches.map(csvRows).join('');
}

/** The head line of a table. */
export function csvHead({ columns }: Table): string {
  return csvLines([columns.map(({ name }) => name)]);
}

/** The lines of a stretch. */
export function csvRows(stretch: Stretch): string {
  return csvLines(stretch.rows());
}

function csvLines(rows: readonly (readonly Cell[])[]): string {
  return stringify([...rows], CSV_FORM);
}
