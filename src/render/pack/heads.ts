import type { Reckoning } from '../../reckon/model.js';
import { dayWords } from '../words.js';
import { namedPage } from './system.js';

/** Sizes of paper that a pack is printed on. */
export const PAPERS = ['a4', 'letter'] as const;
export type Paper = (typeof PAPERS)[number];

const SIZE: Readonly<Record<Paper, string>> = { a4: 'A4', letter: 'letter' };

/**
 * The style sheet that only this book's pack has: a named page for each system, which carries its title as the
 * running head. Browsers have no other way to put words of the document into the margin.
 *
 * @param paper null where the reader's printer decides.
 */
export function headsCss({ book, asOf }: Reckoning, paper: Paper | null): string {
  const head = (title: string) => `@top-right { content: ${cssText(title)}; }`;
  return [
    ...(paper === null ? [] : [`@page { size: ${SIZE[paper]}; }`]),
    `@page { @top-left { content: ${cssText(`${book.subject.name}, ${dayWords(asOf)}`)}; } }`,
    // The title of the first page says it already.
    '@page :first { @top-left { content: none; } }',
    ...[...book.systems.values()].map(({ id, title }) => `@page ${namedPage(id)} { ${head(title)} }`),
    ...[...book.systems.keys()].map((id) => `.${namedPage(id)} { page: ${namedPage(id)}; }`),
    '',
  ].join('\n');
}

/** A text as a string of CSS: everything but letters, digits and blanks by its number. */
function cssText(text: string): string {
  const safe = [...text].map((letter) =>
    /[\p{L}\p{N} ]/u.test(letter) ? letter : `\\${letter.codePointAt(0)?.toString(16)} `,
  );
  return `"${safe.join('')}"`;
}
