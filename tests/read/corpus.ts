import fc from 'fast-check';
import { stringify } from 'yaml';

/** Texts of front matter made for the tests: what somebody may write, and what nobody should. */

/** Plain texts of one line that YAML 1.1, YAML 1.2 and people read in different ways. */
export const TRICKY: readonly string[] = [
  ...['no', 'No', 'NO', 'yes', 'on', 'off', 'y', 'n', 'true', 'True', 'TRUE', 'false', 'False', 'tRUE'],
  ...['~', 'null', 'Null', 'NULL', 'nULL', '.nan', '.NaN', '.NAN', '.inf', '-.inf', '+.Inf', 'nan', 'inf'],
  ...['010', '-010', '0o17', '0O17', '0x1F', '0X1f', '0b11', '08', '00', '007', '1_000', '0x_1', '0o8'],
  ...['12:30', '1:2:3', '12:30:45', '-1:30', '190:20:30', '0:0'],
  ...['2024-13-45', '2026-04-18', '2026-04-18T10:00:00Z', '2026-04-18 10:00', '2001-1-1', '20260418'],
  ...['1e3', '12e03', '1E-3', '1.5e+3', '.5', '5.', '-.5', '+1', '-0', '+0', '0.0', '1.', '.', '..', '3.10'],
  ...['1,250', '12 345', '318 ± 6 Ah', '12.71 V', '27 1/2 in', '-4 °C', '−4 °C', '9007199254740993', '1e400'],
  ...[
    '=',
    '<<',
    '<',
    '>x',
    '-x',
    '- x',
    '?x',
    ':x',
    'x:',
    'x:y',
    'x #y',
    'x#y',
    "x'y",
    'x"y',
    '@x',
    '`x`',
    '%x',
  ],
  ...[
    '!x',
    '!!str 5',
    '!!int 5',
    '!!float 5',
    '!!bool yes',
    '!!null ~',
    '&a x',
    '*a',
    '|',
    '>',
    '|-',
    '[',
    ']',
  ],
  ...['{', '}', ',', '[]', '{}', '[a, b]', '{a: b}', '{a, b}', '[a: b]', '"a\\u00b5"', "'it''s'", '"\\x41"'],
  ...[
    '"',
    "'",
    '"a',
    "'a",
    '""',
    "''",
    '"a" b',
    '---',
    '...',
    '\ufeff',
    '\u0085',
    '\u2028',
    '\u00a0x',
    '\t',
    '',
  ],
];

const scalar = fc.oneof(
  { weight: 4, arbitrary: fc.constantFrom(...TRICKY) },
  { weight: 2, arbitrary: fc.string({ maxLength: 24 }) },
  { weight: 1, arbitrary: fc.string({ unit: 'grapheme', maxLength: 12 }) },
  { weight: 2, arbitrary: fc.integer() },
  { weight: 2, arbitrary: fc.double({ noDefaultInfinity: true, noNaN: true }) },
  { weight: 1, arbitrary: fc.boolean() },
  { weight: 1, arbitrary: fc.constant(null) },
);

const key = fc.oneof(
  { weight: 6, arbitrary: fc.constantFrom('date', 'title', 'point', 'house-dc.capacity', 'by', 'what', 'a') },
  {
    weight: 1,
    arbitrary: fc.constantFrom('__proto__', 'constructor', 'toString', '<<', '=', 'no', '1', 'null'),
  },
  { weight: 1, arbitrary: fc.string({ minLength: 1, maxLength: 8 }) },
);

const { value } = fc.letrec((tie) => ({
  value: fc.oneof({ maxDepth: 4, withCrossShrink: true }, scalar, tie('list'), tie('group')),
  list: fc.array(tie('value'), { maxLength: 4 }),
  group: fc.dictionary(key, tie('value'), { maxKeys: 4 }),
}));

/** Well-formed documents: data of any shape, written by a YAML writer in several styles. */
export const writtenDocument: fc.Arbitrary<string> = fc
  .tuple(
    fc.dictionary(key, value, { minKeys: 1, maxKeys: 6 }),
    fc.record({
      version: fc.constant('1.2' as const),
      indent: fc.integer({ min: 1, max: 6 }),
      lineWidth: fc.constantFrom(0, 20, 80),
      collectionStyle: fc.constantFrom('any' as const, 'block' as const, 'flow' as const),
      defaultStringType: fc.constantFrom('PLAIN' as const, 'QUOTE_DOUBLE' as const, 'QUOTE_SINGLE' as const),
    }),
    fc.boolean(),
  )
  .map(([data, options, windows]) => {
    const text = stringify(data, { ...options, aliasDuplicateObjects: false });
    return windows ? text.replaceAll('\n', '\r\n') : text;
  });

/** Documents typed by hand: any plain text behind any key, alone, in braces or in brackets. */
export const typedDocument: fc.Arbitrary<string> = fc
  .array(
    fc.tuple(
      key,
      fc.oneof(fc.constantFrom(...TRICKY), fc.string({ maxLength: 12 })),
      fc.constantFrom('plain', 'braces', 'brackets', 'item', 'block', 'folded', 'below', 'comment'),
    ),
    { minLength: 1, maxLength: 4 },
  )
  .map((lines) => `${lines.map(([name, text, style]) => typed(name, text, style)).join('\n')}\n`);

function typed(name: string, text: string, style: string): string {
  switch (style) {
    case 'braces':
      return `${name}: { x: ${text}, y: 2 }`;
    case 'brackets':
      return `${name}: [${text}, 2]`;
    case 'item':
      return `${name}:\n  - ${text}\n  - 2`;
    case 'block':
      return `${name}: |\n  ${text}\n  ---\n  more`;
    case 'folded':
      return `${name}: >-\n  ${text}\n\n  more`;
    case 'below':
      return `${name}:\n  ${text}`;
    case 'comment':
      return `${name}: ${text} # a remark`;
    default:
      return `${name}: ${text}`;
  }
}
