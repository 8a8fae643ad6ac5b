import { differenceKind, type Kind } from './kinds.js';
import { type DisplayPreference, preferred, printQuantity } from './print.js';
import { fromSi, type Quantity } from './quantity.js';

/** Values with a ± that was not written with them. */

/**
 * A value with a ± of its own. Fractions keep their form, so their ± goes behind.
 *
 * @param si half-width in SI.
 * @example printWithSpread(34.12 mm, 0.00003, …) // '34.12 ± 0.03 mm'
 */
export function printWithSpread(quantity: Quantity, si: number, display: DisplayPreference): string {
  const shown = preferred(quantity, display);
  const own = fromSi(differenceKind(quantity.kind), { si, siUncertainty: null });
  if (shown.form !== 'decimal')
    return `${printQuantity(quantity, display)} ± ${printQuantity(twoDigits(preferred(own, display)))}`;
  return printQuantity({ ...shown, uncertainty: spreadIn(si, shown.kind, shown.unit), siUncertainty: si });
}

/** A half-width in SI as one in a unit: scaled, but not shifted where the scale has no natural zero. */
export function spreadIn(si: number, kind: Kind, unit: string): number {
  return si * (inUnit(1, kind, unit) - inUnit(0, kind, unit));
}

function twoDigits(quantity: Quantity): Quantity {
  return { ...quantity, value: Number(quantity.value.toPrecision(2)) };
}

/** A number of SI units as the number in a unit of the kind, for drawing. */
export function inUnit(si: number, kind: Kind, unit: string): number {
  return fromSi(kind, { si, siUncertainty: null }, unit).value;
}
