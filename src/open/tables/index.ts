import type { Reckoning } from '../../reckon/model.js';
import type { Table } from '../table.js';
import { partMovesTable, partsTable } from './parts.js';
import { readingsTable } from './readings.js';
import { testsTable } from './tests.js';
import { upkeepDoneTable, upkeepTable } from './upkeep.js';

/** The tables of a book that are handed on, by name. */
export const TABLES = {
  readings: readingsTable,
  tests: testsTable,
  parts: partsTable,
  'part-moves': partMovesTable,
  upkeep: upkeepTable,
  'upkeep-done': upkeepDoneTable,
} as const satisfies Readonly<Record<string, (reckoning: Reckoning) => Table>>;

export type TableName = keyof typeof TABLES;

/** All tables of a book, in the order in which they are listed. */
export function tablesOf(reckoning: Reckoning): readonly Table[] {
  return Object.values(TABLES).map((make) => make(reckoning));
}
