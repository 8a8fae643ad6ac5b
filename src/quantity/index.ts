/** Quantities: kinds, units, reading, printing, periods, money, tolerances and formulas. */
export { type Evaluation, evaluate, linearise, type Slope, type Verdict } from './formula/evaluate.js';
export { type Formula, type FormulaKind, type FormulaResult, parseFormula } from './formula/formula.js';
export { FORMULA_FUNCTIONS, FUNCTIONS_ADVISE, type FunctionDoc } from './formula/functions.js';
export { gravityAt, insulationAt40 } from './formula/functions-machinery.js';
export { namesIn } from './formula/names-in.js';
export {
  type Band,
  type Judgement,
  judge,
  parseRequirement,
  type RequirementResult,
} from './formula/requirement.js';
export { substitute } from './formula/substitute.js';
export { type Interval, type IntervalResult, parseInterval, printInterval } from './interval.js';
export { ALL_KINDS, aKind, differenceKind, isKind, type Kind, type KindInfo } from './kinds.js';
export { currencyDecimals, isCurrency, type Money, type MoneyResult, parseMoney } from './money.js';
export { looksLikeQuantity, parseQuantity, type QuantityResult } from './parse.js';
export {
  type DisplayPreference,
  formatNumber,
  preferred,
  printQuantity,
  type UnitPreference,
} from './print.js';
export type { QuantityProblem, QuantityProblemCode } from './problem.js';
export { convert, fromSi, type Quantity, type SiValue, siResolution } from './quantity.js';
export { kindInfo, type Unit, unitOf, unitsFor } from './units.js';
export { halfWidthAt, parseWithin, type Within, type WithinResult } from './within.js';
