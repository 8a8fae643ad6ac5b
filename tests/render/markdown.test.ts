import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bodyRenderer } from '../../src/render/markdown.js';
import type { BodyContext } from '../../src/render/prose-tree.js';

const context: BodyContext = {
  key: '',
  headingLevel: 2,
  resolveLink: (href) => (/^(?:https?:\/\/|mailto:)/i.test(href) || href.endsWith('.md') ? href : null),
  resolvePhoto: (src) =>
    src.startsWith('photos/')
      ? { src: 'a-800.jpg', srcset: 'a-800.jpg 800w, a-1600.jpg 1600w', width: 800, height: 600 }
      : null,
  readings: [
    {
      written: '318 ± 6 Ah',
      text: '318 ± 6 Ah',
      href: '../systems/house-dc.html#point-capacity',
      title: 'Capacity',
    },
    { written: '27 1/2 in', text: '698 mm', href: null, title: 'box' },
  ],
};
const render = bodyRenderer();
const show = (markdown: string) => render(markdown, context);

/** Pieces from which every construct of GFM can come together, and every near miss. */
const PIECE = fc.constantFrom(
  ...[
    'a',
    'word',
    ' ',
    '  ',
    '\n',
    '\n\n',
    '\r\n',
    '\t',
    '|',
    '| a | b |\n',
    '|-|-|\n',
    ':-',
    '-:',
    '---',
    ':--\n',
  ],
  ...[
    '~',
    '~~',
    '~~x~~',
    '[',
    ']',
    '[^',
    '[^1]',
    '[^1]: note\n',
    '[ ]',
    '[x]',
    '- [ ] ',
    '* [X] ',
    '1. ',
    '- ',
    '> ',
  ],
  ...[
    'www.',
    'www.example.org',
    ':reading[318 ± 6 Ah]{point="a.b"}',
    ':reading[',
    ':reading',
    ':note[x]{y}',
    'http',
    'https://',
    'http://a.b/c?d=e&f',
    'HTTPS://X.Y',
    '@',
    'a@b.org',
    '&#64;',
  ],
  ...[
    '&commat;',
    '&amp;',
    '&#119;ww.',
    '\\',
    '`',
    '``',
    '```\n',
    '*',
    '**',
    '_',
    '#',
    '## ',
    '<',
    '>',
    '<b>',
    '</b>',
  ],
  ...[
    '<!--',
    '-->',
    '(',
    ')',
    '![',
    '](',
    '](x.md)',
    '![p](photos/a.jpg)',
    '"',
    "'",
    '=',
    '===\n',
    '+',
    '.',
    ':',
    '!',
  ],
);

describe('choosing constructs by the characters of a body', () => {
  test('gives what all of GFM gives', () => {
    const everything = bodyRenderer(true);
    fc.assert(
      fc.property(fc.array(PIECE, { maxLength: 24 }), (pieces) => {
        const body = pieces.join('');
        expect(render(body, context)).toBe(everything(body, context));
      }),
      { numRuns: 3000, seed: 1968 },
    );
  });

  test.each([
    ['a table of one column without a bar', 'a\n:-\nb', '<table>'],
    ['an address written with character references', 'a&#64;b.org', '<a href="mailto:a@b.org">'],
    ['a strike through', 'it was ~~400~~ 318', '<del>400</del>'],
    ['a footnote', 'so[^1]\n\n[^1]: because', 'id="prose-fn-1"'],
    ['a bare address', 'see www.example.org', '<a href="http://www.example.org"'],
  ])('finds %s', (_, body, html) => {
    expect(show(body)).toContain(html);
  });
});

describe('what prose may show', () => {
  test('raw HTML is shown as text', () => {
    expect(show('<b onclick="x()">bold</b>\n\n<script>alert(1)</script>')).toBe(
      '<p>&#x3C;b onclick="x()">bold&#x3C;/b></p>\n<p>&#x3C;script>alert(1)&#x3C;/script></p>',
    );
  });

  test('a link that leads nowhere allowed is its text alone', () => {
    for (const href of [
      'javascript:alert(1)',
      '//host/x',
      '/etc/passwd',
      'data:text/html,x',
      '#top',
      'x.html',
    ]) {
      expect(show(`[text](${href})`), href).toBe('<p>text</p>');
    }
  });

  test('a remote picture is not shown, and what it would have shown is said', () => {
    expect(show('Look: ![the plate](https://example.org/x.png)')).toBe(
      '<p>Look: <span class="missing">[picture not shown: the plate]</span></p>',
    );
  });

  test('a picture of the book is responsive, lazy and has its measures', () => {
    const html = show('![Label of the bank](photos/a.jpg "The label")');
    expect(html).toContain('srcset="a-800.jpg 800w, a-1600.jpg 1600w"');
    expect(html).toContain('width="800" height="600" alt="Label of the bank" loading="lazy"');
    expect(html).toMatch(/^<figure>.*<figcaption>The label<\/figcaption><\/figure>$/);
  });

  test('headings go below those of the page and leave no level out', () => {
    const levels = [...show('# One\n\n#### Two\n\n###### Three\n\n## Four').matchAll(/<h(\d)>(\w+)/g)];
    expect(levels.map(([, level, word]) => `${word} ${level}`)).toEqual([
      'One 2',
      'Two 3',
      'Three 4',
      'Four 3',
    ]);
  });

  test('ids of footnotes carry one prefix, and what refers to them finds them', () => {
    const html = show('one[^a] two[^b] again[^a]\n\n[^a]: first\n[^b]: second');
    const ids = [...html.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids).toContain('prose-fn-a');
    for (const [, target] of html.matchAll(/href="#([^"]+)"/g)) expect(ids).toContain(target);
  });

  test('columns of tables are aligned by class, and the table can be scrolled', () => {
    const html = show('| a | b |\n|---|--:|\n| 1 | 2 |');
    expect(html).toContain('<div class="scroll" role="region" tabindex="0" aria-label="Table"><table>');
    expect(html).toContain('<td class="end">2</td>');
    expect(html).not.toContain('align=');
  });

  test('boxes of a task list are marks with words', () => {
    expect(show('- [x] done\n- [ ] to do')).toContain(
      '<span class="box" role="img" aria-label="done">☑</span> done',
    );
  });
});
