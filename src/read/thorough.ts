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
  LineCounter,
  type Node,
  parseDocument,
  visit,
  type YAMLError,
} from 'yaml';
import { MAX_FRONT_MATTER } from './front-matter.js';

/**
 * The thorough way into a file, taken only where something is wrong or where a place in the text has to be
 * found: front matter by remark-frontmatter, YAML by `yaml`, every problem kept and every node's place known.
 */

/** A stretch of a file's text, in UTF-16 units. */
export interface Stretch {
  readonly offset: number;
  readonly length: number;
}

export interface SyntaxProblem extends Stretch {
  readonly why:
    | 'no-front-matter'
    | 'front-matter-open'
    | 'front-matter-language'
    | 'front-matter-too-large'
    | 'yaml-syntax'
    | 'duplicate-key'
    | 'alias'
    | 'yaml-tag'
    | 'too-deep';
  /** The parser's own words, where it has any. */
  readonly detail: string;
}

export type PathPart = 'key' | 'value';

export interface Thorough {
  readonly problems: readonly SyntaxProblem[];
  /** What was written, where it could be made out at all. */
  readonly data: unknown;
  readonly body: string;
  /** Where the value (or the key) at a path stands; the nearest ancestor's where the path itself is missing. */
  readonly locate: (path: readonly (string | number)[], part: PathPart) => Stretch;
}

const MAX_PROBLEMS = 50;
const MAX_DEPTH = 24;

/** Looks closely at a Markdown file with front matter. Never throws. */
export function thoroughMarkdown(text: string): Thorough {
  const fence = findFrontMatter(text);
  if ('why' in fence) {
    const start: Stretch = { offset: fence.offset, length: fence.length };
    return { problems: [fence], data: null, body: '', locate: () => start };
  }
  return { ...thoroughYaml(fence.yaml, fence.offset, Math.min(3, text.length)), body: fence.body };
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
  if (!firstLine.startsWith('---')) return { why: 'no-front-matter', detail: '', ...first };
  if (firstLine.slice(3).trim() !== '')
    return { why: 'front-matter-language', detail: firstLine.slice(3).trim(), ...first };
  const closing = /\r?\n---[ \t]*(?:\r?\n|$)/.exec(text);
  if (closing === null) return { why: 'front-matter-open', detail: '', ...first };
  const end = closing.index + closing[0].length;
  const tree: Root = fenceParser.parse(text.slice(0, end));
  const node = tree.children[0];
  if (node?.type !== 'yaml') return { why: 'no-front-matter', detail: '', ...first };
  const offset = firstLine.length + (text.startsWith('\r\n', firstLine.length) ? 2 : 1);
  return { yaml: text.slice(offset, Math.max(offset, closing.index)), offset, body: text.slice(end) };
}

/**
 * Looks closely at YAML that begins at `offset` of its file.
 *
 * @param emptyLength length to mark when there is nothing else to point at.
 */
export function thoroughYaml(yaml: string, offset = 0, emptyLength = 1): Thorough {
  const whole: Stretch = { offset, length: Math.min(emptyLength, Math.max(yaml.length, 1)) };
  if (yaml.length > MAX_FRONT_MATTER) {
    return {
      problems: [{ why: 'front-matter-too-large', detail: String(yaml.length), ...whole }],
      data: null,
      body: '',
      locate: () => whole,
    };
  }
  const lines = new LineCounter();
  const doc = parseDocument(yaml, {
    version: '1.2',
    schema: 'core',
    merge: false,
    lineCounter: lines,
    keepSourceTokens: false,
    prettyErrors: false,
    uniqueKeys: true,
    strict: true,
  });
  const problems = [
    ...doc.errors.map((error) => fromError(error, offset, yaml)),
    ...unwelcomeNodes(doc, offset),
  ]
    .concat(
      doc.warnings
        .filter((warning) => warning.code === 'TAG_RESOLVE_FAILED')
        .map((warning) => ({ ...fromError(warning, offset, yaml), why: 'yaml-tag' as const })),
    )
    .slice(0, MAX_PROBLEMS);
  return {
    problems: unique(problems),
    data: problems.some((problem) => problem.why !== 'duplicate-key') ? null : toData(doc),
    body: '',
    locate: (path, part) => locateIn(doc, path, part, offset, whole),
  };
}

function unique(problems: SyntaxProblem[]): SyntaxProblem[] {
  const seen = new Set<string>();
  return problems.filter((problem) => {
    const key = `${problem.why}@${problem.offset}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

function toData(doc: Document): unknown {
  try {
    return doc.toJS({ maxAliasCount: 0 });
  } catch {
    return null;
  }
}

function fromError(error: YAMLError, offset: number, yaml: string): SyntaxProblem {
  const [start, end] = error.pos;
  const at = Math.min(start, Math.max(yaml.length - 1, 0));
  const lineEnd = yaml.slice(at).search(/\r?\n/);
  const length = Math.max(1, Math.min(end - start, lineEnd < 0 ? yaml.length - at : Math.max(lineEnd, 1)));
  const why =
    error.code === 'DUPLICATE_KEY'
      ? 'duplicate-key'
      : error.code === 'TAG_RESOLVE_FAILED'
        ? 'yaml-tag'
        : 'yaml-syntax';
  return { why, detail: error.message, offset: offset + at, length };
}

/** Anchors, aliases and tags: well-formed YAML, but a book needs none, and an alias can grow without end. */
function unwelcomeNodes(doc: Document, offset: number): SyntaxProblem[] {
  const found: SyntaxProblem[] = [];
  visit(doc, {
    Node: (_key, node, path) => {
      const start = (node as Node).range?.[0] ?? 0;
      const end = (node as Node).range?.[1] ?? start + 1;
      const place: Stretch = { offset: offset + start, length: Math.max(1, end - start) };
      if (path.length > MAX_DEPTH * 2) {
        found.push({ why: 'too-deep', detail: '', ...place });
        return visit.BREAK;
      }
      if (isAlias(node)) found.push({ why: 'alias', detail: node.source, ...place });
      else if ('anchor' in node && node.anchor !== undefined)
        found.push({ why: 'alias', detail: String(node.anchor), ...place });
      else if ('tag' in node && typeof node.tag === 'string' && !node.tag.startsWith('tag:yaml.org,2002:'))
        found.push({ why: 'yaml-tag', detail: node.tag, ...place });
      return found.length > MAX_PROBLEMS ? visit.BREAK : undefined;
    },
  });
  return found;
}

function locateIn(
  doc: Document,
  path: readonly (string | number)[],
  part: PathPart,
  offset: number,
  whole: Stretch,
): Stretch {
  let node: unknown = doc.contents;
  let best: Stretch | null = null;
  for (const [depth, step] of path.entries()) {
    const last = depth === path.length - 1;
    if (isMap(node)) {
      const pair = node.items.find(
        (item) => isPair(item) && isScalar(item.key) && String(item.key.value) === String(step),
      );
      if (pair === undefined) return firstKey(node, offset) ?? best ?? whole;
      const key = stretchOf(pair.key as Node, offset);
      const value = pair.value === null ? null : stretchOf(pair.value as Node, offset);
      best = (last && part === 'key' ? key : (value ?? key)) ?? best;
      node = pair.value;
    } else if (isCollection(node)) {
      const item = node.items[Number(step)] as Node | undefined;
      if (item === undefined) return best ?? whole;
      best = stretchOf(item, offset) ?? best;
      node = item;
    } else {
      return best ?? whole;
    }
  }
  return headOf(node, best, offset) ?? firstKey(doc.contents, offset) ?? whole;
}

/** A whole map or list is pointed at by its beginning: a mark of twenty lines helps nobody. */
function headOf(node: unknown, best: Stretch | null, offset: number): Stretch | null {
  if (isMap(node)) return firstKey(node, offset) ?? best;
  return best;
}

function firstKey(node: unknown, offset: number): Stretch | null {
  if (!isMap(node)) return null;
  const key = node.items[0]?.key;
  return key === undefined ? null : stretchOf(key as Node, offset);
}

function stretchOf(node: Node | null | undefined, offset: number): Stretch | null {
  const range = node?.range;
  if (range === null || range === undefined) return null;
  const [start, end] = range;
  return end > start ? { offset: offset + start, length: end - start } : null;
}
