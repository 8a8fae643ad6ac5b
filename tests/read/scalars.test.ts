import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stringify } from 'yaml';
import { scalarAt, scalarsIn, yamlOf } from '../../src/read/scalars.js';
import { thoroughMarkdown, thoroughYaml } from '../../src/read/thorough.js';

/** From places to paths, held against the way back. */

const LOG = join(import.meta.dirname, '../../log');

/** Every scalar lies where `locate` says that its path lies. */
function goesBothWays(text: string, isYaml: boolean): number {
  const { locate } = isYaml ? thoroughYaml(text) : thoroughMarkdown(text);
  const scalars = scalarsIn(text, isYaml);
  for (const { path, part, offset, length } of scalars)
    expect(locate(path, part)).toEqual({ offset, length });
  return scalars.length;
}

const NAME = fc.stringMatching(/^[a-z][a-z0-9-]{0,6}$/);
const LEAF = fc.oneof(
  fc.stringMatching(/^[ -~]{1,12}$/),
  fc.integer(),
  fc.boolean(),
  fc.constantFrom('318 ± 6 Ah', "it's", 'a "b"', 'x: y', '#', '2026-04-18', '𝟚'),
);
const TREE = fc.letrec<{ tree: unknown }>((tie) => ({
  tree: fc.oneof(
    { depthSize: 'small', withCrossShrink: true },
    LEAF,
    fc.array(tie('tree'), { minLength: 1, maxLength: 4 }),
    fc.dictionary(NAME, tie('tree'), { minKeys: 1, maxKeys: 4 }),
  ),
})).tree;

describe('the keys and values of a text', () => {
  it('lie in the demo book where their paths do', () => {
    const files = (readdirSync(LOG, { recursive: true }) as string[]).filter((file) =>
      /^(?:systems|entries|plans)\/.*\.(?:md|yaml)$|^book\.yaml$/.test(file),
    );
    const count = files.map((file) =>
      goesBothWays(readFileSync(join(LOG, file), 'utf8'), file.endsWith('.yaml')),
    );
    expect(count.length).toBeGreaterThan(50);
    expect(Math.min(...count)).toBeGreaterThan(5);
  });

  it('lie where their paths do, in block and in flow style', () => {
    fc.assert(
      fc.property(
        fc.dictionary(NAME, TREE, { minKeys: 1 }),
        fc.boolean(),
        fc.boolean(),
        (data, flow, crlf) => {
          const yaml = stringify(data, {
            collectionStyle: flow ? 'flow' : 'any',
            lineWidth: 0,
            blockQuote: false,
          });
          const text = `---\n${yaml}---\nProse\n`;
          expect(goesBothWays(crlf ? text.replaceAll('\n', '\r\n') : text, false)).toBeGreaterThan(0);
        },
      ),
      { numRuns: 200 },
    );
  });

  it('say what stands there: numbers as written, quotes left out', () => {
    const text = '---\na: 007\n"b": \'3.10\'\nc: [true, "x\\ty"]\nd: |\n  prose\n---\n';
    expect(
      scalarsIn(text, false).map(({ text: said, quoted, verbatim }) => [said, quoted, verbatim]),
    ).toEqual([
      ['a', false, true],
      ['007', false, true],
      ['b', true, true],
      ['3.10', true, true],
      ['c', false, true],
      ['true', false, true],
      ['x\ty', true, false],
      ['d', false, true],
    ]);
  });

  it('are found by a place in them, and at their very end', () => {
    const text = '---\nkey: value\nk: v\n---\n';
    const at = (offset: number) => scalarAt(scalarsIn(text, false), offset)?.text ?? null;
    expect([at(3), at(4), at(7), at(8), at(9), at(14), at(15), at(19), at(24)]).toEqual([
      null,
      'key',
      'key',
      null,
      'value',
      'value',
      'k',
      'v',
      null,
    ]);
  });

  it('are told of as far as a text can be made out', () => {
    const said = (text: string) => scalarsIn(text, false).map((one) => one.text);
    expect(said('---\na: { b: c, d: \ne: f')).toEqual(expect.arrayContaining(['a', 'b', 'c']));
    expect(said('no front matter')).toEqual([]);
    expect(said('---\n---\n')).toEqual([]);
    expect(said(`---\n${'a: b\n'.repeat(20_000)}---\n`)).toEqual([]);
    fc.assert(
      fc.property(
        fc.string({
          unit: fc.constantFrom('a', ':', ' ', '\n', '-', '[', '{', '"', '&', '*', '!', '?', '|', '\t'),
        }),
        (yaml) => {
          for (const { offset, length } of scalarsIn(`---\n${yaml}`, false))
            expect(offset + length).toBeLessThanOrEqual(yaml.length + 4);
        },
      ),
      { numRuns: 500 },
    );
  });

  it('lie between the lines of hyphens, whatever the line ends', () => {
    const inside = (text: string) => {
      const { offset, length } = yamlOf(text, false) ?? { offset: 0, length: 0 };
      return text.slice(offset, offset + length);
    };
    expect(inside('---\na: b\n---\nc: d\n---\n')).toBe('a: b\n');
    expect(inside('---\r\na: b\r\n---  \r\nc')).toBe('a: b\r\n');
    expect(inside('---\na: b\n----\n')).toBe('a: b\n----\n');
    expect(inside('text')).toBe('');
    expect(yamlOf('a: b', true)).toEqual({ offset: 0, length: 4 });
  });
});
