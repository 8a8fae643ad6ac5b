import type { LimitState, Outcome, Standing } from '../reckon/model.js';
import type { RecordSort } from '../reckon/records.js';

/** Names that a query knows whatever the book. Their places in these lists are what the data holds. */

export const SORTS = [
  'reading',
  'statement',
  'part',
  'item',
  'decision',
  'test',
] as const satisfies readonly RecordSort[];

/** What somebody calls several of a sort. */
export const PLURALS: Readonly<Record<RecordSort, string>> = {
  reading: 'readings',
  statement: 'statements',
  part: 'parts',
  item: 'items',
  decision: 'decisions',
  test: 'tests',
};

export const STANDINGS = [
  'contradicted',
  'undecided',
  'lapsed',
  'unverified',
  'verified',
] as const satisfies readonly Standing[];
export const OUTCOMES = ['pass', 'fail', 'undecided'] as const satisfies readonly Outcome[];
export const LIMITS = [
  'inside',
  'outside',
  'undecided',
  'no-limit',
  'former',
] as const satisfies readonly LimitState[];
