import type { Root } from 'mdast';
import remarkFrontmatter from 'remark-frontmatter';
import remarkParse from 'remark-parse';
import { unified } from 'unified';
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
} from 'yaml';
import { MAX_FRONT_MATTER } from './front-matter.js';
import { cutToLine, depthOf, keyAt, rangeOfSlip, slipOf, type YamlSlip } from './slips.js';

/**
 * The thorough way into a file, taken only where something is wrong or where a place in the text has to be
 * found: front matter by remark-frontmatter, YAML by `yaml`, every problem kept and every node's place known.
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
          | 'too-deep';
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

const MAX_PROBLEMS = 50;
/** Past the first few, slips of syntax are mostly what the first ones did to the rest of the file. */
const MAX_SLIPS = 5;
const MAX_DEPTH = 24;

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

interface Fenced {
  readonly yaml: string;
  readonly offset: number;
  readonly body: string;
}

// Only the fence is asked of remark here; the prose below it is not parsed, since a megabyte of it may follow.
const fenceParser = unified().use(remarkParse).use(remarkFrontmatter, ['yaml']);

function findFrontMatter(text: string): Fenced | SyntaxProblem {
  const firstLine = /^[^\r\n]*/.exec(text)?.[0] ?? '';
  const first: Stretch = { offset: 0, length: firstLine.length };
  if (!/^---(?!-)/.test(firstLine)) return { why: 'no-front-matter', ...first };
  const language = firstLine.slice(3).trim();
  if (language !== '') return { why: 'front-matter-language', language, ...first };
  const closing = /\r?\n---[ \t]*(?:\r?\n|$)/.exec(text);
  if (closing === null) return { why: 'front-matter-open', ...first };
  const end = closing.index + closing[0].length;
  const tree: Root = fenceParser.parse(text.slice(0, end));
  const node = tree.children[0];
  if (node?.type !== 'yaml') return { why: 'no-front-matter', ...first };
  const offset = firstLine.length + (text.startsWith('\r\n', firstLine.length) ? 2 : 1);
  return { yaml: text.slice(offset, Math.max(offset, closing.index)), offset, body: text.slice(end) };
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
  const doc = parseDocument(yaml, {
    version: '1.2',
    schema: 'core',
    merge: false,
    keepSourceTokens: false,
    prettyErrors: false,
    uniqueKeys: true,
    strict: true,
  });
  const tags = doc.warnings.filter((warning) => warning.code === 'TAG_RESOLVE_FAILED');
  const problems = [
    ...[...doc.errors, ...tags].map((error) => fromError(error, offset, yaml, doc)),
    ...unwelcomeNodes(doc, offset, yaml),
  ];
  return {
    problems: thinned(problems, yaml, offset),
    data: problems.some((problem) => problem.why !== 'duplicate-key') ? null : toData(doc),
    body: '',
    locate: (path, part) => locateIn({ doc, yaml, offset, whole }, path, part),
  };
}

function firstLineOf(yaml: string, offset: number): Stretch {
  return { offset, length: /^[^\r\n]*/.exec(yaml)?.[0].length ?? 0 };
}

/** One problem a place, and one slip of syntax a line: what follows in the same line is most often its echo. */
function thinned(problems: readonly SyntaxProblem[], yaml: string, offset: number): SyntaxProblem[] {
  const seen = new Set<string>();
  let slips = 0;
  const kept = problems.filter((problem) => {
    const isSlip = problem.why === 'yaml-syntax';
    const line = yaml.lastIndexOf('\n', problem.offset - offset - 1);
    const key = isSlip ? `line ${line}` : `${problem.why}@${problem.offset}`;
    if (seen.has(key) || (isSlip && slips >= MAX_SLIPS)) return false;
    seen.add(key);
    slips += isSlip ? 1 : 0;
    return true;
  });
  return kept.slice(0, MAX_PROBLEMS);
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
    case 'DUPLICATE_KEY': {
      const key = keyAt(doc, start);
      return { why: 'duplicate-key', key: key?.name ?? '', ...at({ start, end: key?.end ?? end }) };
    }
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

/** Anchors and aliases, and brackets without end: well-formed, but a book needs none, and an alias can grow. */
function unwelcomeNodes(doc: Document, offset: number, yaml: string): SyntaxProblem[] {
  const found: SyntaxProblem[] = [];
  visit(doc, {
    Node: (_key, node, ancestors) => {
      const [start, end] = (node as Node).range ?? [0, 1];
      if (depthOf(ancestors) > MAX_DEPTH) {
        const range = cutToLine(yaml, start, end);
        found.push({ why: 'too-deep', offset: offset + range.start, length: range.end - range.start });
        return visit.BREAK;
      }
      if (isAlias(node)) found.push({ why: 'alias', offset: offset + start, length: end - start });
      else if (node.anchor !== undefined) found.push(anchorOf(node.anchor, start, offset, yaml));
      return found.length > MAX_PROBLEMS ? visit.BREAK : undefined;
    },
  });
  return found;
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
