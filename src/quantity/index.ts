/** Quantities: kinds, units, reading, printing, periods, money, tolerances and formulas. */

export { currencyDecimals, isCurrency } from './currencies.js';
export { type Evaluation, evaluate, linearise, type Slope, type Verdict } from './formula/evaluate.js';
export { type Formula, type FormulaKind, parseFormula } from './formula/formula.js';
export { FORMULA_FUNCTIONS, FUNCTIONS_ADVISE } from './formula/functions.js';
export { gravityAt, insulationAt40 } from './formula/functions-machinery.js';
export { namesIn } from './formula/names-in.js';
export {
  type Band,
  judge,
  parseRequirement,
} from './formula/requirement.js';
export { substitute } from './formula/substitute.js';
export { type Interval, parseInterval, printInterval } from './interval.js';
export { ALL_KINDS, aKind, differenceKind, isKind, type Kind } from './kinds.js';
export { type Money, parseMoney } from './money.js';
export { looksLikeQuantity, parseQuantity } from './parse.js';
export {
  type DisplayPreference,
  formatNumber,
  preferred,
  printQuantity,
} from './print.js';
export type { QuantityProblem } from './problem.js';
export { convert, fromSi, type Quantity, type SiValue, siResolution } from './quantity.js';
export { inUnit, printWithSpread, spreadIn } from './spread.js';
export { commonCode } from './unit-codes.js';
export { kindInfo, unitOf, unitsFor } from './units.js';
export { halfWidthAt, parseWithin } from './within.js';
