import { type DisplayPreference, printQuantity } from '../../quantity/index.js';
import type { PowerVerdict, Together } from '../../reckon/power/model.js';

/** What can run together on one source. */
export interface MatrixView {
  /** Names of the loads, in the order of rows and columns. */
  readonly loads: readonly string[];
  /** Whether two can run at once; on the diagonal, whether one can by itself. */
  readonly pairs: readonly (readonly PowerVerdict[])[];
  /** How many largest sets there are; null where they were not all found. */
  readonly count: number | null;
  readonly sets: readonly {
    readonly loads: readonly string[];
    readonly verdict: PowerVerdict;
    readonly active: string;
    readonly apparent: string;
  }[];
  readonly unknown: readonly string[];
}

/** As many largest sets as a page lists. */
const MOST_SETS = 12;

/** What runs with what; null for fewer than two loads. `titleOf` gives the name of a load. */
export function matrixView(
  together: Together,
  titleOf: (load: string) => string,
  display: DisplayPreference,
): MatrixView | null {
  if (together.loads.length < 2) return null;
  return {
    loads: together.loads.map(titleOf),
    pairs: together.pairs,
    count: together.count,
    sets: together.sets.slice(0, MOST_SETS).map(({ loads, verdict, active, apparent }) => ({
      loads: loads.map(titleOf),
      verdict,
      active: printQuantity(active.quantity, display),
      apparent: printQuantity(apparent.quantity, display),
    })),
    unknown: together.unknown.map(titleOf),
  };
}
