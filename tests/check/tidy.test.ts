import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FIELDS } from '../../src/check/fields.js';
import { inOrderOfFields, respell } from '../../src/check/tidy.js';
import { parseQuantity } from '../../src/quantity/index.js';
import { quickFrontMatter } from '../../src/read/front-matter.js';

const order = (text: string) => inOrderOfFields(text, FIELDS.entry);

describe('the order of fields', () => {
  it('is made with comments, blank lines and line ends as they are', () => {
    const lines = [
      '---',
      '# yaml-language-server: $schema=../../.schemas/entry.schema.json',
      'title: Look   # what it is',
      '# the day, by the tide table',
      '# and the watch',
      'date: 2026-03-01',
      '',
      'closes:',
      '  - a-one  # done',
      'place: |',
      '  the yard,',
      '',
      '  shed 2',
      '',
      "'systems': [ house-dc ]",
      '---',
      'Prose: date',
      '',
    ];
    const wished = [
      ...lines.slice(0, 2),
      ...lines.slice(3, 7),
      lines[2],
      lines[14],
      ...lines.slice(9, 14),
      ...lines.slice(7, 9),
      ...lines.slice(15),
    ];
    for (const end of ['\n', '\r\n']) expect(order(lines.join(end))).toBe(wished.join(end));
  });

  it('is left where it is right, or where the fields are not one a line', () => {
    expect(order('---\ndate: 2026-03-01\ntitle: Look\n---\n')).toBeNull();
    expect(order('---\n{ title: Look, date: 2026-03-01 }\n---\n')).toBeNull();
    expect(order('---\ntitle: &a Look\ndate: 2026-03-01\n---\n')).toBeNull();
    expect(order('---\n? title\n: Look\ndate: 2026-03-01\n---\n')).toBeNull();
    expect(order('no front matter')).toBeNull();
  });

  it('takes no line of a text for a field', () => {
    const text = '---\ntitle: "Look\n\ndate: 1"\ndate: 2026-03-01\n---\n';
    expect(order(text)).toBeNull();
  });

  it('changes nothing that is said, keeps every line, and is made once', () => {
    const field = fc.constantFrom(
      'date: 2026-03-01',
      'title: "a: b"',
      'systems: [a]  # main',
      'place: >\n  here\n  # no comment\n',
      'hours:\n  - { by: owner, spent: 1 h }\n  # - { by: owner, spent: 2 h }',
      '# remark\nprivate: [cost]',
      'closes:\n- a\n- b',
      'done: []\n\n',
    );
    fc.assert(
      fc.property(fc.uniqueArray(field, { minLength: 1, maxLength: 8 }), fc.boolean(), (fields, crlf) => {
        const plain = `---\n# above\n\n${fields.join('\n')}\n---\nprose\n`;
        const text = crlf ? plain.replaceAll('\n', '\r\n') : plain;
        const ordered = order(text) ?? text;
        expect(quickFrontMatter(ordered)?.data).toEqual(quickFrontMatter(text)?.data);
        expect(ordered.split('\n').sort()).toEqual(text.split('\n').sort());
        expect(order(ordered)).toBeNull();
      }),
      { numRuns: 300 },
    );
  });
});

describe('the spelling of units', () => {
  const spelt = (text: string) => {
    const parsed = parseQuantity(text);
    const found = parsed.ok ? respell(parsed.quantity) : null;
    return found === null
      ? text
      : text.slice(0, found.offset) + found.unit + text.slice(found.offset + found.length);
  };

  it.each([
    ['12.7 volts', '12.7 V'],
    ['318 ± 6 amp hours', '318 ± 6 Ah'],
    ['27 1/2 inches', '27 1/2 in'],
    ['0.5 \u2126', '0.5 Ω'],
    ['12.7 V', '12.7 V'],
    ['18 %', '18 %'],
    ['5 feet 3 inches', '5 feet 3 inches'],
    ['2/0 AWG', '2/0 AWG'],
    ['(2.1 ± 0.1) metres', '(2.1 ± 0.1) m'],
    ['3.5kg', '3.5kg'],
  ])('%s becomes %s', (text, wished) => {
    expect(spelt(text)).toBe(wished);
    expect(spelt(wished)).toBe(wished);
  });
});
