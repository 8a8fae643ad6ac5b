import { CORE_SCHEMA, load } from 'js-yaml';

/**
 * The quick way into a file: front matter split off and parsed, values only. It takes nothing on trust; at
 * the first doubt it gives up, and the thorough way (`thorough.ts`) says what is wrong and where.
 *
 * The fences are split here and not by a package: those that do it run `---js` front matter as code, hand out
 * shared results from a cache, or take seconds over a few thousand blank lines.
 */

export interface FrontMatter {
  readonly data: unknown;
  /** The prose, as written. */
  readonly body: string;
}

/** Largest front matter, in UTF-16 units. Past it, repeated keys alone could keep a parser busy for seconds. */
export const MAX_FRONT_MATTER = 64_000;

const MAX_DEPTH = 24;

/**
 * What the quick parser takes without a word and the thorough one reads in another way or refuses: an anchor
 * or a tag, a second document, a key that is nothing or marked by a `?`, a number too large for any number, a `#`
 * that may be meant as part of a text.
 * Prose that merely looks like one of these costs a closer look and nothing else.
 */
const DOUBTFUL =
  /(?:^|[\s[{,])(?:[&!]\S|(?:~|null|Null|NULL)[ \t]{0,20}:|[:?](?:\s|$))|^(?:---|\.\.\.)|\d[eE]\+?\d{3}|\S[ \t]#[^\s#]/m;

/** Front matter between its fences, and what stands below. */
export interface Fenced {
  readonly yaml: string;
  /** Where the front matter begins in the text. */
  readonly offset: number;
  readonly body: string;
}

const OPENING_FENCE = /^---[ \t]*\r?\n/;
const CLOSING_FENCE = /\r?\n---[ \t]*(?:\r?\n|$)/;

/** Splits a text at its fences of three hyphens; null where one of them is not there. */
export function splitFences(text: string): Fenced | null {
  const opening = OPENING_FENCE.exec(text)?.[0].length;
  const closing = opening === undefined ? null : CLOSING_FENCE.exec(text);
  if (opening === undefined || closing === null) return null;
  // Between two fences that follow each other stands nothing, and one line end serves both.
  const yaml = text.slice(opening, Math.max(opening, closing.index));
  return { yaml, offset: opening, body: text.slice(closing.index + closing[0].length) };
}

/** Splits and parses; null where anything at all is out of the ordinary. */
export function quickFrontMatter(text: string): FrontMatter | null {
  const fenced = splitFences(text);
  const parsed = fenced === null ? null : quickYaml(fenced.yaml);
  return fenced === null || parsed === null ? null : { data: parsed.data, body: fenced.body };
}

/** Parses a file that is YAML all through; null where anything is out of the ordinary. */
export function quickYaml(text: string): { readonly data: unknown } | null {
  if (text.length > MAX_FRONT_MATTER || DOUBTFUL.test(text)) return null;
  try {
    // Aliases and tags beyond the core schema throw.
    return { data: load(text, { schema: CORE_SCHEMA, maxAliases: 0, maxDepth: MAX_DEPTH }) };
  } catch {
    return null;
  }
}
