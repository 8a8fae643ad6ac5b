import remarkParse from 'remark-parse';
import { unified } from 'unified';
import { visit } from 'unist-util-visit';
import { CONSTRUCTS, useConstructs } from './constructs.js';
import type { WrittenReading } from './inline-reading.js';

const parser = unified().use(remarkParse).use(useConstructs, CONSTRUCTS);

/** The readings told in a prose, in their order; those in code or behind a backslash are text and not told. */
export function inlineReadingsIn(body: string): readonly WrittenReading[] {
  const found: WrittenReading[] = [];
  visit(parser.parse(body), 'inlineReading', ({ written }) => {
    found.push(written);
  });
  return found;
}
