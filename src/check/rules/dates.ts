import type { SourceFile } from '../../read/folder.js';
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
  named: NamedFiles,
): { readonly problems: readonly Problem[]; readonly dated: boolean } {
  const { path } = file.source;
  const at = { file: path, path: ['date'] };
  const problems: Problem[] = [];
  const dated = isDay(date);
  if (!dated) problems.push({ ...m.badDate(date), at });
  else if (date > today) problems.push({ ...m.dateInFuture(date, today), at });
  // Some disks keep an ä as a letter and its dots: the same name, in two ways of writing it.
  const name = NAME.exec(path.normalize('NFC'));
  const due = nameFor(date, title);
  const renamed = (to: string) => (dated && date <= today && named.mayBecome(path, to) ? { rename: to } : {});
  const inName = name?.[2] ?? date;
  // A wrong day is told once: as a day, and not again as a name that differs from it.
  if (problems.length > 0) return { problems, dated };
  if (name === null) problems.push({ ...m.fileName(path, due), at, ...renamed(due) });
  else if (inName !== date) {
    // Where both days could be meant, nobody but the writer knows which of the two is wrong.
    const mend = isDay(inName) && inName <= today ? {} : renamed(due);
    problems.push({ ...m.dateNotInName(date, inName), at, ...mend });
  } else if (name[1] !== undefined && name[1] !== date.slice(0, 4)) {
    const place = `entries/${date.slice(0, 4)}/${path.slice(path.lastIndexOf('/') + 1)}`;
    problems.push({ ...m.fileName(path, due), at, ...renamed(place) });
  }
  return { problems, dated };
}

/** Which names the files of a book have, and which of them other files speak of. */
export interface NamedFiles {
  /** Whether a file may be given another path without taking anything's place or leaving a link leading nowhere. */
  readonly mayBecome: (from: string, to: string) => boolean;
}

/** @param files all files of the book. */
export function namedFiles(files: readonly Pick<SourceFile, 'path' | 'text'>[]): NamedFiles {
  // Some disks take `Look.md` and `look.md` for one file.
  const taken = new Map(files.map(({ path }) => [path.toLowerCase(), path]));
  return {
    mayBecome: (from, to) => {
      const there = taken.get(to.toLowerCase());
      if (there !== undefined && there !== from) return false;
      const [before, after] = [fileOf(from), fileOf(to)];
      return before === after || !files.some(({ text }) => text.includes(before));
    },
  };
}

function fileOf(path: string): string {
  return path.slice(path.lastIndexOf('/') + 1);
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
