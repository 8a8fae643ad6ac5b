import type { AnswerPath } from '../../draft/entry-text.js';
import type { Begun } from './kept.js';

/** Taking answers back, so that their questions are asked once more. */

/**
 * Takes out the answers at some paths and opens the questions that they came from; the title, the day and the words
 * stay, to be changed rather than typed anew.
 */
export function reopened(begun: Begun, paths: readonly AnswerPath[]): Begun {
  const { draft, answered, picked, pictures } = begun;
  const isTaken = (field: AnswerPath[0], index: number) =>
    paths.some(([other, at]) => other === field && (at === index || at === undefined));
  const keys = paths.flatMap(([field, index]) => keysOf(field, draft[field][index ?? 0]));
  const left = Object.fromEntries(
    Object.entries(draft).map(([field, value]: [string, unknown]) => [
      field,
      Array.isArray(value) ? value.filter((_, index) => !isTaken(field as AnswerPath[0], index)) : value,
    ]),
  );
  const now = { ...draft, ...left };
  const files = new Set(now.photos.map(({ file }) => file));
  return {
    draft: now,
    answered: withoutKeys(answered, keys),
    picked,
    pictures: Object.fromEntries(Object.entries(pictures).filter(([file]) => files.has(file))),
  };
}

/** All but those keys, and those that begin with one of them and a colon. */
export function withoutKeys(answered: readonly string[], keys: readonly string[]): readonly string[] {
  return answered.filter((key) => !keys.some((start) => key === start || key.startsWith(`${start}:`)));
}

/** Beginnings of the keys of the questions that an answer came from. */
function keysOf(field: AnswerPath[0], answer: unknown): readonly string[] {
  const item = (typeof answer === 'object' && answer !== null ? answer : {}) as Readonly<
    Record<string, string>
  >;
  switch (field) {
    case 'meters':
      return [`meter:${item['meter']}`];
    case 'measurements':
      return ['read', 'with', 'under', 'note'].map((key) => `${key}:${item['point']}`);
    case 'tests':
      return [`test:${item['test']}`];
    case 'hours':
      return [`hours:${item['by']}`];
    case 'parts':
      return ['part', 'part-rests'];
    case 'decisions':
      return ['decision', 'decision-chose', 'decision-because', 'decision-rests'];
    case 'opens':
      return ['open', 'open-size', 'open-rests'];
    case 'photos':
      return ['photo'];
    case 'closes':
      return ['items'];
    case 'done':
      return ['upkeep'];
    case 'date':
      return ['day'];
    case 'place':
      return [];
    case 'title':
    case 'systems':
    case 'prose':
      return [field];
  }
}
