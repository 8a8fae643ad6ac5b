import type { Draft } from '../../draft/draft.js';
import { oneLine } from '../../draft/yaml.js';
import type { BookFacts } from '../../reckon/facts.js';
import type { Ask } from '../effects.js';
import type { Begun } from './kept.js';

/** What a question is asked with. */
export interface Asking {
  readonly ask: Ask;
  readonly facts: BookFacts;
  /** Says something that is no question. */
  readonly say: (text: string) => void;
  /** Keeps how far the entry is, in the middle of an answer. */
  readonly keep: (begun: Begun) => void;
  /** `YYYY-MM-DD`, by the local calendar. */
  readonly today: string;
  /** The folder from which paths of pictures are read. */
  readonly cwd: string;
}

/** One question, or a few that make one answer. */
export interface Step {
  /** Stands for it in a draft that is kept. */
  readonly key: string;
  /** @returns how far the entry is now, or null where the person would rather stop. */
  readonly run: (begun: Begun, asking: Asking) => Promise<Begun | null>;
}

/** The same, with some answers put in. */
export function withDraft(begun: Begun, answers: Partial<Draft>): Begun {
  return { ...begun, draft: { ...begun.draft, ...answers } };
}

/** Refuses an empty answer. */
export function needed(answer: string): string | null {
  return oneLine(answer) === '' ? 'a few words are needed.' : null;
}
