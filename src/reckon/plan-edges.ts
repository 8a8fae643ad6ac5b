import type { PowerReckoning } from './power/model.js';
import { type Edge, node } from './reliance.js';
import type { WeightsReckoning } from './weights/model.js';

/** What the cases of the power plan, and the weights, rest on. */
export function planEdges(power: PowerReckoning | null, weights: WeightsReckoning | null): readonly Edge[] {
  const cases = (power?.cases ?? []).flatMap(({ id, restsOn }) =>
    restsOn.map(({ ref }): Edge => [node('value', ref), node('case', id)]),
  );
  const floating = (weights?.restsOn ?? []).map(
    ({ ref }): Edge => [node('value', ref), node('weights', 'weights')],
  );
  return [...cases, ...floating];
}
