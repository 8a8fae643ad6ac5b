/**
 * Everything that a command does to the world around it, so that tests can stand in for a terminal, a clock
 * and a person. Commands use nothing else but the file system.
 */
export interface Effects {
  /** Writes to the standard output: what was asked for. */
  readonly out: (text: string) => void;
  /** Writes to the standard error: everything said besides. */
  readonly err: (text: string) => void;
  readonly outIsTerminal: boolean;
  /** Columns of the terminal that the standard output is; undefined where it does not say. */
  readonly outWidth?: () => number | undefined;
  readonly errIsTerminal: boolean;
  readonly env: Readonly<Record<string, string | undefined>>;
  /** The current folder, absolute. */
  readonly cwd: string;
  /** Today by the local calendar, `YYYY-MM-DD`. */
  readonly today: () => string;
  /** All that comes in by the standard input. */
  readonly input: () => Promise<string>;
  /** Asks the person at the terminal; null where nobody is there to answer. */
  readonly ask: Ask | null;
  /** Resolves when the user ends the program (Ctrl-C). */
  readonly interrupted: () => Promise<void>;
}

/** One of the things to choose from. */
export interface Choice {
  readonly value: string;
  readonly label: string;
  readonly hint?: string;
}

/** How a line of text is asked for. */
export interface TextAsking {
  /** What is wrong with an answer, or null. */
  readonly refuse?: (answer: string) => string | null;
  /** Stands there already, to be taken or changed. */
  readonly initial?: string;
}

/** How several lines are asked for. */
export interface LongAsking {
  /** Stands there already. */
  readonly initial: string;
  /** Told now and then what stands there, and once more where the person stops. */
  readonly keep: (text: string) => void;
}

/** Questions to a person. Every answer is null where they would rather stop. */
export interface Ask {
  readonly text: (question: string, asking: TextAsking) => Promise<string | null>;
  /** Several lines. */
  readonly long: (question: string, asking: LongAsking) => Promise<string | null>;
  readonly one: (question: string, choices: readonly Choice[]) => Promise<string | null>;
  readonly several: (
    question: string,
    choices: readonly Choice[],
    required: boolean,
  ) => Promise<readonly string[] | null>;
}
