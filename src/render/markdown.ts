import type { Root as HastRoot } from 'hast';
import type { Root as MdastRoot } from 'mdast';
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
import rehypeSanitize from 'rehype-sanitize';
import rehypeStringify from 'rehype-stringify';
import remarkParse from 'remark-parse';
import remarkRehype from 'remark-rehype';
import { type Processor, unified } from 'unified';
import { VFile } from 'vfile';
import { type BodyContext, fitToSite } from './prose-tree.js';
import { PROSE_SCHEMA } from './sanitize-schema.js';

/**
 * The prose of entries and system files: CommonMark with the constructs of GFM, made into HTML that is safe to
 * put into a page. Raw HTML in the prose is shown as the text it is.
 *
 * Parsing is the dearest step of a whole build, and most of its cost is GFM constructs that are tried at every
 * line or letter. Each construct needs certain characters, so a body is parsed with those constructs only
 * whose characters it holds. A property test holds the result to that of full GFM.
 */

interface Construct {
  /** Whether a body may use the construct; never false where full GFM would find one. */
  readonly mayOccur: (body: string) => boolean;
  readonly syntax: () => object;
  readonly tree: () => object;
}

const CONSTRUCTS: readonly Construct[] = [
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
];

/** Prefix of the ids that footnotes bring, so that none can meet an id of the page around. */
export const FOOTNOTE_PREFIX = 'prose-';

type BodyProcessor = Processor<MdastRoot, MdastRoot, HastRoot, HastRoot, string>;

/** Gives a parser the constructs that the prose needs; raw HTML is switched off, and so stays text. */
function chosenConstructs(this: Processor, chosen: readonly Construct[]): undefined {
  const data = this.data() as Record<string, unknown>;
  const rawHtmlOff = { disable: { null: ['htmlFlow', 'htmlText'] } };
  data['micromarkExtensions'] = [rawHtmlOff, ...chosen.map((construct) => construct.syntax())];
  data['fromMarkdownExtensions'] = chosen.map((construct) => construct.tree());
}

function buildProcessor(chosen: readonly Construct[]): BodyProcessor {
  return unified()
    .use(remarkParse)
    .use(chosenConstructs, chosen)
    .use(remarkRehype, { clobberPrefix: FOOTNOTE_PREFIX })
    .use(() => (tree: HastRoot, file: VFile) => fitToSite(tree, file.data['body'] as BodyContext))
    .use(rehypeSanitize, PROSE_SCHEMA)
    .use(rehypeStringify)
    .freeze();
}

/** Which constructs a body may use, as bits in the order of `CONSTRUCTS`. */
function constructBits(body: string): number {
  let bits = 0;
  for (const [index, construct] of CONSTRUCTS.entries()) {
    if (construct.mayOccur(body)) bits |= 1 << index;
  }
  return bits;
}

/** Makes the HTML of one body. */
export type BodyRenderer = (markdown: string, context: BodyContext) => string;

/**
 * A renderer of prose. Processors are built once for each set of constructs that turns up.
 *
 * @param everything parse with all constructs, whether a body seems to need them or not
 */
export function bodyRenderer(everything = false): BodyRenderer {
  const processors = new Map<number, BodyProcessor>();
  return (markdown, context) => {
    if (markdown.trim() === '') return '';
    const bits = everything ? -1 : constructBits(markdown);
    let processor = processors.get(bits);
    if (processor === undefined) {
      processor = buildProcessor(CONSTRUCTS.filter((_, index) => (bits & (1 << index)) !== 0));
      processors.set(bits, processor);
    }
    const file = new VFile({ value: markdown, data: { body: context } });
    return processor.stringify(processor.runSync(processor.parse(file), file), file);
  };
}
