import { join } from 'node:path';
import fc from 'fast-check';
import remarkFrontmatter from 'remark-frontmatter';
import remarkParse from 'remark-parse';
import { unified } from 'unified';
import { describe, expect, it } from 'vitest';
import { readFolder } from '../../src/read/folder.js';
import { quickFrontMatter, quickYaml, splitFences } from '../../src/read/front-matter.js';
import { thoroughMarkdown, thoroughYaml } from '../../src/read/thorough.js';
import { TRICKY, typedDocument, writtenDocument } from './corpus.js';

/**
 * A file is read the quick way, and the thorough way only where something is wrong with it. Both have to
 * make the same of it, or a book would change its meaning with the slip next to it.
 */

/** What both make of a document; the quick way may give up, but not differ. */
function hold(yaml: string): 'same' | 'given up' {
  const quick = quickYaml(yaml);
  if (quick === null) return 'given up';
  const close = thoroughYaml(yaml);
  expect(close.problems, yaml).toEqual([]);
  // An empty document is nothing to one and null to the other; the checker takes both for no fields.
  expect(close.data ?? null, yaml).toEqual(quick.data ?? null);
  return 'same';
}

const fencedDocument = fc
  .tuple(
    fc.array(
      fc.constantFrom('---', '--- ', '----', '---js', '...', '', 'text', ' ---', '\t---', '- x', 'a: b'),
      { maxLength: 6 },
    ),
    fc.constantFrom('\n', '\r\n'),
    fc.boolean(),
    fc.constantFrom('---', '---', '---\t', '----', ' ---', ''),
  )
  .map(([lines, end, last, first]) => `${first}${end}title: x${end}${lines.join(end)}${last ? end : ''}`);

describe('the quick and the thorough way of reading', () => {
  it('make the same of every file of the demo book', () => {
    const { files } = readFolder(join(import.meta.dirname, '../../log'));
    expect(files.length).toBeGreaterThan(20);
    for (const file of files) {
      const isYaml = file.path.endsWith('.yaml');
      const quick = isYaml ? quickYaml(file.text) : quickFrontMatter(file.text);
      const close = isYaml ? thoroughYaml(file.text) : thoroughMarkdown(file.text);
      expect(quick, file.path).not.toBeNull();
      expect(close.problems, file.path).toEqual([]);
      expect(close.data, file.path).toEqual(quick?.data);
      if (quick !== null && 'body' in quick) expect(close.body, file.path).toBe(quick.body);
    }
  });

  it('make the same of texts that are easily misread, wherever they stand', () => {
    const held = TRICKY.flatMap((text) =>
      [
        `a: ${text}`,
        `- ${text}`,
        `a: [${text}]`,
        `a: { b: ${text} }`,
        `${text}: a`,
        `"${text}"`,
        `'${text}'`,
      ].map((yaml) => hold(yaml)),
    );
    expect(held.filter((how) => how === 'same').length).toBeGreaterThan(held.length / 2);
  });

  it('make the same of documents that a YAML writer wrote', () => {
    let same = 0;
    fc.assert(
      fc.property(writtenDocument, (yaml) => {
        if (hold(yaml) === 'same') same += 1;
      }),
      { numRuns: 1_500, seed: 20260418 },
    );
    expect(same).toBeGreaterThan(700);
  });

  it('make the same of documents typed by hand', () => {
    let same = 0;
    fc.assert(
      fc.property(typedDocument, (yaml) => {
        if (hold(yaml) === 'same') same += 1;
      }),
      { numRuns: 3_000, seed: 20260418 },
    );
    expect(same).toBeGreaterThan(500);
  });

  it('split the fences where remark-frontmatter sees them', () => {
    const remark = unified().use(remarkParse).use(remarkFrontmatter, ['yaml']);
    let fenced = 0;
    fc.assert(
      fc.property(fencedDocument, (text) => {
        const ours = splitFences(text);
        const first = remark.parse(text).children[0];
        const theirs = first?.type === 'yaml' ? first.value : null;
        expect(ours?.yaml ?? null, JSON.stringify(text)).toBe(theirs);
        fenced += theirs === null ? 0 : 1;
      }),
      { numRuns: 1_500, seed: 20260418 },
    );
    expect(fenced).toBeGreaterThan(150);
  });

  it('make the same of the fences and the prose below them', () => {
    let same = 0;
    fc.assert(
      fc.property(fencedDocument, (text) => {
        const quick = quickFrontMatter(text);
        if (quick === null) return;
        const close = thoroughMarkdown(text);
        expect(close.problems, JSON.stringify(text)).toEqual([]);
        expect({ data: close.data, body: close.body }, JSON.stringify(text)).toEqual(quick);
        same += 1;
      }),
      { numRuns: 2_000, seed: 20260418 },
    );
    expect(same).toBeGreaterThan(150);
  });
});
