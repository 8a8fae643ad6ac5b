import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, it } from 'vitest';
import { tableAsCsv } from '../../src/open/csv.js';
import { csvwDocument } from '../../src/open/csvw.js';
import { seriesAsCsv, seriesPath } from '../../src/open/series.js';
import { type Column, rowCount, tableOf } from '../../src/open/table.js';
import { tablesOf } from '../../src/open/tables/index.js';
import type { Reckoning } from '../../src/reckon/model.js';
import { demo } from './demo.js';
import { HOSTILE } from './hostile-texts.js';

/** Tables read back by a reader that is not ours, and held against what the metadata says of their columns. */

interface CsvwColumn {
  readonly name: string;
  readonly titles: string;
  readonly datatype: string | { readonly base: string; readonly format: string };
}

interface Csvw {
  readonly '@context': readonly unknown[];
  readonly tables: readonly {
    readonly url: string;
    readonly tableSchema: { readonly columns: CsvwColumn[] };
  }[];
}

let reckoning: Reckoning;

beforeAll(async () => {
  reckoning = await demo();
});

/** Read to RFC 4180 and no further: every line of the same length, ended by CR LF. */
function read(csv: string): readonly string[][] {
  return parse(csv, { record_delimiter: '\r\n', relax_column_count: false });
}

describe('the tables of the demo book', () => {
  it('are read back with every row and every cell', () => {
    for (const table of tablesOf(reckoning)) {
      const [head, ...rows] = read(tableAsCsv(table));
      expect(head, table.name).toEqual(table.columns.map(({ name }) => name));
      const cells = table.stretches.flatMap((stretch) => stretch.rows());
      expect(rows.length, table.name).toBe(rowCount(table));
      expect(rows, table.name).toEqual(
        cells.map((row) => row.map((cell) => (cell === null ? '' : String(cell)))),
      );
      expect(rows.length, table.name).toBeGreaterThan(10);
    }
  });

  it('have numbers that are the numbers of the book', () => {
    const readings = tablesOf(reckoning)[0];
    if (readings === undefined) throw new Error('no tables');
    const records = parse<Record<string, string>>(tableAsCsv(readings), { columns: true });
    expect(records.map((record) => Number(record['value']))).toEqual(
      reckoning.readings.map(({ quantity }) => quantity.value),
    );
    expect(records.some((record) => record['value']?.startsWith('-'))).toBe(true);
  });

  it('hold in every column what the metadata says', () => {
    const tables = tablesOf(reckoning);
    const document = JSON.parse(JSON.stringify(csvwDocument(reckoning, tables))) as Csvw;
    expect(document['@context'][0]).toBe('http://www.w3.org/ns/csvw');
    const files = new Map(tables.map((table) => [`${table.name}.csv`, tableAsCsv(table)]));
    for (const { series } of reckoning.series.values())
      files.set(seriesPath(series.point), seriesAsCsv(series));
    expect(document.tables.map(({ url }) => url)).toEqual([...files.keys()]);
    for (const { url, tableSchema } of document.tables) {
      const [head = [], ...rows] = read(files.get(url) as string);
      expect(head, url).toEqual(tableSchema.columns.map(({ titles }) => titles));
      const names = tableSchema.columns.map(({ name }) => name);
      expect(new Set(names).size).toBe(names.length);
      // A name is a variable of a URI template (RFC 6570, 2.3): no hyphen.
      for (const name of names) expect(name).toMatch(/^[A-Za-z0-9_]+$/);
      for (const row of rows)
        row.forEach((cell, at) => {
          const column = tableSchema.columns[at] as CsvwColumn;
          if (cell !== '') expect(fits(cell, column), `${url} ${column.name}: ${cell}`).toBe(true);
        });
    }
  });
});

/** Whether a cell is of a datatype, by "Model for Tabular Data and Metadata on the Web", 6.4. */
function fits(cell: string, { datatype }: CsvwColumn): boolean {
  const base = typeof datatype === 'string' ? datatype : datatype.base;
  switch (base) {
    case 'string':
      return true;
    case 'number':
      return /^[-+]?(?:\d+(?:\.\d*)?|\.\d+)(?:[Ee][-+]?\d+)?$/.test(cell);
    case 'integer':
      return /^[-+]?\d+$/.test(cell);
    case 'boolean':
      return cell === 'true' || cell === 'false';
    case 'date':
      return new Date(`${cell}T00:00:00Z`).toISOString().slice(0, 10) === cell;
    case 'dateTime':
      return new Date(`${cell}Z`).toISOString().slice(0, 19) === cell;
    default:
      throw new Error(`no such datatype: ${base}`);
  }
}

describe('texts that a spreadsheet would run', () => {
  const column: Column<string> = { name: 'text', type: 'text', about: 'x', of: (text) => text };
  const asCsv = (texts: readonly string[]) =>
    tableAsCsv(tableOf({ name: 'x', title: 'x', about: 'x' }, [column], texts));

  it.each(HOSTILE)('%j is a text', (text) => {
    const [, [cell]] = read(asCsv([text])) as [string[], [string]];
    expect(cell).not.toMatch(/^[=+\-@\t\r\uFF1D\uFF0B\uFF0D\uFF20]/);
    expect([text, `'${text}`]).toContain(cell);
  });

  it('are not made of numbers', () => {
    const numbers: Column<number> = { name: 'number', type: 'number', about: 'x', of: (value) => value };
    const csv = tableAsCsv(tableOf({ name: 'x', title: 'x', about: 'x' }, [numbers], [-0.5, -4, 1e-7, 3]));
    expect(read(csv)).toEqual([['number'], ['-0.5'], ['-4'], ['1e-7'], ['3']]);
  });
});

describe('a reading of what was there before', () => {
  it('is held against no limit, as on the pages', () => {
    const [readings] = tablesOf(reckoning).filter(({ name }) => name === 'readings');
    const names = readings?.columns.map(({ name }) => name) ?? [];
    const rows = (readings?.stretches ?? []).flatMap((stretch) => stretch.rows());
    const elbow = rows.filter((row) => row.includes('exhaust.elbow-wall'));
    expect(elbow.map((row) => row[names.indexOf('limit')])).toEqual(['former']);
  });
});
