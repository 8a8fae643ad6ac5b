import remarkParse from 'remark-parse';
import { unified } from 'unified';
import { visit } from 'unist-util-visit';
import { CONSTRUCTS, useConstructs } from './constructs.js';
import type { WrittenReading } from './inline-reading.js';
import { begunIn, type Stretch } from './reading-slips.js';

const parser = unified().use(remarkParse).use(useConstructs, CONSTRUCTS);

/** The readings told in a prose, in their order; those in code or behind a backslash are text and not told. */
export function inlineReadingsIn(body: string): readonly WrittenReading[] {
  const found: WrittenReading[] = [];
  visit(parser.parse(body), 'inlineReading', ({ written }) => {
    found.push(written);
  });
  return found;
}

/**
 * Where a prose begins to tell a reading but for a slip (`reading-slips.ts`). Code and what stands behind a
 * backslash is meant as text.
 */
export function readingSlipsIn(body: string): readonly Stretch[] {
  const found: Stretch[] = [];
  visit(parser.parse(body), 'text', ({ position }) => {
    const start = position?.start.offset ?? 0;
    const written = body.slice(start, position?.end.offset ?? start);
    found.push(...begunIn(written).map(({ offset, length }) => ({ offset: start + offset, length })));
  });
  return found;
}
