/** The functions of formulas: which there are, what they take and give, and where they come from. */
import { distance } from 'fastest-levenshtein';
import type { TradeFunction } from './function-model.js';
import { ELECTRICAL } from './functions-electrical.js';
import { MACHINERY } from './functions-machinery.js';

/** Functions of plain arithmetic, which take values of any one kind. */
export type BasicFunction = 'min' | 'max' | 'mean' | 'abs' | 'sqrt';

const TRADE: readonly TradeFunction[] = Object.freeze([...ELECTRICAL, ...MACHINERY]);
const tradeByName: ReadonlyMap<string, TradeFunction> = new Map(TRADE.map((one) => [one.name, one]));

/** The trade function of a name. */
export function tradeFunction(name: string): TradeFunction | undefined {
  return tradeByName.get(name);
}

const BASIC: ReadonlyMap<BasicFunction, readonly [takes: string, about: string]> = new Map([
  ['min', ['values of one kind', 'The least of them.']],
  ['max', ['values of one kind', 'The greatest of them.']],
  ['mean', ['values of one kind', 'Their average.']],
  ['abs', ['one value', 'The value without its sign.']],
  ['sqrt', ['one value', 'Its square root.']],
]);

/** Whether a name is that of a function of plain arithmetic. */
export function isBasicFunction(name: string): name is BasicFunction {
  return BASIC.has(name as BasicFunction);
}

/** Names of all functions, those of plain arithmetic first. */
export const FUNCTION_NAMES: readonly string[] = Object.freeze([...BASIC.keys(), ...tradeByName.keys()]);

/** Functions that a text may mean, nearest first; none where nothing is near. */
export function nearestFunctions(text: string): readonly string[] {
  const named = (one: string) => one.includes(text) || text.includes(one);
  return FUNCTION_NAMES.map((name) => ({ name, off: distance(name, text) }))
    .filter(({ name, off }) => off <= Math.max(1, name.length / 3) || (text.length > 3 && named(name)))
    .sort((a, b) => a.off - b.off)
    .slice(0, 3)
    .map(({ name }) => name);
}

/** What the format reference says of a function. */
export interface FunctionDoc {
  /** As written: `voltage-drop(area, length, current, temperature)`. */
  readonly call: string;
  readonly name: string;
  readonly about: string;
  /** One line each: name, kind, meaning and what it has to be. Empty for plain arithmetic. */
  readonly arguments: readonly {
    readonly name: string;
    readonly kind: string;
    readonly about: string;
    readonly hasToBe: string;
  }[];
  /** The kind it gives; that of its values for plain arithmetic. */
  readonly gives: string;
  readonly relation: string | null;
  readonly source: string | null;
  readonly example: string | null;
}

function docOf(one: TradeFunction): FunctionDoc {
  return {
    call: `${one.name}(${one.arguments.map(({ name }) => name).join(', ')})`,
    name: one.name,
    about: one.about,
    arguments: one.arguments.map(({ name, kind, about, domain }) => ({
      name,
      kind,
      about,
      hasToBe: domain.words,
    })),
    gives: one.gives,
    relation: one.relation,
    source: one.source,
    example: one.example,
  };
}

function basicDoc([name, [takes, about]]: readonly [BasicFunction, readonly [string, string]]): FunctionDoc {
  const gives = name === 'sqrt' ? 'what squared is its kind' : 'the same kind';
  return {
    call: `${name}(${takes})`,
    name,
    about,
    arguments: [],
    gives,
    relation: null,
    source: null,
    example: null,
  };
}

/** Every function, for the format reference. */
export const FORMULA_FUNCTIONS: readonly FunctionDoc[] = Object.freeze([
  ...[...BASIC].map(basicDoc),
  ...TRADE.map(docOf),
]);

/** Stands wherever the functions are listed or their figures shown. */
export const FUNCTIONS_ADVISE =
  'These figures advise and approve nothing: local codes and licensed people decide what may be fitted and used.';
