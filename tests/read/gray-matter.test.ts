import { join } from 'node:path';
import matter from 'gray-matter';
import { CORE_SCHEMA, load } from 'js-yaml';
import { describe, expect, it } from 'vitest';
import { readFolder } from '../../src/read/folder.js';
import { quickFrontMatter } from '../../src/read/front-matter.js';

/**
 * gray-matter is the usual way into front matter, and stands here as a second opinion on ours. As it comes it
 * runs `---js` front matter and shares results through a cache; its engines but YAML refuse here, and options
 * are passed with every call, which keeps its cache out of use.
 */
function refuse(): never {
  throw new Error('this engine is never used');
}

const OPTIONS = {
  language: 'yaml',
  engines: {
    yaml: { parse: (text: string) => load(text, { schema: CORE_SCHEMA }) as object, stringify: refuse },
    javascript: { parse: refuse, stringify: refuse },
    json: { parse: refuse, stringify: refuse },
  },
};

describe('gray-matter, with its engines off', () => {
  it('makes the same of every entry and system of the demo book', () => {
    const files = readFolder(join(import.meta.dirname, '../../log')).files.filter((file) =>
      file.path.endsWith('.md'),
    );
    expect(files.length).toBeGreaterThan(100);
    for (const file of files) {
      const theirs = matter(file.text, OPTIONS);
      const ours = quickFrontMatter(file.text);
      expect(ours?.data, file.path).toEqual(theirs.data);
      expect(ours?.body, file.path).toBe(theirs.content);
    }
  });

  it('would run code that ours takes for text', () => {
    const text = '---js\n{ title: "run" }\n---\nprose\n';
    expect(() => matter(text, OPTIONS)).toThrow('never used');
    expect(quickFrontMatter(text)).toBeNull();
  });

  it('is asked nothing twice: bad YAML fails the second time as it did the first', () => {
    const text = '---\na: [1\n---\n';
    for (const _time of [1, 2]) {
      expect(() => matter(text, OPTIONS)).toThrow();
      expect(quickFrontMatter(text)).toBeNull();
    }
  });
});
