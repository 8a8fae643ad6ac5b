import type { CheckedBook, Series } from '../check/model.js';
import type { Reckoning } from '../reckon/model.js';
import { seriesPath } from './series.js';
import type { CellType, Table } from './table.js';

/**
 * What the columns of the tables are, for programs: metadata by the W3C's "Metadata Vocabulary for Tabular Data"
 * (CSV on the Web, 17 December 2015), one document for all tables of a book. Its name is the one by which it is
 * found beside a table of its folder.
 */
export const CSVW_NAME = 'csv-metadata.json';

const DATATYPES: Readonly<Record<CellType, unknown>> = {
  text: 'string',
  number: 'number',
  integer: 'integer',
  date: { base: 'date', format: 'yyyy-MM-dd' },
  boolean: { base: 'boolean', format: 'true|false' },
};

const FORMULAS = 'A text that a spreadsheet would take for a formula has an apostrophe before it.';

/** The metadata of a book's tables and of its loggers' files, all in one folder. */
export function csvwDocument(reckoning: Reckoning, tables: readonly Table[]): object {
  const { book, asOf } = reckoning;
  return {
    '@context': ['http://www.w3.org/ns/csvw', { '@language': 'en' }],
    'dc:title': `${book.subject.name}: tables`,
    'dc:modified': { '@value': asOf, '@type': 'xsd:date' },
    tables: [...tables.map(tableDescription), ...seriesDescriptions(reckoning)],
  };
}

function tableDescription({ name, title, about, columns }: Table): object {
  return {
    url: `${name}.csv`,
    'dc:title': title,
    'dc:description': `${about} ${FORMULAS}`,
    tableSchema: {
      columns: columns.map((column) => ({
        name: column.name,
        titles: column.name,
        'dc:description': column.about,
        datatype: DATATYPES[column.type],
      })),
    },
  };
}

function seriesDescriptions({ book, series }: Reckoning): readonly object[] {
  return [...series.values()].map((state) => seriesDescription(book, state.series));
}

function seriesDescription(book: CheckedBook, { point }: Series): object {
  const dot = point.indexOf('.');
  const found = book.systems.get(point.slice(0, dot))?.points.get(point.slice(dot + 1));
  const unit = found === undefined || found.unit === '1' ? '' : `, in ${found.unit}`;
  return {
    url: seriesPath(point),
    'dc:title': found?.title ?? point,
    'dc:description': 'What a logger has read. The times are those of its clock and carry no zone.',
    tableSchema: {
      columns: [
        {
          name: 'time',
          titles: 'time',
          'dc:description': 'When it was read, by the clock on the wall.',
          datatype: { base: 'dateTime', format: 'yyyy-MM-ddTHH:mm:ss' },
        },
        {
          name: 'value',
          titles: 'value',
          'dc:description': `What was read${unit}.`,
          datatype: 'number',
        },
      ],
    },
  };
}
