import { byYear } from './years.js';

/** What a cell of a column holds. Days are `YYYY-MM-DD`. */
export type CellType = 'text' | 'number' | 'integer' | 'date' | 'boolean';

export type Cell = string | number | boolean | null;

/** One column: its name in the file, and what it holds, in words. */
export interface Column<Row> {
  readonly name: string;
  readonly type: CellType;
  readonly about: string;
  readonly of: (row: Row) => Cell;
}

/** A table of a book that is handed on as CSV. */
export interface Table {
  /** Its file's name without the ending. */
  readonly name: string;
  readonly title: string;
  /** What a row stands for. */
  readonly about: string;
  readonly columns: readonly Omit<Column<never>, 'of'>[];
  /** In stretches, of which one can be made without the others; joined they are the whole. */
  readonly stretches: readonly Stretch[];
}

/** Some rows of a table. */
export interface Stretch {
  /** `2025`, or empty where the table is in one stretch. */
  readonly name: string;
  readonly count: number;
  readonly rows: () => readonly (readonly Cell[])[];
}

/** What a table is told by, besides its rows. */
type Head = Pick<Table, 'name' | 'title' | 'about'>;

/** A table in one stretch. */
export function tableOf<Row>(head: Head, columns: readonly Column<Row>[], rows: readonly Row[]): Table {
  return { ...head, columns, stretches: [stretchOf('', columns, rows)] };
}

/** A table in a stretch for each year, oldest first: long ones grow at the end only. */
export function tableByYear<Row extends { readonly date: string }>(
  head: Head,
  columns: readonly Column<Row>[],
  rows: readonly Row[],
): Table {
  return {
    ...head,
    columns,
    stretches: [...byYear(rows)].map(([year, found]) => stretchOf(year, columns, found)),
  };
}

function stretchOf<Row>(name: string, columns: readonly Column<Row>[], rows: readonly Row[]): Stretch {
  return {
    name,
    count: rows.length,
    rows: () => rows.map((row) => columns.map((column) => column.of(row))),
  };
}

/** How many rows a table has. */
export function rowCount({ stretches }: Table): number {
  return stretches.reduce((sum, { count }) => sum + count, 0);
}
