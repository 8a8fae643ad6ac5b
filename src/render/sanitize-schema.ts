import type { Options } from 'rehype-sanitize';

/**
 * What may be in the HTML of prose: what Markdown itself can make, and nothing else. It runs after links and
 * pictures have been resolved, as a second wall behind the resolving.
 */
export const PROSE_SCHEMA: Options = {
  tagNames: [
    ...['h2', 'h3', 'h4', 'h5', 'h6', 'p', 'blockquote', 'ul', 'ol', 'li', 'hr', 'pre', 'code', 'br'],
    ...['em', 'strong', 'del', 'a', 'sup', 'span', 'img', 'figure', 'figcaption'],
    ...['div', 'table', 'thead', 'tbody', 'tr', 'th', 'td', 'section'],
  ],
  ancestors: {
    thead: ['table'],
    tbody: ['table'],
    tr: ['table'],
    th: ['table'],
    td: ['table'],
    figcaption: ['figure'],
  },
  attributes: {
    a: [
      'href',
      'title',
      'id',
      'ariaLabel',
      'ariaDescribedBy',
      ['rel', 'noreferrer'],
      ['className', 'reading'],
    ],
    code: [['className', /^language-[\w-]+$/]],
    div: [['className', 'scroll'], ['role', 'region'], ['tabIndex', 0], 'ariaLabel'],
    h2: ['id', ['className', 'quiet']],
    h3: ['id', ['className', 'quiet']],
    img: ['src', 'srcSet', 'sizes', 'width', 'height', 'alt', ['loading', 'lazy'], ['decoding', 'async']],
    li: ['id'],
    ol: ['start'],
    section: [['className', 'footnotes']],
    span: [['className', 'box', 'missing', 'reading'], ['role', 'img'], 'ariaLabel'],
    td: [['className', 'center', 'end']],
    th: [['className', 'center', 'end']],
  },
  // The only ids are those of footnotes, made under a prefix of their own: they need no second one.
  clobber: [],
  protocols: { href: ['http', 'https', 'mailto'], src: [] },
  strip: ['script', 'style'],
};
