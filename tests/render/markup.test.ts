import fc from 'fast-check';
import { type ComponentChildren, Fragment, h, type VNode } from 'preact';
import { renderToString } from 'preact-render-to-string';
import { expect, test, vi } from 'vitest';
import type { htmlOf as HtmlOf } from '../../src/render/markup.js';
import { DEMO, loadBook, pagesOf } from '../site/demo.js';

/** Preact's own way to text is the oracle: what it makes of a template, ours makes of it too, to the letter. */

const { drawn } = vi.hoisted(() => ({ drawn: [] as { ours: string; preacts: string }[] }));

vi.mock('../../src/render/markup.js', async (original) => {
  const { htmlOf } = await original<{ htmlOf: typeof HtmlOf }>();
  return {
    htmlOf: (node: VNode) => {
      drawn.push({ ours: htmlOf(node), preacts: renderToString(node) });
      return drawn.at(-1)?.ours;
    },
  };
});

test('every page of the demo book comes out as by Preact', async () => {
  const pages = pagesOf(await loadBook(DEMO));
  drawn.length = 0;
  for (const page of pages) page.render();
  expect(drawn.length).toBeGreaterThan(200);
  for (const { ours, preacts } of drawn) expect(ours).toBe(preacts);
});

const text = fc.string({ unit: fc.constantFrom('a', '<', '>', '&', '"', "'", ' ', 'é', '\n') });
const child: fc.Memo<ComponentChildren> = fc.memo((depth) => {
  const leaf = fc.oneof(text, fc.integer(), fc.constantFrom(null, undefined, true, false));
  return depth <= 1 ? leaf : fc.oneof(leaf, node(depth - 1), fc.array(child(depth - 1), { maxLength: 3 }));
});
const Passes = (props: { children?: ComponentChildren }) => h(Fragment, null, props.children);
const node: fc.Memo<VNode> = fc.memo((depth) =>
  fc
    .tuple(
      fc.constantFrom('p', 'td', 'span', 'br', Fragment, Passes),
      fc.dictionary(
        fc.constantFrom('class', 'title', 'aria-hidden', 'data-x', 'hidden', 'dateTime', 'tabIndex'),
        fc.oneof(text, fc.integer(), fc.constantFrom(null, undefined, true, false)),
      ),
      fc.array(child(depth), { maxLength: 3 }),
    )
    .map(([type, props, children]) => h(type as string, props, ...(type === 'br' ? [] : children))),
);

test('so does whatever else is put together', async () => {
  const { htmlOf } = await import('../../src/render/markup.js');
  fc.assert(
    fc.property(node(4), (made) => {
      htmlOf(made);
      const { ours, preacts } = drawn.at(-1) ?? { ours: null, preacts: '' };
      expect(ours).toBe(preacts);
    }),
    { numRuns: 500 },
  );
});
