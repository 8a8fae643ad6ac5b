import type { Reckoning } from '../reckon/model.js';
import type { FindNames } from './encode.js';

/** The names of a book that a search needs beside its records. */
export function namesOf({ book, entries, timelines }: Reckoning): FindNames {
  return {
    systems: [...book.systems.values()].map(({ id, title }) => ({ id, title })),
    points: [...timelines.values()].map(({ point }) => ({
      ref: point.ref,
      title: point.title,
      where: point.where,
      kind: point.kind,
      unit: point.unit,
      atLeast: point.atLeast?.si ?? null,
      atMost: point.atMost?.si ?? null,
    })),
    display: book.display,
    titles: new Map([...entries].map(([id, entry]) => [id, entry.title])),
  };
}
