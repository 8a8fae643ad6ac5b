import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readMap } from '../../src/cli/take-map.js';
import { put, run } from '../cli/support.js';
import { tempFolder } from '../folders.js';
import { AT_MOST, cpuTime } from '../spent.js';
import {
  JSON_TEXTS,
  LOOK_ALIKES,
  NUMBERS,
  PROPERTY_NAMES,
  SPREADSHEET,
  UNSEEN_TEXTS,
  YAML_TEXTS,
} from './corpora.js';
import { notPlain, slowOnes, UNSEEN } from './plain.js';

/** Tables and maps that were made to break what reads them. */

const BOOK = {
  'book.yaml': 'book: wherry\nsubject: { name: Wherry }\n',
  'systems/hull.md':
    '---\nsystem: hull\ntitle: Hull\npoints:\n  humidity: { quantity: relative-humidity, unit: "%RH", series: series/humidity.csv }\n  play: { quantity: length, unit: mm }\n---\n',
};
const FILE = 'series/humidity.csv';

/** The map for a table of a day and a value. */
const PLAIN_MAP =
  'headings: false\ntime: { column: 1, as: YYYY-MM-DD }\nvalues: [{ column: 2, point: hull.humidity, unit: "%RH" }]\n';

interface Taking {
  readonly code: number;
  readonly said: string;
  /** Days and values that are in the book now. */
  readonly rows: readonly string[];
  readonly spent: number;
}

async function take(table: string | Uint8Array, map = PLAIN_MAP): Promise<Taking> {
  const cwd = tempFolder();
  put(cwd, { ...BOOK, 'map.yaml': map });
  writeFileSync(join(cwd, 'table.csv'), table);
  const began = cpuTime();
  const { code, out, err } = await run(['take', 'table.csv', '--map', 'map.yaml'], { cwd });
  const spent = cpuTime() - began;
  const [, ...rows] = existsSync(join(cwd, FILE))
    ? readFileSync(join(cwd, FILE), 'utf8').trim().split('\n')
    : [];
  const said = `${out}${err}`;
  const lines = said.split('\n').filter((line) => line !== '');
  expect(lines.filter((line) => UNSEEN.test(line) || notPlain(`${line}          `) !== null)).toEqual([]);
  expect(lines.length).toBeLessThan(300);
  expect(
    readdirSync(cwd)
      .sort()
      .filter((name) => name !== '.ribband' && name !== 'series'),
  ).toEqual(['book.yaml', 'map.yaml', 'systems', 'table.csv']);
  return { code, said, rows, spent };
}

const ROW = '2026-01-02,5\n';
const TAKEN = ['2026-01-02T00:00,5'];
const LONG = 1_000_000;

describe('a table', () => {
  it.each<readonly [what: string, table: string | Uint8Array, rows: readonly string[], said: RegExp]>([
    ['with a byte order mark', `\ufeff${ROW}`, TAKEN, /1 reading new/],
    [
      'with the line ends of old Macintoshes',
      `${ROW}2026-01-03,6\n`.replaceAll('\n', '\r'),
      [...TAKEN, '2026-01-03T00:00,6'],
      /2 readings new/,
    ],
    [
      'with line ends of all sorts',
      '2026-01-02,5,x\r\n2026-01-03,6,x\n2026-01-04,7,x\r2026-01-05,8,x\n\r2026-01-06,9,x',
      [
        '2026-01-02T00:00,5',
        '2026-01-03T00:00,6',
        '2026-01-04T00:00,7',
        '2026-01-05T00:00,8',
        '2026-01-06T00:00,9',
      ],
      /No row was refused/,
    ],
    [
      'in UTF-16',
      Buffer.from(`\ufeff${ROW}`, 'utf16le'),
      [],
      /^ribband: `table\.csv` is no text in UTF-8 or latin1\. Save it again as CSV in UTF-8\.\n$/,
    ],
    [
      'in UTF-16 of the other order',
      Buffer.from(`\ufeff${ROW}`, 'utf16le').swap16(),
      [],
      /is no text in UTF-8/,
    ],
    ['with a NUL', `2026-01-01,\u00005\n${ROW}`, [], /is no text in UTF-8/],
    [
      'that is a spreadsheet',
      Buffer.from(`PK\u0003\u0004${'\u0001'.repeat(5_000)}`, 'latin1'),
      [],
      /is a file of a spreadsheet program\. Save the sheet as CSV/,
    ],
    [
      'that is an old spreadsheet',
      Buffer.from([0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1, ...new Array<number>(600).fill(1)]),
      [],
      /is a file of a spreadsheet program/,
    ],
    [
      'of bytes that are no UTF-8',
      Buffer.concat([Buffer.from([0xff, 0xfe, 0xfd, 0x2c, 0x0a]), Buffer.from(ROW)]),
      TAKEN,
      /row 1: `���` is no time/,
    ],
    [
      'that is a page',
      `<!doctype html><html><body>x</body></html>\n${ROW}`,
      TAKEN,
      /row 1: `<!doctype html>/,
    ],
    [
      'with a cell of a megabyte',
      `2026-01-01,${'9'.repeat(LONG)}\n${ROW}`,
      TAKEN,
      /row 1: is longer than any row/,
    ],
    [
      'with a million cells in a line',
      `2026-01-01,${'5,'.repeat(LONG / 2)}\n${ROW}`,
      TAKEN,
      /row 1: is longer than any row/,
    ],
    ['with a million empty cells', `${','.repeat(LONG)}\n${ROW}`, TAKEN, /row 1: is longer than any row/],
    ['with a million quotes', `${'"'.repeat(LONG)}\n${ROW}`, TAKEN, /row 1: /],
    [
      'with a quote that is never closed',
      `${ROW}"${'2026-01-03,6\n'.repeat(100_000)}`,
      TAKEN,
      /is longer than any row; a quote before it may not have been closed/,
    ],
    [
      'with a quote that is never closed, and short',
      `${ROW}"2026-01-03,6\n2026-01-04,6\n`,
      TAKEN,
      /quotes do not open and close/,
    ],
    ['of a million line ends', '\n'.repeat(LONG) + ROW, TAKEN, /1 row read/],
    ['of a million blanks', ' '.repeat(LONG), [], /row 1: is longer than any row/],
    ['with digits of other scripts', `２０２６-01-01,５\n2026-01-01,٥\n${ROW}`, TAKEN, /2 values refused/],
    ['with a value that turns the direction', `2026-01-01,\u202e5\n${ROW}`, TAKEN, /`�5` is no number/],
    [
      'with codes for a terminal',
      `2026-01-01,\u001b[2J5\n\u001b]0;x\u0007,5\n${ROW}`,
      TAKEN,
      /`�\[2J5` is no number/,
    ],
    [
      'with numbers past all numbers',
      `2026-01-01,1e999\n2026-01-03,${'9'.repeat(400)}\n${ROW}`,
      TAKEN,
      /2 values refused/,
    ],
    [
      'with days that there are not',
      `2026-02-30,5\n0000-00-00,5\n9999-12-31,5\n-2026-01-01,5\n${ROW}`,
      TAKEN,
      /4 values refused/,
    ],
  ])('%s is taken, or refused in plain words', async (_what, table, rows, said) => {
    const taken = await take(table);
    expect(taken.rows).toEqual(rows);
    expect(taken.said).toMatch(said);
    expect(taken.spent).toBeLessThan(AT_MOST);
  });

  it('of everything that is no number has each cell told of, and the one row taken', async () => {
    const cells = [...SPREADSHEET, ...LOOK_ALIKES, ...UNSEEN_TEXTS, ...PROPERTY_NAMES, ...NUMBERS].filter(
      (cell) => !cell.includes('\0') && !/^\s*$/.test(cell) && !/^\s*[-+]?\d+\s*$/.test(cell),
    );
    const quoted = (cell: string) => `"${cell.replaceAll('"', '""')}"`;
    const taken = await take(cells.map((cell) => `2026-01-01,${quoted(cell)}\n`).join('') + ROW);
    expect(taken.rows).toEqual(TAKEN);
    expect(cells.length).toBeGreaterThan(300);
    expect(taken.said).toContain(`${cells.length} values refused`);
    const asTimes = await take(cells.map((cell) => `${quoted(cell)},5\n`).join('') + ROW);
    expect(asTimes.rows).toEqual(TAKEN);
    expect(asTimes.said).toContain(`${cells.length} values refused: ${cells.length} no time`);
  });

  it('whose columns are called like parts of the program is read by its headings', async () => {
    const map = (name: string) =>
      `time: { column: Day, as: YYYY-MM-DD }\nvalues: [{ column: ${JSON.stringify(name)}, point: hull.humidity, unit: "%RH" }]\nno-value: ["__proto__", "constructor"]\n`;
    for (const name of ['__proto__', 'constructor', 'toString', 'hasOwnProperty']) {
      const taken = await take(
        `Day,${PROPERTY_NAMES.filter((one) => one !== name).join(',')},${name}\n2026-01-02${',1'.repeat(PROPERTY_NAMES.length - 1)},5\n`,
        map(name),
      );
      expect(taken.rows).toEqual(TAKEN);
      const without = await take('Day,Value\n2026-01-02,5\n', map(name));
      expect([without.code, without.rows]).toEqual([1, []]);
      expect(without.said).toContain(`map.yaml:2:20 error unknown-name`);
    }
    expect(Object.prototype).not.toHaveProperty('polluted');
  });

  it('of those that parsers of CSV are tried with is read as they have to be', async () => {
    const folder = dirname(createRequire(import.meta.url).resolve('csv-spectrum/package.json'));
    const files = readdirSync(join(folder, 'csvs'));
    expect(files.length).toBeGreaterThan(10);
    // Of these one has quotes inside of a cell that is not in quotes, which RFC 4180 does not let.
    const outOfOrder: string[] = [];
    for (const file of files) {
      const { code, said } = await take(readFileSync(join(folder, 'csvs', file)));
      expect(code, said).toBe(1);
      if (said.includes('not to be taken apart')) outOfOrder.push(file);
    }
    expect(outOfOrder).toEqual(['location_coordinates.csv']);
  });
});

const laughs = (line: (at: number) => string) => Array.from({ length: 30 }, (_, at) => line(at)).join('\n');

/** Maps made to fill the memory, to nest without end, or to reach into the program. */
const MAPS: readonly string[] = [
  `a0: &a0 [x, x]\n${laughs((at) => `a${at + 1}: &a${at + 1} [*a${at}, *a${at}, *a${at}]`)}\n`,
  `a0: &a0 { x: y }\n${laughs((at) => `a${at + 1}: &a${at + 1} { <<: *a${at}, y: *a${at} }`)}\n`,
  `${PLAIN_MAP}no-value: &x [*x]\n`,
  '['.repeat(30_000),
  '{a: '.repeat(15_000),
  '- '.repeat(30_000),
  `${'a:\n '.repeat(500)}x`,
  '? '.repeat(20_000),
  `${'  '.repeat(20_000)}x: y`,
  Array.from({ length: 9_000 }, (_, at) => `k${at}: 1`).join('\n'),
  'a: '.repeat(10_000),
  `"${'\\'.repeat(60_000)}`,
  "'".repeat(60_001),
  `x: |\n${' y\n'.repeat(20_000)}`,
  '!!js/function "function () { globalThis.polluted = 1 }"\n',
  '!!python/object/apply:os.system ["true"]\n',
  `${PLAIN_MAP}__proto__: { polluted: 1 }\n`,
  `${PLAIN_MAP}constructor: { prototype: { polluted: 1 } }\n`,
  PLAIN_MAP.replace('as: YYYY-MM-DD', 'as: "(a+)+$ YYYY-MM-DD"'),
  PLAIN_MAP.replace('as: YYYY-MM-DD', `as: "${' '.repeat(40)}YYYYMD"`),
  PLAIN_MAP.replace('as: YYYY-MM-DD', 'as: "YYYY\\e[2J\\0-MM-DD"'),
  PLAIN_MAP.replace('column: 2', 'column: 99999999999999999999'),
  PLAIN_MAP.replace('column: 2', 'column: -1'),
  PLAIN_MAP.replace('column: 2', `column: "${'a'.repeat(40_000)}"`),
  PLAIN_MAP.replace('hull.humidity', '__proto__.constructor'),
  PLAIN_MAP.replace('%RH', '__proto__'),
  `${PLAIN_MAP}delimiter: "\\0"\n`,
  `${PLAIN_MAP}delimiter: "\\""\n`,
  `${PLAIN_MAP}delimiter: "\\n"\n`,
  `${PLAIN_MAP}skip-lines: 1e9\n`,
  `${PLAIN_MAP}---\n${PLAIN_MAP}`,
];

describe('a map', () => {
  it('of every suite is refused at its place, with what is wrong and how to mend it, and soon', async () => {
    const texts = [...YAML_TEXTS, ...JSON_TEXTS, ...MAPS];
    expect(texts.length).toBeGreaterThan(750);
    const faults: string[] = [];
    const looked: Promise<void>[] = [];
    const slow = slowOnes(texts, (text) => {
      const source = { path: 'map.yaml', role: 'book', text, hash: '' } as const;
      looked.push(
        readMap(source).then(({ map, problems }) => {
          const said = problems.map(
            ({ message, hint, span }) => [`${message} ${hint ?? ''}`, span.line] as const,
          );
          for (const [words, line] of said) {
            const fault = line >= 1 ? notPlain(words) : `no place: ${words}`;
            if (fault !== null) faults.push(fault);
          }
          if (map === null && said.length === 0) faults.push(`without a word: ${text.slice(0, 60)}`);
          if (said.length > 60) faults.push(`${said.length} told of ${text.slice(0, 60)}`);
        }),
      );
    });
    await Promise.all(looked);
    expect([slow, faults]).toEqual([[], []]);
    expect(Object.prototype).not.toHaveProperty('polluted');
  });

  it.each(MAPS)('%#, handed to `take`, ends it with plain words and nothing written', async (map) => {
    const { code, rows, spent } = await take(ROW, map);
    expect([1, 2]).toContain(code);
    expect(rows).toEqual([]);
    expect(spent).toBeLessThan(2 * AT_MOST);
  });

  it.each([
    [Buffer.from(`\ufeff${PLAIN_MAP}`, 'utf16le'), 'is no text in UTF-8. Save it again'],
    [Buffer.from('a: \u0000\n'), 'is no text in UTF-8. Save it again'],
    [Buffer.alloc(5_000_000, 'x: y\n'), 'is far too large for a map. Save it again'],
    [Buffer.alloc(100_000, 'x: y\n'), 'map.yaml:1:1 error front-matter-too-large'],
  ])('that is none is refused by one line', async (bytes, words) => {
    const cwd = tempFolder();
    put(cwd, { ...BOOK, 'table.csv': ROW });
    writeFileSync(join(cwd, 'map.yaml'), bytes);
    const { code, out, err } = await run(['take', 'table.csv', '--map', 'map.yaml'], { cwd });
    expect([1, 2]).toContain(code);
    expect(out).toBe('');
    expect(err).toContain(words);
  });
});
