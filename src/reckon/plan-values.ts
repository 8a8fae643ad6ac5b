import type { System } from '../check/model.js';
import { type Kind, linearise, parseFormula, parseQuantity } from '../quantity/index.js';
import { exactly, fromQuantity, type Origin, type Uncertain } from './uncertain.js';
import type { Values } from './values.js';

/** Reading the values of a plan: a quantity as written, or a formula over the values in force. */

/** Why there is no value: the names in its formula that have none, or that it comes to no number. */
export interface Missing {
  readonly missing: readonly string[];
}

/** Whether a value could not be had. */
export function isMissing(read: Uncertain<Kind> | Missing): read is Missing {
  return 'missing' in read;
}

/** Reads values of one plan. What is the same input in two formulas is the same one in all of them. */
export interface PlanReader {
  /** A quantity, or a formula over the book. */
  readonly value: <K extends Kind>(written: string | number, kind: K) => Uncertain<K> | Missing;
  readonly values: Values;
}

/** How sure a value is that a plan states without ±: as laid down, or as measured with unknown uncertainty. */
export type Unstated = 'exact' | 'unknown';

/**
 * A reader over the values in force.
 *
 * @param systems tell of what kind each name is.
 * @param unstated how sure a value is that states no ±. In formulas it is exact in any case.
 */
export function planReader(
  systems: ReadonlyMap<string, System>,
  values: Values,
  unstated: Unstated,
): PlanReader {
  const origins = new Map<string | object, Origin>();
  const kindOf = (ref: string) => kindOfRef(ref, systems);
  return {
    values,
    value: (written, kind) => {
      const read = parseQuantity(written, kind);
      if (!read.ok) return fromFormula(String(written), kind, kindOf, values, origins);
      const { quantity } = read;
      const laidDown = unstated === 'exact' && quantity.siUncertainty === null;
      return laidDown ? exactly(kind, quantity.si) : fromQuantity(kind, quantity);
    },
  };
}

function kindOfRef(ref: string, systems: ReadonlyMap<string, System>): Kind | undefined {
  const [system = '', name = ''] = ref.split('.');
  const found = systems.get(system);
  const claim = found?.specs.get(name)?.claim;
  const claimed = claim?.type === 'quantity' ? claim.quantity.kind : undefined;
  return found?.points.get(name)?.kind ?? found?.derived.get(name)?.kind ?? claimed;
}

function fromFormula<K extends Kind>(
  text: string,
  kind: K,
  kindOf: (ref: string) => Kind | undefined,
  values: Values,
  origins: Map<string | object, Origin>,
): Uncertain<K> | Missing {
  const read = parseFormula(text, kindOf, kind);
  // A name may have gone since the plan was checked: an audience does not see its system, or it came later.
  if (!read.ok)
    return { missing: [text.slice(read.problem.offset, read.problem.offset + read.problem.length)] };
  const { names } = read.formula;
  const unfolded = values.unfold(read.formula);
  const result = linearise(unfolded, (name) => values.of(name));
  if (result === undefined) return { missing: names.filter((name) => values.of(name) === undefined) };
  const slopes = new Map<Origin, number>();
  for (const { from, slope, siUncertainty, siResolution: resolution } of result.slopes) {
    const origin = origins.get(from) ?? { half: siUncertainty, resolution };
    origins.set(from, origin);
    slopes.set(origin, slope);
  }
  const below = [...names, ...unfolded.names].flatMap((name) => [name, ...(values.of(name)?.restsOn ?? [])]);
  return { kind, si: result.si, slopes, rests: new Set(below) };
}
