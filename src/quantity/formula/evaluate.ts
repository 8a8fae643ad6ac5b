/** Reckoning a formula, with uncertainty. */

import type { SiValue } from '../quantity.js';
import { type Comparison, type Formula, type Node, outsideDomain, type Relation } from './formula.js';
import type { TradeFunction } from './function-model.js';
import type { BasicFunction } from './functions.js';
import { isBasicFunction, tradeFunction } from './functions.js';

/** How a comparison comes out; `unknown` where a value is missing or cannot be reckoned. */
export type Verdict = 'holds' | 'fails' | 'undecided' | 'unknown';

/** What a formula comes to. `missing` lists the names without a value. */
export type Evaluation =
  | ({ readonly is: 'value' } & Required<SiValue>)
  | { readonly is: 'truth'; readonly verdict: Verdict; readonly missing: readonly string[] }
  | { readonly is: 'unknown'; readonly missing: readonly string[] }
  /** There is no such number: a division by nought, the root of a negative; `why` where a function says so. */
  | { readonly is: 'undefined'; readonly why?: string };

/** A value with its derivative by each source of uncertainty: a name, or a literal that states a ±. */
interface Dual {
  readonly value: number;
  readonly slopes: ReadonlyMap<string | Node, number>;
  /** Why there is no number, where a function refused one. */
  readonly why?: string;
}

type LookUp = (name: string) => SiValue | undefined;

/** One reckoning: the values of the names, and the parts that are reckoned already. */
interface Reckoning {
  readonly lookUp: LookUp;
  readonly known: Map<Node, Dual | undefined>;
}

/**
 * Reckons a formula in SI.
 *
 * Uncertainty is carried on by first order (JCGM 100:2008, 5.1.2, equation 10): the half-width of the result
 * is the root of the sum of squares of each input's half-width times the derivative by it. Derivatives are
 * exact, one per name, so that a name used twice is fully correlated with itself: `a - a` is 0 ± 0 and
 * `a + a` is twice `a` with twice its half-width. Different names are taken as independent. An input of
 * unknown uncertainty that matters makes that of the result unknown. `min`, `max` and `abs` are taken by the
 * branch on which the values lie; a trade function says its own derivatives. `siResolution` carries the place of the last digit the same way.
 *
 * @param lookUp  the value of each name, in SI; `undefined` where there is none
 */
export function evaluate(formula: Formula, lookUp: LookUp): Evaluation {
  const missing = formula.names.filter((name) => lookUp(name) === undefined);
  const { body } = formula;
  const reckoning = { lookUp, known: new Map() };
  if ('all' in body) {
    const verdict = allOf(body.all.map((comparison) => verdictOf(comparison, reckoning)));
    return { is: 'truth', verdict, missing };
  }
  const dual = reckon(body.value, reckoning);
  if (dual === undefined) return { is: 'unknown', missing };
  if (!Number.isFinite(dual.value)) return { is: 'undefined', ...reason(dual) };
  const siUncertainty = spread(dual, lookUp);
  return { is: 'value', si: dual.value, siUncertainty, siResolution: coarseness(dual, lookUp) };
}

/** How a result moves with one of the things that it hangs on: a name, or a literal that states a ±. */
export interface Slope {
  /** The name; or the literal itself, the same one wherever it comes in. */
  readonly from: string | object;
  readonly slope: number;
  /** The half-width of what it hangs on, in SI; `null` is unknown. */
  readonly siUncertainty: number | null;
  readonly siResolution: number;
}

/**
 * The value of a formula in SI with its derivatives, for a reckoning that goes on where the formula ends and
 * must know which of its values hang on the same input. `undefined` where it comes to no number.
 */
export function linearise(
  formula: Formula,
  lookUp: LookUp,
): { readonly si: number; readonly slopes: readonly Slope[] } | undefined {
  if ('all' in formula.body) return undefined;
  const dual = reckon(formula.body.value, { lookUp, known: new Map() });
  if (dual === undefined || !Number.isFinite(dual.value)) return undefined;
  const slopes = [...dual.slopes].map(([from, slope]): Slope => {
    if (typeof from !== 'string') return { from, slope, siUncertainty: literalHalf(from), siResolution: 0 };
    const input = lookUp(from);
    const siUncertainty = input?.siUncertainty ?? null;
    return { from, slope, siUncertainty, siResolution: input?.siResolution ?? 0 };
  });
  return { si: dual.value, slopes };
}

/** All together: one failure fails, else one unknown leaves it unknown, else one doubt leaves it undecided. */
function allOf(verdicts: readonly Verdict[]): Verdict {
  const order: readonly Verdict[] = ['fails', 'unknown', 'undecided'];
  return order.find((verdict) => verdicts.includes(verdict)) ?? 'holds';
}

/**
 * Holds a comparison against the interval of the difference of its sides: it holds or fails where the whole
 * interval says so and is undecided where the interval straddles. An unknown uncertainty is taken on the
 * value alone.
 */
function verdictOf({ relation, left, right }: Comparison, reckoning: Reckoning): Verdict {
  const [a, b] = [reckon(left, reckoning), reckon(right, reckoning)];
  if (a === undefined || b === undefined) return 'unknown';
  const difference = combine(a, b, a.value - b.value, 1, -1);
  if (!Number.isFinite(difference.value)) return 'unknown';
  const half = spread(difference, reckoning.lookUp) ?? 0;
  // Conversions between units round in the last bit; equal means equal.
  const rounding = 1e-12 * Math.max(Math.abs(a.value), Math.abs(b.value));
  const snap = (value: number) => (Math.abs(value) <= rounding ? 0 : value);
  return relate(relation, snap(difference.value - half), snap(difference.value + half));
}

/** Holds an interval of a difference against nought. */
function relate(relation: Relation, low: number, high: number): Verdict {
  switch (relation) {
    case '=':
      if (low > 0 || high < 0) return 'fails';
      return low === high ? 'holds' : 'undecided';
    case '<':
      return high < 0 ? 'holds' : low >= 0 ? 'fails' : 'undecided';
    case '<=':
      return high <= 0 ? 'holds' : low > 0 ? 'fails' : 'undecided';
    case '>':
      return relate('<', -high, -low);
    case '>=':
      return relate('<=', -high, -low);
  }
}

/** The half-width of a result; `null` where an input that matters has none known. */
function spread(dual: Dual, lookUp: LookUp): number | null {
  let sum = 0;
  for (const [source, slope] of dual.slopes) {
    if (slope === 0) continue;
    const half = typeof source === 'string' ? lookUp(source)?.siUncertainty : literalHalf(source);
    if (half === null || half === undefined) return null;
    sum = Math.hypot(sum, slope * half);
  }
  return Number.isFinite(sum) ? sum : null;
}

function literalHalf(node: Node): number {
  return node.op === 'literal' ? node.uncertainty : 0;
}

function coarseness(dual: Dual, lookUp: LookUp): number {
  let sum = 0;
  for (const [source, slope] of dual.slopes) {
    if (typeof source === 'string') sum = Math.hypot(sum, slope * (lookUp(source)?.siResolution ?? 0));
  }
  return Number.isFinite(sum) ? sum : 0;
}

const NO_SLOPES: ReadonlyMap<string | Node, number> = new Map();

/**
 * Reckons a part, once, however often it stands in the formula: one that was put together from others may
 * hold the same part a great many times. `undefined` where a name in it has no value.
 */
function reckon(node: Node, reckoning: Reckoning): Dual | undefined {
  const known = reckoning.known.get(node);
  if (known !== undefined || reckoning.known.has(node)) return known;
  const dual = reckonAnew(node, reckoning);
  reckoning.known.set(node, dual);
  return dual;
}

function reckonAnew(node: Node, reckoning: Reckoning): Dual | undefined {
  switch (node.op) {
    case 'literal':
      return { value: node.value, slopes: node.uncertainty > 0 ? new Map([[node, 1]]) : NO_SLOPES };
    case 'name': {
      const value = reckoning.lookUp(node.name);
      return value && { value: value.si, slopes: new Map([[node.name, 1]]) };
    }
    case 'negate': {
      const of = reckon(node.of, reckoning);
      return of && scale(of, -of.value, -1);
    }
    case 'power': {
      const base = reckon(node.base, reckoning);
      const { exponent: n } = node;
      return base && scale(base, base.value ** n, n === 0 ? 0 : n * base.value ** (n - 1));
    }
    case 'call':
      return call(
        node.name,
        node.args.map((arg) => reckon(arg, reckoning)),
      );
    default:
      return arithmetic(node.op, reckon(node.left, reckoning), reckon(node.right, reckoning));
  }
}

function arithmetic(op: '+' | '-' | '*' | '/', a: Dual | undefined, b: Dual | undefined): Dual | undefined {
  if (a === undefined || b === undefined) return undefined;
  switch (op) {
    case '+':
      return combine(a, b, a.value + b.value, 1, 1);
    case '-':
      return combine(a, b, a.value - b.value, 1, -1);
    case '*':
      return combine(a, b, a.value * b.value, b.value, a.value);
    case '/':
      return combine(a, b, a.value / b.value, 1 / b.value, -a.value / (b.value * b.value));
  }
}

function call(name: string, args: readonly (Dual | undefined)[]): Dual | undefined {
  const given = args.filter((arg) => arg !== undefined);
  const first = given.find((arg) => Number.isNaN(arg.value)) ?? given[0];
  if (first === undefined || given.length < args.length) return undefined;
  if (Number.isNaN(first.value)) return first;
  const trade = tradeFunction(name);
  if (trade !== undefined) return callTrade(trade, given);
  return isBasicFunction(name) ? callBasic(name, first, given) : undefined;
}

function callBasic(name: BasicFunction, first: Dual, given: readonly Dual[]): Dual {
  switch (name) {
    case 'min':
      return given.reduce((a, b) => (b.value < a.value ? b : a));
    case 'max':
      return given.reduce((a, b) => (b.value > a.value ? b : a));
    case 'mean': {
      const sum = given.reduce((a, b) => combine(a, b, a.value + b.value, 1, 1));
      return scale(sum, sum.value / given.length, 1 / given.length);
    }
    case 'abs':
      return scale(first, Math.abs(first.value), Math.sign(first.value) || 1);
    case 'sqrt': {
      const root = Math.sqrt(first.value);
      return scale(first, root, 0.5 / root);
    }
  }
}

/** Reckons a trade function by its own derivatives; outside what it is for there is no value, and it says why. */
function callTrade(trade: TradeFunction, given: readonly Dual[]): Dual {
  const wrong = trade.arguments.find(({ domain }, index) => !domain.holds((given[index] as Dual).value));
  if (wrong !== undefined) {
    return {
      value: Number.NaN,
      slopes: NO_SLOPES,
      why: outsideDomain(trade.name, wrong.name, wrong.domain.words),
    };
  }
  const { value, slopes } = trade.reckon(...given.map((arg) => arg.value));
  const bySource = new Map<string | Node, number>();
  for (const [index, arg] of given.entries()) {
    for (const [source, own] of arg.slopes)
      bySource.set(source, (bySource.get(source) ?? 0) + own * (slopes[index] ?? 0));
  }
  return { value: finite(value), slopes: bySource };
}

/** A function of one part, by its value and its derivative. */
function scale(of: Dual, value: number, slope: number): Dual {
  const slopes = new Map([...of.slopes].map(([source, own]) => [source, own === 0 ? 0 : own * slope]));
  return { value: finite(Number.isNaN(of.value) ? of.value : value), slopes, ...reason(of) };
}

/** The reason why a part has no number is that of the whole too. */
function reason(of: Dual): { readonly why?: string } {
  return of.why === undefined ? {} : { why: of.why };
}

/** What cannot be reckoned in one place cannot come right again in another: 1 / (1 / 0) is not nought. */
function finite(value: number): number {
  return Number.isFinite(value) ? value : Number.NaN;
}

/** A function of two parts, by its value and its derivatives. */
function combine(a: Dual, b: Dual, value: number, slopeA: number, slopeB: number): Dual {
  const slopes = new Map([...a.slopes].map(([source, own]) => [source, own * slopeA]));
  for (const [source, own] of b.slopes) slopes.set(source, (slopes.get(source) ?? 0) + own * slopeB);
  return { value: finite(value), slopes, ...reason(a.why === undefined ? b : a) };
}
