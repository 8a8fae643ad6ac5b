/** What a trade function of formulas is: its documentation and its reckoning in one record. */
import type { Kind } from '../kinds.js';

/** What values of an argument a function is for, in SI. */
export interface Domain {
  readonly holds: (si: number) => boolean;
  /** Ends the sentence “the area has to be …”. */
  readonly words: string;
}

/** One argument of a function. */
export interface Argument {
  /** As it is called in the documentation and in messages; arguments are told by their order. */
  readonly name: string;
  readonly kind: Kind;
  readonly about: string;
  readonly domain: Domain;
}

/** A value in SI with its derivative by each argument, in the order of the arguments. */
export interface Sloped {
  readonly value: number;
  readonly slopes: readonly number[];
}

/** A function that the trade uses, written in formulas by its name. */
export interface TradeFunction {
  readonly name: string;
  readonly about: string;
  readonly arguments: readonly Argument[];
  readonly gives: Kind;
  /** The relation in symbols. */
  readonly relation: string;
  /** Where the relation and its constants are published. */
  readonly source: string;
  readonly example: string;
  /** Reckons in SI. Called only with arguments inside their domains. */
  readonly reckon: (...values: readonly number[]) => Sloped;
}

/** More than nought. */
export const POSITIVE: Domain = { holds: (si) => si > 0, words: 'more than nought' };

/** Nought or more. */
export const NOT_NEGATIVE: Domain = { holds: (si) => si >= 0, words: 'nought or more' };

/** From one number to another, both included; of a plain number. */
export function between(low: number, high: number): Domain {
  return { holds: (si) => si >= low && si <= high, words: `between ${low} and ${high}` };
}

const ICE = 273.15;
/** 20 °C and what comes of converting 68 °F differ in the last bits. */
const LAST_BITS = 1e-9;

/** A temperature from one number of degrees Celsius to another, both included. */
export function celsius(low: number, high: number): Domain {
  return {
    holds: (si) => si - ICE >= low - LAST_BITS && si - ICE <= high + LAST_BITS,
    words: `between ${low} °C and ${high} °C`.replaceAll('-', '−'),
  };
}

/** One argument, in brief. */
export function argument(name: string, kind: Kind, about: string, domain: Domain): Argument {
  return { name, kind, about, domain };
}
