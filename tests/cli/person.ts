import type { Ask, Choice } from '../../src/cli/effects.js';

/** An answer to a question: a text, what is ticked, null to stop. */
export type Answer = string | readonly string[] | null;

/** What was asked, and with what it was answered. */
export interface Asked {
  readonly question: string;
  readonly choices: readonly Choice[];
  readonly initial: string | null;
  /** What was said against earlier answers to the same question. */
  readonly refused: readonly string[];
}

/** What stands in a long answer where somebody stops in the middle of it. */
export const HALF_SAID = 'All day in';

/**
 * Somebody at a terminal. Questions are answered by the first of `answers` whose beginning is in the question;
 * several answers to one are tried in turn where one is refused. What nobody answers is passed over: an empty
 * text, nothing ticked, the first of a choice.
 */
export function person(answers: readonly (readonly [question: string, ...answers: Answer[]])[]) {
  const asked: Asked[] = [];
  const left = answers.map(([question, ...given]) => ({ question, given }));
  const next = (question: string, otherwise: Answer): Answer => {
    const known = left.find((one) => question.includes(one.question) && one.given.length > 0);
    return known === undefined ? otherwise : (known.given.shift() as Answer);
  };
  const ask: Ask = {
    text: (question, { refuse, initial }) => {
      const refused: string[] = [];
      for (;;) {
        const answer = next(question, initial ?? '') as string | null;
        const why = answer === null ? null : (refuse?.(answer) ?? null);
        if (why === null) {
          asked.push({ question, choices: [], initial: initial ?? null, refused });
          return Promise.resolve(answer);
        }
        refused.push(why);
        if (refused.length > 5) return Promise.reject(new Error(`${question}: ${refused.join(' ')}`));
      }
    },
    long: (question, { initial, keep }) => {
      asked.push({ question, choices: [], initial, refused: [] });
      const answer = next(question, initial) as string | null;
      if (answer === null) keep(HALF_SAID);
      return Promise.resolve(answer);
    },
    one: (question, choices) => {
      asked.push({ question, choices, initial: null, refused: [] });
      return Promise.resolve(next(question, choices[0]?.value ?? '') as string | null);
    },
    several: (question, choices) => {
      asked.push({ question, choices, initial: null, refused: [] });
      return Promise.resolve(next(question, []) as readonly string[] | null);
    },
  };
  return { ask, asked, left: () => left.flatMap(({ given }) => given) };
}
