/** The value type of this module: one number with a unit, as written and in SI. */
import { type Kind, kindRow } from './kinds.js';
import { fromSiValue, knownUnit, toSi, type Unit, unitOf, unitsFor } from './units.js';

/** In what shape a value was written: it is printed back in the same one. */
export type Form = 'decimal' | 'fraction' | 'compound' | 'gauge';

/** A value of a kind, with a unit. Immutable. */
export interface Quantity {
  /** The text as written. */
  readonly written: string;
  readonly kind: Kind;
  /** The number, in `unit`. */
  readonly value: number;
  /** Canonical symbol of the unit; `1` for a plain number. */
  readonly unit: string;
  /**
   * Place value of the last digit as written, in `unit`: 12.71 has 0.01, 1480 has 1, 27 1/2 has 0.5.
   * A wire gauge has 1. What was never written (a derived value) has 0: no digits to keep to.
   */
  readonly resolution: number;
  /** Half-width of the interval the value lies in, as written, in `unit`; `null` is unknown. */
  readonly uncertainty: number | null;
  readonly form: Form;
  /** The value in the coherent SI unit of the kind (K for a temperature). */
  readonly si: number;
  readonly siUnit: string;
  /** The half-width in SI; of a temperature in K of difference. */
  readonly siUncertainty: number | null;
}

/** What a quantity is made of; the SI side is reckoned from it. */
export interface QuantityParts {
  readonly written: string;
  readonly kind: Kind;
  readonly value: number;
  readonly unit: Unit;
  readonly resolution: number;
  readonly uncertainty: number | null;
  readonly form: Form;
}

/** Makes a quantity from the value in its unit. */
export function makeQuantity(parts: QuantityParts): Quantity {
  const { written, kind, value, unit, resolution, uncertainty, form } = parts;
  return Object.freeze({
    written,
    kind,
    value,
    unit: unit.symbol,
    resolution,
    uncertainty,
    form,
    si: toSi(value, unit, kind),
    siUnit: kindRow(kind).siUnit,
    siUncertainty: uncertainty === null ? null : uncertainty * unit.factor,
  });
}

/** A value that was reckoned, in SI; `siResolution` 0 or absent where no digits bound it. */
export interface SiValue {
  readonly si: number;
  readonly siUncertainty: number | null;
  readonly siResolution?: number;
}

/** Makes a quantity from a reckoned SI value, to be shown in `unit` (the commonest of the kind by default). */
export function fromSi(kind: Kind, of: SiValue, symbol?: string): Quantity {
  const asked = symbol === undefined ? undefined : unitOf(symbol);
  const fits = asked?.kinds.includes(kind) === true && asked.symbol !== 'AWG';
  const unit = fits ? asked : knownUnit(unitsFor(kind)[0] as string);
  return Object.freeze({
    written: '',
    kind,
    value: fromSiValue(of.si, unit, kind),
    unit: unit.symbol,
    resolution: (of.siResolution ?? 0) / unit.factor,
    uncertainty: of.siUncertainty === null ? null : of.siUncertainty / unit.factor,
    form: 'decimal',
    si: of.si,
    siUnit: kindRow(kind).siUnit,
    siUncertainty: of.siUncertainty,
  });
}

/** Place value of the last digit as written, in SI; of a wire gauge a hundredth of its area. */
export function siResolution(q: Quantity): number {
  return q.form === 'gauge' ? q.si / 100 : q.resolution * knownUnit(q.unit).factor;
}

/**
 * How fine a converted value is shown, in SI. A known uncertainty alone decides (0: nothing else bounds it).
 * Fractions are written reduced, and 1/2 in may have been read to sixteenths: they keep a quarter of the
 * fraction and at least two digits, so that 1/4 in is 6.4 mm, not 10 mm.
 */
function convertedResolution(q: Quantity): number {
  if (q.uncertainty !== null) return 0;
  if (q.form !== 'fraction' && q.form !== 'compound') return siResolution(q);
  return Math.min(siResolution(q) / 4, Math.abs(q.si) / 10 || Number.POSITIVE_INFINITY);
}

/**
 * The same value in another unit of its kind; `undefined` if the unit does not fit, or is a wire gauge
 * (most areas have no gauge number). `si` and what was written stay as they are.
 */
export function convert(q: Quantity, symbol: string): Quantity | undefined {
  if (symbol === q.unit) return q;
  const unit = unitOf(symbol);
  if (unit === undefined || !unit.kinds.includes(q.kind) || symbol === 'AWG') return undefined;
  return Object.freeze({
    ...q,
    value: fromSiValue(q.si, unit, q.kind),
    unit: symbol,
    resolution: convertedResolution(q) / unit.factor,
    uncertainty: q.siUncertainty === null ? null : q.siUncertainty / unit.factor,
    form: 'decimal',
  });
}
