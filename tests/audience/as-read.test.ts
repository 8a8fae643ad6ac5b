import fc from 'fast-check';
import type { Nodes } from 'mdast';
import { fromMarkdown } from 'mdast-util-from-markdown';
import { describe, expect, it } from 'vitest';
import { redactBook } from '../../src/audience/redact.js';
import { exactly, scrubOf, withoutMoney } from '../../src/audience/words.js';
import { NO_MEMORY } from '../../src/check/check.js';
import { readFolder } from '../../src/read/folder.js';
import { BOOK, book, put, TODAY } from '../cli/support.js';
import { AT_MOST, cpuTime } from '../spent.js';

/** A hidden name is found however its letters are written: what counts is what a reader would read. */

const NAMES = [
  'Bas Oldring',
  "Ann O'Neil",
  'Hollow Quay Yard',
  'José Ferñández',
  'Griffith & Sons',
  'SN-40771',
];

/** Letters and numbers that a reader of Markdown sees, by a parser that is not ours. */
function seenIn(markdown: string): string {
  const texts: string[] = [];
  const walk = (node: Nodes) => {
    if ('value' in node && node.type !== 'html') texts.push(node.value);
    if ('children' in node) for (const child of node.children) walk(child);
  };
  walk(fromMarkdown(markdown));
  return plain(texts.join(''));
}

function plain(text: string): string {
  return text
    .normalize('NFKC')
    .replaceAll(/[^\p{L}\p{N}]|\p{Default_Ignorable_Code_Point}/gu, '')
    .toLowerCase();
}

const wide = (char: string) =>
  /[!-~]/.test(char) ? String.fromCodePoint((char.codePointAt(0) ?? 0) + 0xfee0) : char;
const letter = fc.constantFrom<(char: string) => string>(
  (char) => char,
  (char) => char,
  (char) => `&#${char.codePointAt(0)};`,
  (char) => `&#x${(char.codePointAt(0) ?? 0).toString(16)};`,
  (char) => `&#X${(char.codePointAt(0) ?? 0).toString(16).toUpperCase()};`,
  (char) => (/[\p{L}\p{N}]/u.test(char) ? wide(char) : char),
  (char) => char.normalize('NFD'),
  (char) =>
    [...char.normalize('NFD')]
      .map((part) => (/\p{M}/u.test(part) ? `&#${part.codePointAt(0)};` : part))
      .join(''),
);
const unseen = fc.constantFrom(
  ...['', '', '', '\u00ad', '\u200b', '\u200c', '\u200d', '\u2060', '\ufeff', '\u034f', '\u202a', '\ufe0e'],
  ...['&shy;', '&#173;', '&ZeroWidthSpace;', '&zwj;', '&#x200B;', '<wbr>', '<!-- -->'],
);
const blank = fc.constantFrom(
  ' ',
  '  ',
  '\n',
  '&nbsp;',
  '&#32;',
  '\u00a0',
  '\u2009',
  '-',
  '_',
  ' \u200b',
  '&emsp;',
);

/** A name with each of its letters written in some way, and things not seen between them. */
const written = fc.constantFrom(...NAMES).chain((name) =>
  fc
    .array(fc.tuple(letter, unseen, blank), { minLength: name.length, maxLength: name.length })
    .map((ways) => ({
      name,
      text: [...name]
        .map((char, at) => {
          const [write, between, space] = ways[at] ?? [(one: string) => one, '', ' '];
          const last = at === name.length - 1;
          return char === ' ' ? space : `${write(char)}${last ? '' : between}`;
        })
        .join(''),
    })),
);

const scrub = scrubOf(NAMES.map((text) => ({ text, says: 'someone' })));

describe('a hidden name', () => {
  it('is taken out however it is written, and nothing around it', () => {
    fc.assert(
      fc.property(written, ({ name, text }) => {
        const said = scrub(`Came with ${text}, who looked at the 27&nbsp;½ in pump.`);
        expect(said).toBe('Came with someone, who looked at the 27&nbsp;½ in pump.');
        expect(seenIn(said)).not.toContain(plain(name));
      }),
      { numRuns: 3000 },
    );
  });

  it('is found by the parser of the test as well, before it is taken out', () => {
    fc.assert(
      fc.property(written, ({ name, text }) => {
        // `<!-- -->` at the beginning of a line begins HTML of its own.
        expect(seenIn(`x ${text.replaceAll('\n', ' ')}`)).toContain(plain(name));
      }),
      { numRuns: 300 },
    );
  });

  it('is found beside signs that are not seen, and in marks of Markdown', () => {
    for (const [text, said] of [
      ['by\u200bBas Oldring\u3164here', 'by\u200bsomeone\u3164here'],
      ['**B**as Oldring', '**someone'],
      ['B**as** Old*ring*', 'Someone*'],
      ['Old-\nring, Bas Old-\nring', 'Old-\nring, someone'],
      ["Bas\\_Oldring and O\\'Neil, Ann O&apos;Neil", "Someone and O\\'Neil, someone"],
      ['Basil Oldringer', 'Basil Oldringer'],
    ] as const)
      expect(scrub(text)).toBe(said);
  });

  it('leaves a text without it as it is, letter by letter', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'binary' }),
        fc.constantFrom('&amp;', '&#66;', '&nope;', '½', 'ﬁ', '&#0;'),
        (text, odd) => {
          const whole = `${text}${odd}${text}`.normalize('NFC');
          expect(scrub(whole)).toBe(whole);
        },
      ),
    );
  });

  it('is looked for in no more than a moment', () => {
    for (const part of ['*', '<b', '-\n', '\u00ad', '[', '&#66;', 'B*', 'Bas _'])
      for (const text of [part.repeat(20_000), `B${part.repeat(20_000)}`]) {
        const begun = cpuTime();
        scrub(text);
        expect(cpuTime() - begun, JSON.stringify(part)).toBeLessThan(AT_MOST);
      }
  });
});

describe('an amount of money, and a name of the record', () => {
  it('are taken out however they are written', () => {
    expect(withoutMoney('It was 1&nbsp;480.00&#32;&euro;, or &#36;20, or 14\u200b EUR.')).toBe(
      'It was an amount, or an amount, or an amount.',
    );
    expect(withoutMoney('5&#48; kg &amp; 3 V')).toBe('5&#48; kg &amp; 3 V');
    expect(exactly(['old-tank'], 'something')('The &#111;ld-tank, and the old-tank-lid')).toBe(
      'The something, and the old-tank-lid',
    );
  });
});

describe('the copy of a book', () => {
  it('has no name that its prose or its fields write by other letters', async () => {
    const cwd = book();
    const people = 'owner: { name: the owner }';
    put(cwd, {
      'book.yaml': `${(BOOK['book.yaml'] ?? '').replace(people, `${people}\n  bas: { name: Bas Oldring }`)}audiences:\n  other: { hides: [people] }\n`,
      'entries/2026/2026-04-19-written.md': `---
date: 2026-04-19
title: With B\u00adas Old\u200bring
systems: [engine]
opens:
  - { item: ask, what: "Ask &#66;as Ｏldring", system: engine }
---
&#66;as was there, and &#x4f;ldring&#8203; came. **B**as Oldring looked at [the pump](x "Bas&nbsp;Oldring").
`,
    });
    const made = await redactBook(readFolder(cwd), 'other', TODAY, NO_MEMORY);
    if (!made.ok) throw new Error(`${made.file}: ${made.why}`);
    for (const { path, text } of made.redacted.folder.files)
      expect(plain(seenIn(text.replaceAll('---', '')) + path + text), path).not.toMatch(/oldring/);
    const entry = made.redacted.folder.files.find(({ text }) => text.includes('2026-04-19'))?.text;
    expect(entry).toContain('what: Ask someone');
    expect(entry).toContain('Someone was there, and someone');
  });
});
