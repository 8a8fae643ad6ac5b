import type { Heading, Root } from 'mdast';
import remarkParse from 'remark-parse';
import { unified } from 'unified';
import { visit } from 'unist-util-visit';
import { CONSTRUCTS, useConstructs } from './constructs.js';

/** A stretch of a prose below a heading, with the heading. */
export interface Section {
  /** The heading's words, without marks, blanks made one. */
  readonly heading: string;
  /** In UTF-16 units from the beginning of the prose; `end` is behind the last. */
  readonly start: number;
  readonly end: number;
}

const parser = unified().use(remarkParse).use(useConstructs, CONSTRUCTS);

/** The tree of a prose, by the same constructs as it is shown with. */
export function treeOf(body: string): Root {
  return parser.parse(body);
}

/**
 * The sections of a prose: each from its heading to the next one of the same level or a higher one, or to the end. A
 * heading inside a quotation or a list begins none.
 */
export function sectionsIn(body: string): readonly Section[] {
  const headings = treeOf(body).children.filter((node): node is Heading => node.type === 'heading');
  return headings.map((heading, index) => {
    const next = headings.slice(index + 1).find(({ depth }) => depth <= heading.depth);
    return {
      heading: wordsOf(heading),
      start: heading.position?.start.offset ?? 0,
      end: next?.position?.start.offset ?? body.length,
    };
  });
}

/** Whether a heading is the one that somebody means: the same but for case and blanks. */
export function sameHeading(a: string, b: string): boolean {
  return oneLine(a).toLowerCase() === oneLine(b).toLowerCase();
}

function wordsOf(heading: Heading): string {
  const words: string[] = [];
  visit(heading, (node) => {
    if (node.type === 'text' || node.type === 'inlineCode') words.push(node.value);
  });
  return oneLine(words.join(''));
}

function oneLine(text: string): string {
  return text.normalize('NFC').replaceAll(/\s+/g, ' ').trim();
}
