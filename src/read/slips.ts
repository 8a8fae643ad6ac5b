import { type Document, isCollection, visit, type YAMLError } from 'yaml';

/**
 * What went wrong where YAML could not be read, in the terms of somebody who writes it by hand. The parser
 * says it in the terms of its grammar ("nested mappings are not allowed in compact mappings") and points at
 * the letter where it gave up; here both become something that can be acted on.
 */

export type YamlSlip =
  | 'behind-value'
  | 'bracket-open'
  | 'colon-in-text'
  | 'comma-missing'
  | 'escape'
  | 'indentation'
  | 'no-colon'
  | 'quote-open'
  | 'second-part'
  | 'sign-first'
  | 'stray'
  | 'tab';

/** Stretch of the YAML's own text. */
interface Range {
  readonly start: number;
  readonly end: number;
}

/** By the parser's code, and by its words where one code stands for several slips. */
const SLIPS: readonly (readonly [code: string, words: RegExp, slip: YamlSlip])[] = [
  ['MISSING_CHAR', /^Missing closing/, 'quote-open'],
  ['MISSING_CHAR', /end with a|^Expected flow/, 'bracket-open'],
  ['MISSING_CHAR', /between flow/, 'comma-missing'],
  ['MISSING_CHAR', /map values/, 'no-colon'],
  ['MISSING_CHAR', /- indicator/, 'indentation'],
  ['BAD_INDENT', /^Flow /, 'bracket-open'],
  ['BAD_INDENT', /^Source contains|multiple documents/, 'second-part'],
  ['BAD_INDENT', /./, 'indentation'],
  ['BLOCK_AS_IMPLICIT_KEY', /^Nested mappings/, 'colon-in-text'],
  ['BLOCK_AS_IMPLICIT_KEY', /./, 'indentation'],
  ['BLOCK_IN_FLOW', /./, 'comma-missing'],
  ['MULTILINE_IMPLICIT_KEY', /./, 'no-colon'],
  ['MULTIPLE_DOCS', /./, 'second-part'],
  ['TAB_AS_INDENT', /./, 'tab'],
  ['BAD_SCALAR_START', /./, 'sign-first'],
  ['BAD_DQ_ESCAPE', /./, 'escape'],
  ['UNEXPECTED_TOKEN', /at node end/, 'behind-value'],
];

/** Which slip an error of the parser stands for. */
export function slipOf({ code, message }: YAMLError): YamlSlip {
  return SLIPS.find(([due, words]) => due === code && words.test(message))?.[2] ?? 'stray';
}

/** Where to point for a slip: never more than a line, never nothing where there is any text at all. */
export function rangeOfSlip(slip: YamlSlip, error: YAMLError, yaml: string, doc: Document): Range {
  const [start, end] = error.pos;
  if (slip === 'quote-open') return toLineEnd(yaml, openQuote(doc, start) ?? start);
  if (slip === 'bracket-open') return toLineEnd(yaml, openBracket(doc, yaml, start) ?? start);
  if (slip === 'escape') return { start, end: Math.min(yaml.length, start + 2) };
  if (WHOLE_REST.has(slip)) return toLineEnd(yaml, start);
  return cutToLine(yaml, start, end);
}

/** Slips of which the line to its end is the matter, not the letter at which the parser stopped. */
const WHOLE_REST: ReadonlySet<YamlSlip> = new Set([
  'colon-in-text',
  'no-colon',
  'indentation',
  'second-part',
]);

/** The quoted text that has begun before a place and is the last to do so. */
function openQuote(doc: Document, before: number): number | null {
  let found: number | null = null;
  visit(doc, {
    Scalar: (_key, node) => {
      const start = node.range?.[0];
      if (start !== undefined && start < before && node.type?.startsWith('QUOTE')) found = start;
    },
  });
  return found;
}

/** The innermost bracket or brace that has begun before a place and has no end of its own. */
function openBracket(doc: Document, yaml: string, before: number): number | null {
  let found: number | null = null;
  visit(doc, {
    Collection: (_key, node) => {
      const [start, end] = node.range ?? [before, before];
      if (node.flow === true && start < before && !/[\]}]/.test(yaml.charAt(end - 1))) found = start;
    },
  });
  return found;
}

/** From a place, or the first letter after it, to the end of its line. */
function toLineEnd(yaml: string, from: number): Range {
  const start = from + (/^[ \t\r\n]*/.exec(yaml.slice(from))?.[0].length ?? 0);
  return cutToLine(yaml, start, yaml.length);
}

/** A stretch cut at the end of its line; an empty one grows by a letter, backwards where the line has ended. */
export function cutToLine(yaml: string, from: number, to: number): Range {
  let start = Math.max(0, Math.min(from, yaml.length));
  if (start === yaml.length || /[\r\n]/.test(yaml.charAt(start))) {
    start = Math.max(0, yaml.slice(0, start).trimEnd().length - 1);
  }
  const lineEnd = start + (/^[^\r\n]*/.exec(yaml.slice(start))?.[0].trimEnd().length ?? 0);
  const end = start + yaml.slice(start, Math.min(Math.max(to, start + 1), lineEnd)).trimEnd().length;
  return { start, end: Math.min(yaml.length, Math.max(start + 1, end)) };
}

/** How many lists and groups lie around a node. */
export function depthOf(ancestors: readonly unknown[]): number {
  return ancestors.reduce<number>((depth, ancestor) => depth + (isCollection(ancestor) ? 1 : 0), 0);
}
