import { describe, expect, test } from 'vitest';
import { bodyRenderer } from '../../src/render/markdown.js';
import { MARKDOWN_PAYLOADS } from './payloads.js';

const render = bodyRenderer();

/** Everything that prose may become; anything else is a way in. */
const ALLOWED =
  /^<\/?(?:h[2-6]|p|blockquote|ul|ol|li|hr|pre|code|br|em|strong|del|a|sup|span|img|figure|figcaption|div|table|thead|tbody|tr|th|td|section)(?:\s|>|$)/;

describe('hostile prose', () => {
  test.each(MARKDOWN_PAYLOADS)('%s', (payload) => {
    const html = render(`Before.\n\n${payload}\n\nAfter.`, {
      key: '',
      headingLevel: 2,
      // The most that a page would ever let through.
      resolveLink: (href) => (/^https?:\/\//.test(href) ? href : null),
      resolvePhoto: () => ({ src: 'a.jpg', srcset: 'a.jpg 800w', width: 8, height: 6 }),
      readings: [],
    });
    expect(html).toContain('After.');
    for (const [tag] of html.matchAll(/<[^>]*>?/g)) {
      expect(tag).toMatch(ALLOWED);
      // Outside of quoted values no attribute begins with `on`, and no address is a script.
      expect(tag.replace(/"[^"]*"/g, '""')).not.toMatch(/\son\w+/i);
      expect(tag).not.toMatch(/(?:href|src)="\s*(?:javascript|vbscript|data):/i);
    }
  });
});
