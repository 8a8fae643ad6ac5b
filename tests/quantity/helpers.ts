import {
  type Evaluation,
  evaluate,
  type FormulaKind,
  type Kind,
  parseFormula,
  parseQuantity,
  type Quantity,
  type QuantityProblem,
  type SiValue,
} from '../../src/quantity/index.js';

/** The quantity of a text; fails the test with the problem where there is none. */
export function read(text: string, kind?: Kind): Quantity {
  const result = parseQuantity(text, kind);
  if (!result.ok) throw new Error(`${text}: ${result.problem.message}`);
  return result.quantity;
}

/** The problem of a text; fails the test where it is read. */
export function problemOf(text: string, kind?: Kind): QuantityProblem {
  const result = parseQuantity(text, kind);
  if (result.ok) throw new Error(`${text} was read as ${result.quantity.value} ${result.quantity.unit}`);
  return result.problem;
}

/** Names of the formulas in tests, with their kinds. */
export const KINDS_OF_NAMES: ReadonlyMap<string, Kind> = new Map<string, Kind>([
  ['capacity', 'charge'],
  ['house-dc.capacity', 'charge'],
  ['rest-voltage', 'voltage'],
  ['volts', 'voltage'],
  ['amps', 'current'],
  ['watts', 'power'],
  ['volt-amperes', 'apparent-power'],
  ['power-factor', 'power-factor'],
  ['wrench', 'torque'],
  ['heat', 'energy'],
  ['shaft', 'rotational-speed'],
  ['inlet', 'temperature'],
  ['outlet', 'temperature'],
  ['rise', 'temperature-difference'],
  ['oil', 'gauge-pressure'],
  ['oil-idle', 'gauge-pressure'],
  ['air', 'absolute-pressure'],
  ['drop', 'pressure-difference'],
  ['beam', 'length'],
  ['pull', 'force'],
  ['tank', 'volume'],
  ['2nd-tank.level', 'volume'],
  ['acid', 'ph'],
  ['noise', 'sound-level'],
  ['ballast', 'mass'],
  ['wood', 'moisture'],
  ['factor', 'ratio'],
  ['lamps', 'count'],
  ['electrolyte', 'specific-gravity'],
  ['a', 'ratio'],
  ['b', 'ratio'],
  ['c', 'ratio'],
]);

export function formula(text: string, due?: FormulaKind) {
  return parseFormula(text, (name) => KINDS_OF_NAMES.get(name), due, [...KINDS_OF_NAMES.keys()]);
}

/** Reckons a formula; fails the test where it is not read. */
export function reckon(text: string, values: Record<string, SiValue>, due?: FormulaKind): Evaluation {
  const result = formula(text, due);
  if (!result.ok) throw new Error(`${text}: ${result.problem.message}`);
  return evaluate(result.formula, (name) => (Object.hasOwn(values, name) ? values[name] : undefined));
}

/** Fails unless two numbers agree to the last bits. */
export function near(actual: number, expected: number, relative = 1e-12): boolean {
  return Math.abs(actual - expected) <= relative * Math.max(Math.abs(actual), Math.abs(expected));
}
