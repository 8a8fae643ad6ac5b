import type { Claim, Condition, Uncertainty } from '../check/model.js';
import {
  currencyDecimals,
  type DisplayPreference,
  type Money,
  printQuantity,
  type Quantity,
} from '../quantity/index.js';
import { printMeasured } from '../reckon/measured.js';

/** Values as texts. Rounding and units are the quantity module's; here is only what goes beside the number. */

/** Where the ± of a shown value is known from. */
export type SpreadFrom = 'stated' | 'instrument' | 'not known' | null;

/** A value as it is shown. */
export interface ShownValue {
  readonly text: string;
  /** Null for a text, which has no ±. */
  readonly spread: SpreadFrom;
}

/** What somebody stated, as a text. */
export function showClaim(claim: Claim, display: DisplayPreference): string {
  return claim.type === 'text' ? claim.text : printQuantity(claim.quantity, display);
}

/** A measured value with its uncertainty, and where that is known from. */
export function showMeasured(claim: Claim, uncertainty: Uncertainty, display: DisplayPreference): ShownValue {
  if (claim.type === 'text') return { text: claim.text, spread: null };
  return showReading(claim.quantity, uncertainty, display);
}

/** A reading with its uncertainty, and where that is known from. */
export function showReading(
  quantity: Quantity,
  uncertainty: Uncertainty,
  display: DisplayPreference,
): ShownValue {
  if (uncertainty.from === 'unknown' || uncertainty.si === null) {
    return { text: printQuantity(quantity, display), spread: 'not known' };
  }
  if (uncertainty.from === 'written') return { text: printQuantity(quantity, display), spread: 'stated' };
  return { text: printMeasured(quantity, uncertainty, display), spread: 'instrument' };
}

/** Conditions in one line: `ambient 19 °C, current 16 A`. */
export function showConditions(under: readonly Condition[], display: DisplayPreference): string | null {
  if (under.length === 0) return null;
  return under
    .map(({ name, value }) => `${name.replaceAll('-', ' ')} ${showClaim(value, display)}`)
    .join(', ');
}

/** An amount of money with its decimals: `1480.00 EUR`. */
export function showMoney({ amount, currency }: Pick<Money, 'amount' | 'currency'>): string {
  const digits = Math.abs(amount).toFixed(currencyDecimals(currency));
  return `${amount < 0 ? '−' : ''}${grouped(digits)} ${currency}`;
}

/** Hours to a tenth: `3.5 h`. */
export function showHours(hours: number): string {
  return `${grouped((Math.round(hours * 10) / 10).toString())} h`;
}

/** Thousands set apart by a narrow no-break space (ISO 80000-1, 7.3.1), from five digits on. */
function grouped(digits: string): string {
  const [whole = '', rest] = digits.split('.');
  const spaced = whole.length < 5 ? whole : whole.replace(/\B(?=(\d{3})+$)/g, '\u202f');
  return rest === undefined ? spaced : `${spaced}.${rest}`;
}
