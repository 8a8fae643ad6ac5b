import { describe, expect, it } from 'vitest';
import { inlineReadingsIn } from '../../src/read/prose-readings.js';
import { bodyRenderer } from '../../src/render/markdown.js';

const render = bodyRenderer();
const show = (markdown: string, readings: readonly [written: string, text: string, href: string | null][]) =>
  render(markdown, {
    key: '',
    headingLevel: 2,
    resolveLink: (href) => href,
    resolvePhoto: () => null,
    readings: readings.map(([written, text, href]) => ({ written, text, href, title: 'Capacity' })),
  });

describe('readings told in the prose', () => {
  it('are shown as their value, with a link to their point', () => {
    expect(
      show('It gave :reading[318 ± 6 Ah]{point="house-dc.capacity"}.', [
        ['318 ± 6 Ah', '318 ± 6 Ah', 'p.html'],
      ]),
    ).toBe('<p>It gave <a class="reading" href="p.html" title="Capacity">318 ± 6 Ah</a>.</p>');
    expect(show('Box :reading[27 1/2 in]{what="box"}', [['27 1/2 in', '698 mm', null]])).toBe(
      '<p>Box <span>698 mm</span></p>',
    );
  });

  it('stand in a link without being one', () => {
    const html = show('[it gave :reading[3 V]{point="a.b"}](x.md)', [['3 V', '3 V', 'p.html']]);
    expect(html).toBe('<p><a href="x.md">it gave <span class="reading">3 V</span></a></p>');
  });

  it('are shown as written where the page knows another reading, or none', () => {
    for (const readings of [[], [['4 V', '4 V', 'p.html']]] as [string, string, string][][])
      expect(show('a :reading[3 V]{point="a.b"} b', readings)).toBe(
        '<p>a <span>:reading[3 V]{point="a.b"}</span> b</p>',
      );
  });

  it('keep their order where footnotes move to the end', () => {
    const text = '[^1]: Before :reading[1 V]{point="a.b"}.\n\nText[^1] :reading[2 V]{point="a.b"}.';
    const html = show(text, [
      ['1 V', 'one', 'p.html'],
      ['2 V', 'two', 'p.html'],
    ]);
    expect(html.indexOf('two')).toBeGreaterThan(0);
    expect(html.indexOf('one')).toBeGreaterThan(html.indexOf('two'));
  });

  it('leave all else that looks like a directive as the text it is', () => {
    const text = 'At 12:pm, :note[a *b*]{c}, :reading, ::reading[x], :reading {y} and \\:reading[3 V]{z}.';
    expect(inlineReadingsIn(text)).toEqual([]);
    expect(show(text, [])).toBe(
      '<p>At 12:pm, :note[a <em>b</em>]{c}, :reading, ::reading[x], :reading {y} and :reading[3 V]{z}.</p>',
    );
  });

  it('are not looked for in code', () => {
    const text = '`:reading[1 V]{point="a.b"}`\n\n    :reading[2 V]{}\n\n```\n:reading[3 V]{}\n```\n';
    expect(inlineReadingsIn(text)).toEqual([]);
  });

  it('have the places at which they stand', () => {
    const text =
      'ä\r\n\r\n- x\r\n\t- 𝄞 :reading[5 ft 3 in]{what="a \'box\'" #id .class under-ambient=19}\r\n';
    const [reading] = inlineReadingsIn(text);
    const at = ({ text: piece, offset }: { readonly text: string; readonly offset: number }) =>
      text.slice(offset, offset + piece.length) === piece;
    expect(reading?.value.text).toBe('5 ft 3 in');
    expect(reading?.attributes.map(({ name, value }) => [name.text, value.text])).toEqual([
      ['what', "a 'box'"],
      ['#id', ''],
      ['.class', ''],
      ['under-ambient', '19'],
    ]);
    expect([
      reading?.value,
      ...(reading?.attributes ?? []).flatMap(({ name, value }) => [name, value]),
    ]).toSatisfy((pieces: { text: string; offset: number }[]) => pieces.every(at));
  });
});
