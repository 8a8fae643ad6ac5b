import { isMap, isScalar, isSeq, parseDocument, Scalar } from 'yaml';
import { MAX_FRONT_MATTER } from './front-matter.js';
import { PARSING, type PathPart, type Stretch } from './thorough.js';

/**
 * From a place in the text to the path at which it stands: the inverse of `locate`. It works on a text that is
 * being typed: whatever the parser can still make out of it is there, and nothing throws.
 */

/** A key, or a value that is no group and no list, as it stands in the text. */
export interface WrittenScalar extends Stretch {
  readonly path: readonly (string | number)[];
  readonly part: PathPart;
  /** What it says, as a text. */
  readonly text: string;
  /** Where what it says begins: behind the quote, if it has one. */
  readonly inside: number;
  /** Whether it says letter for letter what stands there, so that a place in one is a place in the other. */
  readonly verbatim: boolean;
  readonly quoted: boolean;
}

const MAX_DEPTH = 24;

/** The part of a text that is YAML: the front matter, also while its closing line is not there yet. */
export function yamlOf(text: string, isYamlFile: boolean): Stretch | null {
  if (isYamlFile) return { offset: 0, length: text.length };
  const opening = /^---[ \t]*\r?\n/.exec(text)?.[0].length;
  if (opening === undefined) return null;
  const closing = /^---[ \t]*$/m.exec(text.slice(opening));
  return { offset: opening, length: closing?.index ?? text.length - opening };
}

/** All keys and values of a text, in their order; none where its front matter is too large to be read. */
export function scalarsIn(text: string, isYamlFile: boolean): readonly WrittenScalar[] {
  const stretch = yamlOf(text, isYamlFile);
  if (stretch === null || stretch.length > MAX_FRONT_MATTER) return [];
  const yaml = text.slice(stretch.offset, stretch.offset + stretch.length);
  const found: WrittenScalar[] = [];
  const add = (node: Scalar, path: WrittenScalar['path'], part: PathPart) => {
    const scalar = scalarOf(node, yaml, stretch.offset, path, part);
    if (scalar !== null) found.push(scalar);
  };
  const walk = (node: unknown, path: WrittenScalar['path']): void => {
    if (path.length > MAX_DEPTH) return;
    if (isScalar(node)) add(node, path, 'value');
    else if (isSeq(node)) for (const [index, item] of node.items.entries()) walk(item, [...path, index]);
    else if (isMap(node)) {
      for (const { key, value } of node.items) {
        if (!isScalar(key)) continue;
        const inside = [...path, keyText(key)];
        add(key, inside, 'key');
        walk(value, inside);
      }
    }
  };
  walk(documentOf(yaml), []);
  return found;
}

function documentOf(yaml: string): unknown {
  try {
    return parseDocument(yaml, PARSING).contents;
  } catch {
    return null;
  }
}

function keyText(key: Scalar): string {
  return String(key.value);
}

function scalarOf(
  node: Scalar,
  yaml: string,
  offset: number,
  path: WrittenScalar['path'],
  part: PathPart,
): WrittenScalar | null {
  const [start, end] = node.range ?? [0, 0];
  if (end <= start || node.type === Scalar.BLOCK_LITERAL || node.type === Scalar.BLOCK_FOLDED) return null;
  const quoted = node.type === Scalar.QUOTE_DOUBLE || node.type === Scalar.QUOTE_SINGLE;
  // Digits that YAML would drop are taken from the text itself.
  const text = typeof node.value === 'string' ? node.value : yaml.slice(start, end);
  const inside = start + (quoted ? 1 : 0);
  return {
    path,
    part,
    offset: offset + start,
    length: end - start,
    text,
    inside: offset + inside,
    verbatim: yaml.startsWith(text, inside),
    quoted,
  };
}

/** The key or value in which a place lies; at its very end counts as in it. */
export function scalarAt(scalars: readonly WrittenScalar[], offset: number): WrittenScalar | null {
  return (
    scalars.find((one) => offset >= one.offset && offset < one.offset + one.length) ??
    scalars.find((one) => offset === one.offset + one.length) ??
    null
  );
}
