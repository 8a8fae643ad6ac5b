import {
  type Document,
  isAlias,
  isCollection,
  isMap,
  isPair,
  isScalar,
  isSeq,
  type Node,
  type Pair,
  parseDocument,
  visit,
  type YAMLError,
  type YAMLMap,
} from 'yaml';
import { type Fenced, MAX_FRONT_MATTER, splitFences } from './front-matter.js';
import { cutToLine, depthOf, rangeOfSlip, slipOf, type YamlSlip } from './slips.js';

/**
 * The thorough way into a file, taken only where something is wrong or where a place in the text has to be
 * found: YAML by the parser `yaml`, with the first problems kept and every node's place known.
 */

/** A stretch of a file's text, in UTF-16 units. */
export interface Stretch {
  readonly offset: number;
  readonly length: number;
}

/** Something about the text of a file that keeps it from being read, or from being read in one way only. */
export type SyntaxProblem = Stretch &
  (
    | {
        readonly why:
          | 'no-front-matter'
          | 'front-matter-open'
          | 'front-matter-too-large'
          | 'alias'
          | 'yaml-tag'
          | 'too-deep'
          | 'text-cut-off';
      }
    | { readonly why: 'front-matter-language'; readonly language: string }
    | { readonly why: 'duplicate-key'; readonly key: string }
    | { readonly why: 'yaml-syntax'; readonly slip: YamlSlip }
  );

export type PathPart = 'key' | 'value';

export interface Thorough {
  readonly problems: readonly SyntaxProblem[];
  /** What was written, where it could be made out at all. */
  readonly data: unknown;
  readonly body: string;
  /**
   * Where the value (or the key) at a path stands. A group is pointed at by its first key, a list in several
   * lines by its first line, and what is missing by the first key of the group it is missing from.
   */
  readonly locate: (path: readonly (string | number)[], part: PathPart) => Stretch;
}

/** How YAML is parsed wherever its places matter. */
export const PARSING = {
  version: '1.2',
  schema: 'core',
  merge: false,
  keepSourceTokens: false,
  prettyErrors: false,
  // Its own warnings would go to the terminal, past everything that says where and how to mend it.
  logLevel: 'error',
  // Looked for below: the parser's own search takes seconds where there are thousands of keys.
  uniqueKeys: false,
  strict: true,
} as const;

const MAX_PROBLEMS = 50;
/** Past the first few, errors of syntax are mostly what the first ones did to the rest of the file. */
const MAX_ERRORS = 5;
const MAX_DEPTH = 24;
/** As much of a line as is looked at for what a comment took away. */
const MAX_LINE = 1_000;

/** Looks closely at a Markdown file with front matter. Never throws. */
export function thoroughMarkdown(text: string): Thorough {
  const fence = findFrontMatter(text);
  if ('why' in fence) {
    const start: Stretch = { offset: fence.offset, length: fence.length };
    return { problems: [fence], data: null, body: '', locate: () => start };
  }
  const opening: Stretch = { offset: 0, length: 3 };
  return { ...thoroughYaml(fence.yaml, fence.offset, opening), body: fence.body };
}

function findFrontMatter(text: string): Fenced | SyntaxProblem {
  const firstLine = /^[^\r\n]*/.exec(text)?.[0] ?? '';
  const first: Stretch = { offset: 0, length: firstLine.length };
  if (!/^---(?!-)/.test(firstLine)) return { why: 'no-front-matter', ...first };
  const language = firstLine.slice(3).trim();
  if (language !== '') return { why: 'front-matter-language', language, ...first };
  const fenced = splitFences(text);
  if (fenced === null) return { why: 'front-matter-open', ...first };
  if (fenced.yaml.length > MAX_FRONT_MATTER) return { why: 'front-matter-too-large', ...first };
  return fenced;
}

/**
 * Looks closely at YAML that begins at `offset` of its file.
 *
 * @param whole what to point at when there is nothing else: the first line where not given.
 */
export function thoroughYaml(yaml: string, offset = 0, whole = firstLineOf(yaml, offset)): Thorough {
  if (yaml.length > MAX_FRONT_MATTER) {
    return {
      problems: [{ why: 'front-matter-too-large', ...whole }],
      data: null,
      body: '',
      locate: () => whole,
    };
  }
  const doc = parseDocument(yaml, PARSING);
  const tags = doc.warnings.filter((warning) => warning.code === 'TAG_RESOLVE_FAILED');
  const cut = cutOffTexts(doc, offset, yaml);
  const problems = [
    ...thinned([...doc.errors, ...tags], yaml)
      .map((error) => fromError(error, offset, yaml, doc))
      .filter((problem) => cut.length === 0 || !isLeftOpen(problem)),
    ...unwelcomeNodes(doc, offset, yaml),
    ...cut,
  ].slice(0, MAX_PROBLEMS);
  return {
    problems,
    data: problems.some((problem) => problem.why !== 'duplicate-key') ? null : toData(doc),
    body: '',
    locate: (path, part) => locateIn({ doc, yaml, offset, whole }, path, part),
  };
}

function firstLineOf(yaml: string, offset: number): Stretch {
  return { offset, length: /^[^\r\n]*/.exec(yaml)?.[0].length ?? 0 };
}

/** The first errors, and one a line: what follows in the same line is most often an echo. */
function thinned(errors: readonly YAMLError[], yaml: string): readonly YAMLError[] {
  const lines = new Set<number>();
  const kept: YAMLError[] = [];
  for (const error of errors) {
    const line = yaml.lastIndexOf('\n', error.pos[0] - 1);
    if (lines.has(line)) continue;
    lines.add(line);
    kept.push(error);
    if (kept.length >= MAX_ERRORS) break;
  }
  return kept;
}

function toData(doc: Document): unknown {
  try {
    return doc.toJS({ maxAliasCount: 0 });
  } catch {
    return null;
  }
}

function fromError(error: YAMLError, offset: number, yaml: string, doc: Document): SyntaxProblem {
  const at = ({ start, end }: { readonly start: number; readonly end: number }): Stretch => ({
    offset: offset + start,
    length: end - start,
  });
  const [start, end] = error.pos;
  switch (error.code) {
    case 'TAG_RESOLVE_FAILED':
      return { why: 'yaml-tag', ...at(cutToLine(yaml, start, end)) };
    case 'BAD_ALIAS':
    case 'ALIAS_PROPS':
    case 'MULTIPLE_ANCHORS':
      return { why: 'alias', ...at(cutToLine(yaml, start, end)) };
    case 'RESOURCE_EXHAUSTION':
      return { why: 'too-deep', ...at(cutToLine(yaml, start, end)) };
    default: {
      const slip = slipOf(error);
      return { why: 'yaml-syntax', slip, ...at(rangeOfSlip(slip, error, yaml, doc)) };
    }
  }
}

/** Well-formed, but not for a book: anchors and aliases, brackets without end, and keys written twice. */
function unwelcomeNodes(doc: Document, offset: number, yaml: string): SyntaxProblem[] {
  const found: SyntaxProblem[] = [];
  visit(doc, {
    Node: (_key, node, ancestors) => {
      const [start, end] = node.range ?? [0, 1];
      if (depthOf(ancestors) > MAX_DEPTH) {
        const range = cutToLine(yaml, start, end);
        found.push({ why: 'too-deep', offset: offset + range.start, length: range.end - range.start });
        return visit.BREAK;
      }
      if (isAlias(node)) found.push({ why: 'alias', offset: offset + start, length: end - start });
      else if (node.anchor !== undefined) found.push(anchorOf(node.anchor, start, offset, yaml));
      if (isMap(node)) found.push(...twiceIn(node, offset));
      return found.length > MAX_PROBLEMS ? visit.BREAK : undefined;
    },
  });
  return found;
}

/** A bracket whose end was taken for a comment is told of by what cut it off. */
function isLeftOpen(problem: SyntaxProblem): boolean {
  return problem.why === 'yaml-syntax' && problem.slip === 'bracket-open';
}

/**
 * Texts without quotes that end at a `#` which was most likely meant as part of them: `Battery #3 looked at`. A
 * comment is told from that by a blank behind its `#`, or by more than one before it.
 */
function cutOffTexts(doc: Document, offset: number, yaml: string): SyntaxProblem[] {
  const found: SyntaxProblem[] = [];
  visit(doc, {
    Scalar: (_key, { type, range }) => {
      if (range == null || type?.startsWith('QUOTE') || type?.startsWith('BLOCK')) return undefined;
      // Where nothing stands before the sign, the place of the nothing may be before or behind the blank.
      const at = range[1] - (/[ \t]/.test(yaml.charAt(range[1] - 1)) ? 1 : 0);
      const lost = /^[ \t](#[^\s#][^\r\n]*)/.exec(yaml.slice(at, at + MAX_LINE))?.[1]?.trimEnd();
      if (lost !== undefined)
        found.push({ why: 'text-cut-off', offset: offset + at + 1, length: lost.length });
      return found.length > MAX_PROBLEMS ? visit.BREAK : undefined;
    },
  });
  return found;
}

/** Keys that stand twice in one group. */
function twiceIn(map: YAMLMap, offset: number): SyntaxProblem[] {
  const seen = new Set<string>();
  return map.items.flatMap(({ key }): SyntaxProblem[] => {
    if (!isScalar(key) || key.range == null) return [];
    const name = String(key.value);
    if (!seen.has(name)) {
      seen.add(name);
      return [];
    }
    const [start, end] = key.range;
    return [{ why: 'duplicate-key', key: name, offset: offset + start, length: Math.max(1, end - start) }];
  });
}

/** An anchor stands before its node, which does not remember where. */
function anchorOf(name: string, before: number, offset: number, yaml: string): SyntaxProblem {
  const start = Math.max(0, yaml.lastIndexOf(`&${name}`, before));
  return { why: 'alias', offset: offset + start, length: name.length + 1 };
}

interface Located {
  readonly doc: Document;
  readonly yaml: string;
  readonly offset: number;
  readonly whole: Stretch;
}

function locateIn(where: Located, path: readonly (string | number)[], part: PathPart): Stretch {
  let node: unknown = where.doc.contents;
  let best: Stretch | null = null;
  for (const [depth, step] of path.entries()) {
    if (isMap(node)) {
      const pair = pairOf(node.items, step);
      if (pair === undefined) return headOf(node, where) ?? best ?? where.whole;
      const key = stretchOf(pair.key, where);
      if (part === 'key' && depth === path.length - 1) return key ?? best ?? where.whole;
      best = stretchOf(pair.value, where) ?? key ?? best;
      node = pair.value;
    } else if (isSeq(node)) {
      const item = node.items[Number(step)];
      if (item === undefined) return best ?? where.whole;
      best = stretchOf(item, where) ?? dashOf(item, where) ?? best;
      node = item;
    } else {
      return best ?? where.whole;
    }
  }
  return headOf(node, where) ?? best ?? where.whole;
}

function pairOf(items: readonly Pair[], step: string | number): Pair | undefined {
  return items.find((item) => isPair(item) && isScalar(item.key) && String(item.key.value) === String(step));
}

/** A group by its first key, a list by its first line: a mark of twenty lines helps nobody. */
function headOf(node: unknown, where: Located): Stretch | null {
  if (isMap(node) && node.items[0] !== undefined) return stretchOf(node.items[0].key, where);
  const whole = stretchOf(node, where);
  if (whole === null || !isCollection(node)) return whole;
  const start = whole.offset - where.offset;
  const range = cutToLine(where.yaml, start, start + whole.length);
  return { offset: where.offset + range.start, length: range.end - range.start };
}

function stretchOf(node: unknown, { offset }: Located): Stretch | null {
  const range = (node as Partial<Node> | null | undefined)?.range;
  if (range === null || range === undefined) return null;
  const [start, end] = range;
  return end > start ? { offset: offset + start, length: end - start } : null;
}

/** The hyphen of a list's line in which nothing stands. */
function dashOf(node: unknown, { yaml, offset }: Located): Stretch | null {
  const at = (node as Partial<Node> | null)?.range?.[0];
  const dash = at === undefined ? -1 : yaml.lastIndexOf('-', at);
  return dash < 0 ? null : { offset: offset + dash, length: 1 };
}
