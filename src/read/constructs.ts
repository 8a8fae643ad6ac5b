import { gfmAutolinkLiteralFromMarkdown } from 'mdast-util-gfm-autolink-literal';
import { gfmFootnoteFromMarkdown } from 'mdast-util-gfm-footnote';
import { gfmStrikethroughFromMarkdown } from 'mdast-util-gfm-strikethrough';
import { gfmTableFromMarkdown } from 'mdast-util-gfm-table';
import { gfmTaskListItemFromMarkdown } from 'mdast-util-gfm-task-list-item';
import { gfmAutolinkLiteral } from 'micromark-extension-gfm-autolink-literal';
import { gfmFootnote } from 'micromark-extension-gfm-footnote';
import { gfmStrikethrough } from 'micromark-extension-gfm-strikethrough';
import { gfmTable } from 'micromark-extension-gfm-table';
import { gfmTaskListItem } from 'micromark-extension-gfm-task-list-item';
import type { Processor } from 'unified';
import { inlineReadingFromMarkdown, inlineReadingSyntax, MARK } from './inline-reading.js';

/**
 * The Markdown of a book's prose: CommonMark without raw HTML, the constructs of GFM, and readings told in the
 * prose. Whoever looks for something in prose parses it with these, so that all see the same in it.
 *
 * Most of the cost of parsing is GFM constructs that are tried at every line or letter. Each needs certain
 * characters, so a body is parsed with those constructs only whose characters it holds. A property test holds
 * the result to that of all of them.
 */

export interface Construct {
  /** Whether a body may use the construct; never false where full GFM would find one. */
  readonly mayOccur: (body: string) => boolean;
  readonly syntax: () => object;
  readonly tree: () => object;
}

export const CONSTRUCTS: readonly Construct[] = [
  {
    // A character reference can stand for any of the letters of an address.
    mayOccur: (body) => /@|http|www|&[#a-z]/i.test(body),
    syntax: gfmAutolinkLiteral,
    tree: gfmAutolinkLiteralFromMarkdown,
  },
  { mayOccur: (body) => body.includes('[^'), syntax: gfmFootnote, tree: gfmFootnoteFromMarkdown },
  { mayOccur: (body) => body.includes('~'), syntax: gfmStrikethrough, tree: gfmStrikethroughFromMarkdown },
  {
    // A table of one column needs no bar where its second line has a colon.
    mayOccur: (body) => body.includes('|') || /:-|-:/.test(body),
    syntax: gfmTable,
    tree: gfmTableFromMarkdown,
  },
  {
    mayOccur: (body) => /\[[\sxX]\]/.test(body),
    syntax: gfmTaskListItem,
    tree: gfmTaskListItemFromMarkdown,
  },
  {
    mayOccur: (body) => body.includes(MARK),
    syntax: inlineReadingSyntax,
    tree: inlineReadingFromMarkdown,
  },
];

/** Gives a parser the constructs that the prose needs; raw HTML is switched off, and so stays text. */
export function useConstructs(this: Processor, chosen: readonly Construct[]): undefined {
  const data = this.data() as Record<string, unknown>;
  const rawHtmlOff = { disable: { null: ['htmlFlow', 'htmlText'] } };
  data['micromarkExtensions'] = [rawHtmlOff, ...chosen.map((construct) => construct.syntax())];
  data['fromMarkdownExtensions'] = chosen.map((construct) => construct.tree());
}
