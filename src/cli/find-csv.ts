import { csvLines } from '../open/csv.js';
import { spreadIn } from '../quantity/index.js';
import type { BookRecord } from '../reckon/records.js';
import { conditionsOf, type Hit } from './find-hits.js';

const HEAD = [
  'date',
  'sort',
  'system',
  'what',
  'value',
  'unit',
  'uncertainty',
  'text',
  'conditions',
  'how',
  'note',
  'standing',
  'outcome',
  'limit',
  'state',
  'entry',
  'file',
  'line',
];

/**
 * Hits as CSV (RFC 4180: lines end in CR LF, fields with commas, quotes or line ends are quoted). A text that
 * a spreadsheet would take for a formula gets an apostrophe before it; numbers stay numbers.
 */
export function hitsAsCsv(hits: readonly Hit[]): string {
  return csvLines([HEAD, ...hits.map(rowOf)]);
}

function rowOf({ record, file, line }: Hit): readonly (string | number | null)[] {
  const { quantity } = record;
  return [
    record.date,
    record.sort,
    record.system,
    record.title,
    quantity === null ? null : quantity.value,
    quantity === null || quantity.unit === '1' ? null : quantity.unit,
    knownSpread(record),
    record.says,
    conditionsOf(record),
    record.how,
    record.note,
    record.standing,
    record.outcome,
    record.limit,
    record.state,
    record.entry,
    file,
    line,
  ];
}

/** The half-width in the unit of the value, from whatever it is known; null where it is not. */
function knownSpread({ quantity, uncertainty }: BookRecord): number | null {
  if (quantity === null) return null;
  if (quantity.uncertainty !== null) return quantity.uncertainty;
  const si = uncertainty?.si ?? null;
  return si === null ? null : Number(spreadIn(si, quantity.kind, quantity.unit).toPrecision(6));
}
