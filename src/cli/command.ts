import type { Effects } from './effects.js';

/** An option of a command. */
export interface OptionInfo {
  readonly name: string;
  /** Word for its value in the help; null for one that stands alone. */
  readonly value: string | null;
  /** Whether it may be given more than once. */
  readonly many?: boolean;
  /** What the value has to be one of. */
  readonly choices?: readonly string[];
  readonly about: string;
}

/** What there is to know about a command; its help is made from this. */
export interface CommandInfo {
  readonly name: string;
  /** What comes after the name: `[BOOK]`. */
  readonly operands: string;
  /** Most operands that it takes. */
  readonly maxOperands: number;
  readonly summary: string;
  readonly about: readonly string[];
  readonly options: readonly OptionInfo[];
  readonly examples: readonly { readonly run: string; readonly does: string }[];
}

/** What was given on the command line, checked against the command's options. */
export interface Given {
  readonly operands: readonly string[];
  readonly has: (option: string) => boolean;
  /** The last value of an option, or null. */
  readonly value: (option: string) => string | null;
  readonly values: (option: string) => readonly string[];
}

/** Carries a command out. @returns the exit code. */
export type Run = (given: Given, effects: Effects) => Promise<number>;

export interface Command extends CommandInfo {
  /** Loads the code of the command, and only it: help and the quick commands start fast. */
  readonly load: () => Promise<Run>;
}
