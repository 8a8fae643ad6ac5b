import type { Uncertainty } from '../check/model.js';
import { type Quantity, unitOf } from '../quantity/index.js';

/** A value as a row of the export. */
export function quantityRow(quantity: Quantity) {
  const { written, value, unit, kind, si, siUnit, uncertainty } = quantity;
  return { written, value, unit, ucum: unitOf(unit)?.ucum ?? unit, kind, si, siUnit, uncertainty };
}

/**
 * The half-width in the unit of the value. One that comes from an instrument is known in SI and is scaled
 * back; the last digits that the scaling adds are noise and are cut off. A wire gauge has no linear scale.
 */
export function uncertaintyIn(quantity: Quantity, uncertainty: Uncertainty): number | null {
  const unit = unitOf(quantity.unit);
  if (uncertainty.from === 'written') return quantity.uncertainty;
  if (uncertainty.si === null || unit === undefined || quantity.form === 'gauge') return null;
  return Number((uncertainty.si / unit.factor).toPrecision(12));
}
