import { type Quantity, unitOf } from '../quantity/index.js';

/** A value as a row of the export. */
export function quantityRow(quantity: Quantity) {
  const { written, value, unit, kind, si, siUnit, uncertainty } = quantity;
  return { written, value, unit, ucum: unitOf(unit)?.ucum ?? unit, kind, si, siUnit, uncertainty };
}
