import { isDay } from '../build/values.js';
import * as m from '../messages.js';
import type { ParsedFile } from '../parse.js';
import type { Problem } from '../problem.js';

const NAME =
  /^entries\/(?:(\d{4})\/)?(\d{4}-\d{2}-\d{2})-[\p{Ll}\p{Lo}\p{N}]+(?:-[\p{Ll}\p{Lo}\p{N}]+)*\.md$/u;

/**
 * An entry's date: a day of the calendar, not after today, and the one in the file's name.
 *
 * @param today the day on which the book is checked.
 * @returns the problems; `dated` is false where the date cannot be used at all.
 */
export function checkEntryDate(
  file: ParsedFile,
  date: string,
  title: string,
  today: string,
): { readonly problems: readonly Problem[]; readonly dated: boolean } {
  const { path } = file.source;
  const at = { file: path, path: ['date'] };
  const problems: Problem[] = [];
  const dated = isDay(date);
  if (!dated) problems.push({ ...m.badDate(date), at });
  else if (date > today) problems.push({ ...m.dateInFuture(date, today), at });
  // Some disks keep an ä as a letter and its dots: the same name, in two ways of writing it.
  const name = NAME.exec(path.normalize('NFC'));
  if (name === null) problems.push({ ...m.fileName(path, nameFor(date, title)), at });
  else if (name[2] !== undefined && name[2] !== date)
    problems.push({ ...m.dateNotInName(date, name[2]), at });
  else if (name[1] !== undefined && name[1] !== date.slice(0, 4))
    problems.push({ ...m.fileName(path, nameFor(date, title)), at });
  return { problems, dated };
}

/** The path that an entry of that date and title should have. */
export function nameFor(date: string, title: string): string {
  return `entries/${date.slice(0, 4)}/${date}-${slug(title)}.md`;
}

/** Letters that are not another one with a mark on it. */
const SPELT: Readonly<Record<string, string>> = {
  ß: 'ss',
  æ: 'ae',
  œ: 'oe',
  ø: 'o',
  ł: 'l',
  đ: 'd',
  ð: 'd',
  þ: 'th',
};

/** A title as a piece of a file name: small letters and digits joined by hyphens, accents taken off. */
export function slug(title: string): string {
  const plain = title
    .toLowerCase()
    .normalize('NFKD')
    .replaceAll(/\p{M}/gu, '')
    .replaceAll(/[ßæœøłđðþ]/g, (letter) => SPELT[letter] ?? letter);
  const joined = plain.replaceAll(/[^a-z0-9]+/g, '-').replaceAll(/^-+|-+$/g, '');
  return joined.slice(0, 60).replace(/-+$/, '') || 'entry';
}
