import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { tempFolder } from '../folders.js';
import { blocksOf } from './readme.js';
import { put, run } from './support.js';

const SYSTEM = `---
system: hull
title: Hull
points:
  humidity: { quantity: relative-humidity, unit: "%RH", plausible: [0 %RH, 100 %RH], series: series/humidity.csv }
  voltage: { quantity: voltage, unit: V, series: series/voltage.csv }
  play: { quantity: length, unit: mm }
  depth: { quantity: length, unit: m }
---
`;

const BOOK = {
  'book.yaml': `book: wherry
subject: { name: Wherry }
people:
  owner: { name: the owner }
instruments:
  gauge: { name: a gauge }
`,
  'systems/hull.md': SYSTEM,
};

const MAP = `delimiter: ";"
decimal: comma
skip-lines: 1
time: { column: Zeit, as: DD.MM.YYYY HH:mm }
no-value: ["---"]
values:
  - { column: Feuchte, point: hull.humidity, outside: [20 %RH, 99 %RH], stuck: 1 h }
  - { column: Spannung, point: hull.voltage }
`;

const TABLE = `Logger 4711
Zeit;Feuchte [%RH];"Spannung (mV)";Bemerkung
01.03.2026 10:00;61,3;12710;
01.03.2026 10:20;"61,4";12709;"ein; Semikolon"
01.03.2026 10:40;---;12700;
`;

function book(files: Readonly<Record<string, string>>): string {
  const cwd = tempFolder();
  put(cwd, { ...BOOK, ...files });
  return cwd;
}

const text = (cwd: string, path: string) => readFileSync(join(cwd, path), 'utf8');
const take = (cwd: string, ...more: string[]) =>
  run(['take', 'table.csv', '--map', 'map.yaml', ...more], { cwd });

describe('ribband take, into files of readings', () => {
  it('takes any delimiter, decimal mark, form of time and unit of a heading', async () => {
    const cwd = book({ 'map.yaml': MAP, 'table.csv': TABLE.replaceAll('\n', '\r\n') });
    const { code, out, err } = await take(cwd);
    expect(err).toBe('Taking the book in this folder.\n'.slice(0, 0));
    expect(code).toBe(0);
    expect(out).toBe(`3 rows read.
series/humidity.csv (hull.humidity): 2 readings new.
series/voltage.csv (hull.voltage): 3 readings new.
No row was refused.
Wrote series/humidity.csv
Wrote series/voltage.csv
`);
    expect(text(cwd, 'series/humidity.csv')).toBe(
      'time,value (%RH)\n2026-03-01T10:00,61.3\n2026-03-01T10:20,61.4\n',
    );
    expect(text(cwd, 'series/voltage.csv')).toBe(
      'time,value (V)\n2026-03-01T10:00,12.710\n2026-03-01T10:20,12.709\n2026-03-01T10:40,12.700\n',
    );
    expect((await run(['check'], { cwd })).code).toBe(0);
  });

  it('shows on a dry run what it would do, and writes nothing', async () => {
    const cwd = book({ 'map.yaml': MAP, 'table.csv': TABLE });
    const { code, out } = await take(cwd, '--dry-run');
    expect(code).toBe(0);
    expect(out).toContain('series/voltage.csv (hull.voltage): 3 readings new.\n');
    expect(out).toContain('Nothing was written');
    expect(existsSync(join(cwd, 'series'))).toBe(false);
  });

  it('adds nothing the second time, and only what is new of a longer table', async () => {
    const cwd = book({ 'map.yaml': MAP, 'table.csv': TABLE });
    await take(cwd);
    const [before, at] = [text(cwd, 'series/voltage.csv'), statSync(join(cwd, 'series/voltage.csv')).mtimeMs];
    const second = await take(cwd);
    expect(second).toMatchObject({ code: 0, err: '' });
    expect(second.out).toContain('series/voltage.csv (hull.voltage): 0 readings new, 3 there already.\n');
    expect(second.out).toContain('Nothing is new; nothing was written.\n');
    expect(statSync(join(cwd, 'series/voltage.csv')).mtimeMs).toBe(at);
    put(cwd, { 'table.csv': `${TABLE}01.03.2026 09:00;61,0;12650;\n01.03.2026 10:50;61,2;12655;\n` });
    expect((await take(cwd)).out).toContain('(hull.voltage): 2 readings new, 3 there already.\n');
    const [head, ...rows] = before.trimEnd().split('\n');
    expect(text(cwd, 'series/voltage.csv').trimEnd().split('\n')).toEqual([
      head,
      '2026-03-01T09:00,12.650',
      ...rows,
      '2026-03-01T10:50,12.655',
    ]);
  });

  it('refuses each row that it cannot take, with its number, column, value and reason', async () => {
    const rows = [
      '30.02.2026 10:00;61;12710',
      '2026-03-01 11:00;61;12710',
      '01.03.2026 11:00;lots;12711',
      '01.03.2026 11:01;61.5;12712',
      '01.03.2026 11:02;120;12713',
      '01.03.2026 11:03;12;12714',
      '01.03.2026 10:00;61,3;12999',
      '21.04.2026 00:00;61,3;12715',
      '',
      '01.03.2026 12:00;50;12716',
      '01.03.2026 12:30;50,0;12717',
      '01.03.2026 13:00;50;12718',
    ];
    const cwd = book({ 'map.yaml': MAP, 'table.csv': TABLE + rows.join('\n') });
    const { code, out } = await take(cwd);
    expect(code).toBe(1);
    const listed = out.split('\n').filter((line) => line.startsWith('  row'));
    expect(listed).toEqual([
      '  row 6: `30.02.2026 10:00` is no time of the form DD.MM.YYYY HH:mm',
      '  row 7: `2026-03-01 11:00` is no time of the form DD.MM.YYYY HH:mm',
      '  row 8, Feuchte [%RH]: `lots` is no number',
      '  row 9, Feuchte [%RH]: `61.5` has a point, where the map says `decimal: comma`',
      '  row 10, Feuchte [%RH]: `120` is outside 0 %RH to 100 %RH, which alone is plausible',
      '  row 11, Feuchte [%RH]: `12` is outside 20 %RH to 99 %RH, as the map says',
      '  row 12, Spannung (mV): `12.999` contradicts 12.71, which stands for 2026-03-01T10:00 already',
      '  row 13: `21.04.2026 00:00` lies after today',
      '  row 15, Feuchte [%RH]: `50` stands still from 2026-03-01T12:00 to 2026-03-01T13:00',
      '  row 16, Feuchte [%RH]: `50.0` stands still from 2026-03-01T12:00 to 2026-03-01T13:00',
      '  row 17, Feuchte [%RH]: `50` stands still from 2026-03-01T12:00 to 2026-03-01T13:00',
    ]);
    expect(out).toContain('11 values refused: ');
    expect(text(cwd, 'series/voltage.csv').split('\n')).toHaveLength(1 + 3 + 7 + 1);
  });

  it('says once of a column without a unit how the map names it, whatever its cells hold', async () => {
    const table = TABLE.replace('Feuchte [%RH]', 'Feuchte %');
    const map = MAP.replace('column: Feuchte,', 'column: "Feuchte %",');
    const cwd = book({ 'map.yaml': map, 'table.csv': table });
    const { code, out } = await take(cwd);
    expect(code).toBe(1);
    expect(out).toContain('2 values refused: 2 without a unit.\n');
    expect(out.split('\n').filter((line) => line.startsWith('  row'))).toEqual([
      '  rows 3 to 4, Feuchte %: `61,3` has no unit, and neither has its heading; say it in the map: `unit: "%RH"`',
    ]);
    put(cwd, { 'map.yaml': map.replace('point: hull.humidity', 'point: hull.humidity, unit: "%RH"') });
    expect((await take(cwd)).out).toContain('(hull.humidity): 2 readings new.\n');
  });

  it('does not say that there is nothing new of a table of which every row was refused', async () => {
    const table = TABLE.replaceAll('2026', '2027');
    const { code, out } = await take(book({ 'map.yaml': MAP, 'table.csv': table }));
    expect(code).toBe(1);
    expect(out).toContain('Of what was not refused nothing is new; nothing was written.\n');
  });

  it('says of headings that are not UTF-8 which encoding the map can name', async () => {
    const map = MAP.replace('Feuchte', 'Füllung');
    const cwd = book({ 'map.yaml': map });
    writeFileSync(join(cwd, 'table.csv'), Buffer.from(TABLE.replace('Feuchte', 'Füllung'), 'latin1'));
    const { err } = await take(cwd);
    expect(err).toContain('The table has no column `Füllung`.');
    expect(err).toContain('write `encoding: latin1` in the map');
    expect(err).not.toContain('Did you mean');
    put(cwd, { 'map.yaml': `encoding: latin1\n${map}` });
    expect(await take(cwd)).toMatchObject({ code: 0 });
  });

  it('ends with 0 where only rules of the map refused anything, and counts what it does not show', async () => {
    const stuck = Array.from(
      { length: 60 },
      (_, at) => `02.03.2026 10:${String(at).padStart(2, '0')};55;12700`,
    );
    const cwd = book({
      'map.yaml': MAP.replace('stuck: 1 h', 'stuck: 30 min'),
      'table.csv': `${TABLE}${stuck.join('\n')}\n`,
    });
    const { code, out } = await take(cwd);
    expect(code).toBe(0);
    expect(out).toContain('60 values refused: 60 standing still.\n');
    expect(out).toContain(
      '  rows 6 to 25, Feuchte [%RH]: `55` stands still from 2026-03-02T10:00 to 2026-03-02T10:59\n',
    );
    expect(out).toContain('  and 40 more\n');
  });

  it('refuses a value that contradicts one that is there, and keeps that', async () => {
    const cwd = book({ 'map.yaml': MAP, 'table.csv': TABLE });
    await take(cwd);
    const before = text(cwd, 'series/humidity.csv');
    put(cwd, { 'table.csv': TABLE.replace('61,3', '71,3') });
    const { code, out } = await take(cwd);
    expect(code).toBe(1);
    expect(out).toContain(
      'row 3, Feuchte [%RH]: `71.3` contradicts 61.3, which stands for 2026-03-01T10:00 already',
    );
    expect(text(cwd, 'series/humidity.csv')).toBe(before);
  });

  it('goes on in the unit and with the line ends of the file that is there', async () => {
    const there = 'time,value (mV)\r\n2026-03-01T10:00:00,12710\r\n';
    const cwd = book({ 'map.yaml': MAP, 'table.csv': TABLE, 'series/voltage.csv': there });
    await take(cwd);
    expect(text(cwd, 'series/voltage.csv')).toBe(
      `${there}2026-03-01T10:20,12709\r\n2026-03-01T10:40,12700\r\n`,
    );
  });

  it('touches no file with rows that it cannot read', async () => {
    const there = 'time,value (V)\n2026-03-01T10:00;12.71\n';
    const cwd = book({ 'map.yaml': MAP, 'table.csv': TABLE, 'series/voltage.csv': there });
    const { code, err } = await take(cwd);
    expect(code).toBe(2);
    expect(err).toContain('series/voltage.csv has rows that cannot be read');
    expect([text(cwd, 'series/voltage.csv'), existsSync(join(cwd, 'series/humidity.csv'))]).toEqual([
      there,
      false,
    ]);
  });

  it('reads tables of an older encoding, with tabulators, without headings, and with two columns for the time', async () => {
    const map = `delimiter: tab
encoding: latin1
headings: false
time: { column: [1, 2], as: M/D/YY h:mm A }
values:
  - { column: 3, point: hull.humidity, unit: "%RH" }
  - { column: 4, point: hull.voltage }
`;
    const cwd = book({ 'map.yaml': map });
    const table =
      '3/1/26\t12:05 AM\t61\t12.7 V\tfür\n3/1/26\t12:05 PM\t62\t12700 mV\n3/1/26\t13:05 PM\t62\t3 A\n';
    put(cwd, {});
    writeFileSync(join(cwd, 'table.csv'), Buffer.from(table, 'latin1'));
    const { code, out } = await take(cwd);
    expect(code).toBe(1);
    expect(out).toContain('row 3: `3/1/26 13:05 PM` is no time');
    expect(text(cwd, 'series/humidity.csv')).toBe(
      'time,value (%RH)\n2026-03-01T00:05,61\n2026-03-01T12:05,62\n',
    );
    expect(text(cwd, 'series/voltage.csv')).toBe(
      'time,value (V)\n2026-03-01T00:05,12.7\n2026-03-01T12:05,12.700\n',
    );
  });

  it('comes to the same file in whatever pieces and order a table is taken', async () => {
    const rows = Array.from(
      { length: 24 },
      (_, hour) => `01.03.2026 ${String(hour).padStart(2, '0')}:00;${40 + hour};`,
    );
    const head = TABLE.split('\n').slice(0, 2).join('\n');
    const whole = book({ 'map.yaml': MAP, 'table.csv': `${head}\n${rows.join('\n')}\n` });
    await take(whole);
    const due = text(whole, 'series/humidity.csv');
    await fc.assert(
      fc.asyncProperty(
        fc.shuffledSubarray(rows, { minLength: 24 }),
        fc.nat(24),
        fc.nat(24),
        async (mixed, a, b) => {
          const cwd = book({ 'map.yaml': MAP });
          for (const part of [mixed.slice(0, Math.max(a, 1)), mixed.slice(Math.min(a, b)), mixed]) {
            put(cwd, { 'table.csv': `${head}\n${part.join('\n')}\n` });
            await take(cwd);
          }
          expect(text(cwd, 'series/humidity.csv')).toBe(due);
        },
      ),
      { numRuns: 8 },
    );
  });
});

const ENTRIES = `time: { column: Day, as: D MMM YYYY }
values:
  - column: Play
    point: hull.play
    with: gauge
    by: owner
    under: { ambient: { column: Ambient, unit: °C } }
  - { column: Depth, point: hull.depth, unit: ft }
entries: { title: From the notebook, prose: Taken in from the old notebook. }
`;

/** The system without loggers. */
const BY_HAND = { 'systems/hull.md': SYSTEM.replaceAll(/, series: [^ ]+/g, '') };

const NOTEBOOK = `Day,Play (mm),Ambient,Depth
3 Mar 2026,1.4,12,
3 Mar 2026,1.6,22,6.5
5 March 2026,1.5,,
`;

describe('ribband take, into entries', () => {
  it('writes one entry a day, of which the book has no complaint', async () => {
    const cwd = book({ ...BY_HAND, 'map.yaml': ENTRIES, 'table.csv': NOTEBOOK });
    const { code, out } = await take(cwd);
    expect(out).toContain('2 entries, 2026-03-03 to 2026-03-05: 4 readings new.\n');
    expect(code).toBe(0);
    expect(readdirSync(join(cwd, 'entries/2026'))).toEqual([
      '2026-03-03-from-the-notebook.md',
      '2026-03-05-from-the-notebook.md',
    ]);
    expect(text(cwd, 'entries/2026/2026-03-03-from-the-notebook.md')).toBe(`---
date: 2026-03-03
title: From the notebook
systems: [hull]
measurements:
  - { point: hull.play, value: 1.4 mm, with: gauge, by: owner, under: { ambient: 12 °C } }
  - { point: hull.play, value: 1.6 mm, with: gauge, by: owner, under: { ambient: 22 °C } }
  - hull.depth: 1.98 m
---

Taken in from the old notebook.
`);
    expect((await run(['check'], { cwd })).code).toBe(0);
  });

  it('adds nothing the second time, and what is new to a day in an entry of its own', async () => {
    const cwd = book({ ...BY_HAND, 'map.yaml': ENTRIES, 'table.csv': NOTEBOOK });
    await take(cwd);
    const first = text(cwd, 'entries/2026/2026-03-05-from-the-notebook.md');
    const again = await take(cwd);
    expect(again.out).toContain('0 entries: 0 readings new, 4 there already.\n');
    expect(readdirSync(join(cwd, 'entries/2026'))).toHaveLength(2);
    put(cwd, { 'table.csv': NOTEBOOK.replace('1.5,,', '1.5,,7') });
    await take(cwd);
    expect(text(cwd, 'entries/2026/2026-03-05-from-the-notebook.md')).toBe(first);
    expect(text(cwd, 'entries/2026/2026-03-05-from-the-notebook-2.md')).toContain('- hull.depth: 2.1 m');
    expect((await run(['check'], { cwd })).code).toBe(0);
  });

  it('refuses what contradicts an entry, one written by hand too', async () => {
    const hand =
      '---\ndate: 2026-03-05\ntitle: By hand\nsystems: [hull]\nmeasurements:\n  - hull.play: 2 mm\n---\n';
    const cwd = book({
      ...BY_HAND,
      'map.yaml': ENTRIES,
      'table.csv': NOTEBOOK,
      'entries/2026/2026-03-05-from-the-notebook.md': hand,
    });
    const { code, out } = await take(cwd);
    expect(code).toBe(1);
    expect(out).toContain('row 4, Play (mm): `1.5` contradicts another value of hull.play on 2026-03-05');
    expect(text(cwd, 'entries/2026/2026-03-05-from-the-notebook.md')).toBe(hand);
  });
});

describe('ribband take, used wrongly', () => {
  it.each([
    [['take'], 'Name the table'],
    [['take', 'table.csv'], '`--map` is needed'],
    [['take', 'nothing.csv', '--map', 'map.yaml'], 'There is no file `nothing.csv`'],
    [['take', 'table.csv', '--map', 'nothing.yaml'], 'There is no file `nothing.yaml`'],
    [['take', 'table.csv', '--map', 'table.csv'], 'is no YAML file'],
    [['take', 'empty.csv', '--map', 'map.yaml'], '`empty.csv` is empty'],
  ])('%j is told of', async (argv, words) => {
    const cwd = book({ 'map.yaml': MAP, 'table.csv': TABLE, 'empty.csv': '' });
    const { code, err, out } = await run(argv, { cwd });
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain(words);
  });

  it.each([
    ['column: Feuchte', 'column: Feuchtte', 'unknown-name', 'Did you mean'],
    ['hull.humidity', 'hull.humidty', 'unknown-point', 'hull.humidity'],
    ['hull.voltage', 'hull.depth, to: series, unit: ft', 'missing-field', 'series: series/depth.csv'],
    ['hull.voltage', 'hull.depth, unit: m', 'missing-field', '`series: series/depth.csv`. For entries, add'],
    ['hull.voltage', 'hull.humidity', 'duplicate-id', 'hull.humidity'],
    ['column: Spannung', 'column: Spannung, unit: A', 'wrong-kind', 'voltage'],
    ['DD.MM.YYYY', 'DD.MM.', 'bad-form', 'says nothing of the year'],
    ['HH:mm', 'hh:mm', 'bad-form', 'am and pm'],
    ['stuck: 1 h', 'stuck: 1 m', 'wrong-kind', ''],
    ['outside: [20 %RH', 'outside: [20', 'no-unit', ''],
    ['decimal: comma', 'decimals: comma', 'unknown-key', 'decimal'],
    ['delimiter: ";"', 'delimiter: ","', 'unknown-name', 'delimiter'],
    ['point: hull.voltage', 'point: hull.voltage, to: entries', 'missing-field', 'entries'],
    ['point: hull.voltage', 'point: hull.voltage, with: gouge', 'unknown-instrument', 'gauge'],
  ])('a map with %j made %j has it told of at its place: %s', async (from, to, code, words) => {
    const cwd = book({ 'map.yaml': MAP.replace(from, to), 'table.csv': TABLE });
    const ran = await take(cwd);
    expect(ran.code).toBe(1);
    expect(ran.err).toMatch(new RegExp(`^map\\.yaml:\\d+:\\d+ error ${code}`, 'm'));
    expect(ran.err).toContain(words);
    expect(existsSync(join(cwd, 'series'))).toBe(false);
  });

  it('a table with quotes that never close has its rows told of', async () => {
    const cwd = book({ 'map.yaml': MAP, 'table.csv': `${TABLE}01.03.2026 12:00;"61,0;12650;\n` });
    const { code, out } = await take(cwd);
    expect(code).toBe(1);
    expect(out).toContain('quotes');
    expect(text(cwd, 'series/voltage.csv').split('\n')).toHaveLength(5);
  });
});

it('what the README shows of it works', async () => {
  const [system, map] = blocksOf('The files').filter(
    ({ language, text: block }) => language === 'yaml' && block.startsWith('#'),
  );
  const point = system?.text.split('\n')[1] ?? '';
  const cwd = tempFolder();
  put(cwd, {
    ...BOOK,
    'systems/hull.md': `---\nsystem: hull\ntitle: Hull\npoints:\n  ${point}\n---\n`,
    'logger-map.yaml': map?.text ?? '',
    'winter.csv': 'Logger\nwinter\nTime;Humidity [%RH]\n01.12.2025 10:00;61,3\n',
  });
  const { code, err } = await run(['take', 'winter.csv', '--map', 'logger-map.yaml'], { cwd });
  expect([code, err]).toEqual([0, '']);
  expect(text(cwd, 'series/saloon-humidity.csv')).toBe('time,value (%RH)\n2025-12-01T10:00,61.3\n');
  expect((await run(['check'], { cwd })).code).toBe(0);
});
