import { audienceNames, OWNER, policyOf } from '../audience/policy.js';
import { NO_MEMORY } from '../check/check.js';
import type { CheckedBook } from '../check/model.js';
import { nearest } from '../check/nearest.js';
import type { ParseMemory } from '../check/parse.js';
import type { BookFolder } from '../read/folder.js';
import type { Reckoning } from '../reckon/model.js';
import type { Given } from './command.js';
import { checkAndReckon } from './reckon-book.js';
import { Refusal } from './refusal.js';

/** The book as an audience sees it. */

/** A book that was checked and reckoned, with what its pictures are called in the owner's book. */
export interface Seen {
  readonly folder: BookFolder;
  readonly reckoning: Reckoning;
  /** Path of a picture in the owner's book, by its path in this one. */
  readonly pictureOf: (path: string) => string;
}

/** The audience that `--for` names; the owner where it is left out. */
export function audienceGiven(given: Given): string {
  return given.value('for') ?? OWNER;
}

/**
 * The book as an audience sees it: for the owner the book itself, for anybody else a copy of it, checked and reckoned
 * like any book.
 *
 * @param checked the owner's book, without errors
 * @param memory what is known of the owner's files, asked for where a copy is made
 * @throws Refusal where nobody is called so, or where the book does not let a copy be made that stands by itself
 */
export async function seenBy(
  audience: string,
  {
    folder,
    reckoning,
    book,
  }: { readonly folder: BookFolder; readonly reckoning: Reckoning; readonly book: CheckedBook },
  today: string,
  memory: () => ParseMemory,
): Promise<Seen> {
  if (audience === OWNER) return { folder, reckoning, pictureOf: (path) => path };
  const audiences = Object.fromEntries([...book.audiences.keys()].map((id) => [id, {}]));
  if (policyOf({ audiences }, audience) === null) throw unknown(audience, audienceNames({ audiences }));
  // What that takes (the schemas, a parser of prose) the owner's own site does not need.
  const { redactBook } = await import('../audience/redact.js');
  const made = await redactBook(folder, audience, today, memory());
  if (!made.ok) throw notMade(audience, made.file, made.why);
  const { redacted } = made;
  const copy = await checkAndReckon(redacted.folder, today, NO_MEMORY);
  if (copy.reckoning === null) {
    const wrong = copy.diagnostics.find(({ severity }) => severity === 'error');
    const file = redacted.origin.get(wrong?.file ?? '') ?? wrong?.file ?? 'book.yaml';
    throw notMade(audience, file, wrong?.message ?? 'It says nothing any more.');
  }
  return {
    folder: redacted.folder,
    reckoning: copy.reckoning,
    pictureOf: (path) => redacted.photos.get(path) ?? path,
  };
}

function unknown(audience: string, names: readonly string[]): Refusal {
  const near = nearest(audience, names);
  return new Refusal(
    `Nobody is called \`${audience}\` here: a copy is made for ${names.join(', ')}.`,
    near === null ? 'Name the audience under `audiences` of book.yaml.' : `Did you mean \`${near}\`?`,
  );
}

function notMade(audience: string, file: string, why: string): Refusal {
  return new Refusal(
    `With what is hidden from \`${audience}\`, the rest of the book does not hold together. ${file}: ${why}`,
    'Nothing was written. Hide more of that file, or less of what it rests on.',
  );
}
