import matter from 'gray-matter';
import { CORE_SCHEMA, load } from 'js-yaml';

/**
 * The quick way into a file: front matter split off and parsed, values only. It takes nothing on trust; at
 * the first doubt it gives up, and the thorough way (`thorough.ts`) says what is wrong and where.
 *
 * gray-matter would by itself run `---js` front matter as code and hand out cached, shared results; both are
 * off here: every engine but YAML refuses, and options are always passed, which keeps its cache out of use.
 */

export interface FrontMatter {
  readonly data: unknown;
  /** The prose, as written. */
  readonly body: string;
}

/** Largest front matter, in UTF-16 units. Past it, repeated keys alone could keep a parser busy for seconds. */
export const MAX_FRONT_MATTER = 64_000;

const MAX_DEPTH = 24;

class Refused extends Error {}

function refuse(): never {
  throw new Refused('this engine is never used');
}

/**
 * Parses YAML 1.2 (core schema), with aliases and tags beyond the core schema refused.
 *
 * @throws for anything that is not plain YAML; callers treat that as "look closer", not as a message.
 */
export function parseYaml(text: string): unknown {
  return load(text, { schema: CORE_SCHEMA, maxAliases: 0, maxDepth: MAX_DEPTH });
}

const OPTIONS = {
  language: 'yaml',
  delimiters: '---',
  engines: {
    yaml: { parse: (text: string) => parseYaml(text) as object, stringify: refuse },
    json: { parse: refuse, stringify: refuse },
    javascript: { parse: refuse, stringify: refuse },
    js: { parse: refuse, stringify: refuse },
  },
};

const OPENING_FENCE = /^---[ \t]*\r?\n/;
const CLOSING_FENCE = /^\r?\n---[ \t]*(?:\r?\n|$)/;

/** Splits and parses; null where anything at all is out of the ordinary. */
export function quickFrontMatter(text: string): FrontMatter | null {
  if (!OPENING_FENCE.test(text)) return null;
  try {
    const parsed = matter(text, OPTIONS);
    const end = 3 + parsed.matter.length;
    if (parsed.matter.length > MAX_FRONT_MATTER || parsed.language !== 'yaml') return null;
    // gray-matter takes any line that begins with three hyphens for the closing fence, or the end of the file.
    const closing = CLOSING_FENCE.exec(text.slice(end, end + 200));
    if (closing === null) return null;
    return { data: parsed.data, body: text.slice(end + closing[0].length) };
  } catch {
    return null;
  }
}

/** Parses a file that is YAML all through; null where anything is out of the ordinary. */
export function quickYaml(text: string): { readonly data: unknown } | null {
  if (text.length > MAX_FRONT_MATTER) return null;
  try {
    return { data: parseYaml(text) };
  } catch {
    return null;
  }
}
