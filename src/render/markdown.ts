import type { Root as HastRoot } from 'hast';
import type { Root as MdastRoot } from 'mdast';
import rehypeSanitize from 'rehype-sanitize';
import rehypeStringify from 'rehype-stringify';
import remarkParse from 'remark-parse';
import remarkRehype from 'remark-rehype';
import { type Processor, unified } from 'unified';
import type { Node } from 'unist';
import { visit } from 'unist-util-visit';
import { VFile } from 'vfile';
import { CONSTRUCTS, type Construct, useConstructs } from '../read/constructs.js';
import type { InlineReadingNode } from '../read/inline-reading.js';
import { FOOTNOTE_PREFIX } from './footnotes.js';
import { type BodyContext, fitToSite } from './prose-tree.js';
import { PROSE_SCHEMA } from './sanitize-schema.js';

/**
 * The prose of entries and system files: CommonMark with the constructs of GFM, made into HTML that is safe to
 * put into a page. Raw HTML in the prose is shown as the text it is.
 *
 * Parsing is the dearest step of a whole build: a body is parsed with those constructs only that it may use.
 */

type BodyProcessor = Processor<MdastRoot, MdastRoot, HastRoot, HastRoot, string>;

function buildProcessor(chosen: readonly Construct[]): BodyProcessor {
  return unified()
    .use(remarkParse)
    .use(useConstructs, chosen)
    .use(() => (tree: MdastRoot, file: VFile) => showReadings(tree, file))
    .use(remarkRehype, { clobberPrefix: FOOTNOTE_PREFIX })
    .use(() => (tree: HastRoot, file: VFile) => fitToSite(tree, file.data['body'] as BodyContext))
    .use(rehypeSanitize, PROSE_SCHEMA)
    .use(rehypeStringify)
    .freeze();
}

/**
 * Puts the value of each reading that is told in the prose in its place, as a link to its point. One that the
 * page knows nothing of stays as it was written.
 */
function showReadings(tree: MdastRoot, file: VFile): void {
  const { readings } = file.data['body'] as BodyContext;
  let index = 0;
  visit(tree, 'inlineReading', (node: InlineReadingNode & Node) => {
    const shown = readings[index];
    index += 1;
    if (shown === undefined || shown.written !== node.written.value.text) {
      const { start, end } = node.position ?? {};
      node.children = [{ type: 'text', value: String(file.value).slice(start?.offset, end?.offset) }];
      node.data = { hName: 'span' };
      return;
    }
    node.children = [{ type: 'text', value: shown.text }];
    const { href, title } = shown;
    node.data = {
      hName: href === null ? 'span' : 'a',
      hProperties: { dataReading: '', ...(href === null ? {} : { href, title }) },
    };
  });
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
