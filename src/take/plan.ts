import type { EntriesPlan } from './into-entries.js';
import type { SeriesPlan } from './into-series.js';
import type { Refusals } from './refusals.js';

/** What a table comes to: nothing of it is written yet. */
export interface TakePlan {
  readonly rows: number;
  readonly series: readonly SeriesPlan[];
  /** Null where no column goes into entries. */
  readonly entries: EntriesPlan | null;
  readonly refused: Refusals;
}
