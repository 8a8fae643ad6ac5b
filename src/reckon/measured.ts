import type { Uncertainty } from '../check/model.js';
import { type DisplayPreference, printQuantity, printWithSpread, type Quantity } from '../quantity/index.js';

/** A reading with the ± by which it is judged, whether that was written with it or is the instrument's. */
export function printMeasured(
  quantity: Quantity,
  uncertainty: Uncertainty,
  display: DisplayPreference,
): string {
  return uncertainty.from === 'instrument' && uncertainty.si !== null
    ? printWithSpread(quantity, uncertainty.si, display)
    : printQuantity(quantity, display);
}
