import { join, relative } from 'node:path';
import { parse } from 'csv-parse/sync';
import stringWidth from 'string-width';
import { describe, expect, it } from 'vitest';
import { tempFolder } from '../folders.js';
import { BOOK, BROKEN, book, put, run } from './support.js';

/** `ribband find` as somebody at a terminal, an editor and a spreadsheet get it. */

const find = async (cwd: string, ...words: string[]) => run(['find', ...words], { cwd });

/** The line of a file on which a text first stands. */
function lineOf(path: string, text: string): number {
  const file = BOOK[path] as string;
  return file.slice(0, file.indexOf(text)).split('\n').length;
}

const LOOKED = 'entries/2026/2026-03-01-looked.md';

describe('what is found', () => {
  it('comes with the file and the line, so that an editor can open it', async () => {
    const { code, out, err } = await find(book(), 'bank at rest');
    expect(code).toBe(0);
    expect(out).toBe(
      `2026-03-01  12.71 ± 0.05 V  Bank at rest (House batteries)\n  ${LOOKED}:${lineOf(LOOKED, '{ point: house-dc')}  clamp meter; Looked\n`,
    );
    expect(err).toBe('1 reading.\n');
  });

  it('is found by limits as by words, in any unit of the kind', async () => {
    const cwd = book();
    for (const words of [
      ['--below', '70 cm', '--quantity', 'length'],
      ['below', '70', 'cm'],
      ['between 69 and 70 cm'],
      ['--between', '27 in and 28 in'],
      ['box', '--since', '2026', '--until', '2026-03', '--system', 'house-dc', '--sort', 'readings'],
    ]) {
      const { code, out } = await find(cwd, ...words);
      expect([code, out.split('\n')[0]]).toEqual([
        0,
        '2026-03-01  27 1/2 in  box, inside length (House batteries)',
      ]);
    }
  });

  it.each([
    ['reading', ['capacity', '--sort', 'readings'], /318 ± 6 Ah/],
    ['statement', ['TL-400'], /TL-400 .* unverified/],
    ['part', ['new bank', '--sort', 'parts'], /ordered, 1480.00 EUR/],
    ['item', ['oil'], /Change the oil \(Engine\) item {2}ready/],
    ['decision', ['which size'], /chosen: the same/],
    ['test', ['capacity', '--outcome', 'undecided', '--sort', 'test'], /test {2}undecided/],
    ['meter', ['engine hours'], /1243.6 h/],
  ])('may be a %s', async (_sort, words, shown) => {
    const { code, out } = await find(book(), ...words);
    expect(code).toBe(0);
    expect(out).toMatch(shown);
  });

  it('is only what an audience may see, under the names that its copy has', async () => {
    const cwd = book({
      'entries/2026/2026-04-19-hidden.md':
        '---\ndate: 2026-04-19\ntitle: Hidden\nsystems: [house-dc]\nprivate: [entry]\nmeasurements: [{ house-dc.rest-voltage: 12.3 V }]\n---\n',
    });
    expect((await find(cwd, 'bank at rest')).err).toBe('2 readings.\n');
    const seen = await find(cwd, 'bank at rest', '--for', 'public');
    expect([seen.code, seen.err]).toEqual([0, '1 reading.\n']);
    expect(seen.out).not.toMatch(/12\.3 V/);
    expect(seen.out).toMatch(new RegExp(`^  ${LOOKED}:\\d+ `, 'm'));
    expect(await find(cwd, 'bank', '--for', 'nobody')).toMatchObject({ code: 2 });
  });

  it('is as of the day that is asked for', async () => {
    const { code } = await find(book(), 'capacity', '--sort', 'tests', '--as-of', '2026-04-01');
    expect(code).toBe(1);
  });

  it('is what the book has under its own name, or the one that is here', async () => {
    const above = tempFolder();
    put(above, Object.fromEntries(Object.entries(BOOK).map(([path, text]) => [`log/${path}`, text])));
    for (const words of [['log', 'rest'], ['rest']]) {
      const { code, out } = await find(above, ...words);
      expect([code, out.includes(`log/${LOOKED}:`)]).toEqual([0, true]);
    }
    const elsewhere = tempFolder();
    const { out } = await find(elsewhere, join(above, 'log'), 'rest');
    expect(out).toContain(`${relative(elsewhere, above)}/log/${LOOKED}:`);
  });
});

describe('nothing', () => {
  it('ends with 1 and says why', async () => {
    const { code, out, err } = await find(book(), 'bank below 5 V');
    expect([code, out]).toEqual([1, '']);
    expect(err).toContain('Nothing is below 5 V: the one value there is 12.71 V (2026-03-01).');
  });

  it('of a kind that the book does not have is told as that', async () => {
    const { code, err } = await find(book(), '--below', '5 kg');
    expect(code).toBe(1);
    expect(err).toContain('`5 kg` is a mass, and nothing in this book is one.');
  });

  it.each([
    [[], 'Say what to find'],
    [['--below', '5 vlt'], 'Units that fit: V'],
    [['--quantity', 'lenght'], 'Did you mean `length`?'],
    [['--quantity', 'torqe'], 'Did you mean `torque`?'],
    [['--system', 'house'], 'There is no system `house`'],
    [['--since', 'yesterday'], '`2025-06`'],
    [['--as', 'xml'], 'text, json, csv'],
    [['--below', '5 L', '--quantity', 'length'], 'a length is due'],
  ])('%j is wrong use, and says what to write', async (words, hint) => {
    const { code, out, err } = await find(book(), ...words);
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain(hint);
  });

  it('is searched in a book with an error', async () => {
    const { code, out, err } = await find(book(BROKEN), 'bank');
    expect([code, out]).toEqual([1, '']);
    expect(err).toContain('Vlt');
  });
});

describe('for other programs', () => {
  it('JSON has numbers as written and in SI', async () => {
    const { code, out } = await find(book(), 'rest', '--sort', 'readings', '--as', 'json');
    expect(code).toBe(0);
    expect(JSON.parse(out)).toMatchObject({
      version: 1,
      book: 'wherry',
      count: 1,
      found: [
        {
          sort: 'reading',
          ref: 'house-dc.rest-voltage',
          value: { written: '12.71 V', number: 12.71, unit: 'V', si: 12.71, siUncertainty: 0.05 },
          file: LOOKED,
          entryTitle: 'Looked',
        },
      ],
    });
  });

  it('JSON of nothing is JSON', async () => {
    const { code, out } = await find(book(), 'zzzzz', '--as', 'json');
    expect([code, JSON.parse(out)]).toMatchObject([1, { count: 0, found: [] }]);
  });

  it('CSV is by RFC 4180, numbers are numbers, and no text is a formula', async () => {
    const cwd = book({
      'entries/2026/2026-04-19-odd.md': `---
date: 2026-04-19
title: Odd
systems: [engine]
measurements:
  - { what: "=HYPERLINK(1), \\"odd\\"", value: -19 °C, note: "+1\\nand more" }
  - { what: "@odd", value: 3 mm }
---
`,
    });
    const { out } = await find(cwd, 'odd', '--as', 'csv');
    expect(out.split('\r\n').length).toBe(4);
    const rows = parse<Record<string, string>>(out, { columns: true });
    expect(rows.map(({ what, value, unit, note }) => [what, value, unit, note])).toEqual([
      ['\'=HYPERLINK(1), "odd"', '-19', '°C', "'+1\nand more"],
      ["'@odd", '3', 'mm', ''],
    ]);
    expect(out).toContain(',-19,');
  });
});

describe('on a terminal', () => {
  const files = {
    'entries/2026/2026-04-19-wide.md': `---
date: 2026-04-19
title: 船の電池を測る、長い題名がここに入ります
systems: [engine]
measurements:
  - { what: 左舷の機関の油圧計、暖機後に読む, value: 3.2 bar(g), note: a long note that goes on and on about nothing in particular }
---
`,
  };

  it.each([40, 60, 80, 120])('lines fit into %i columns, but for the place', async (columns) => {
    const setting = { cwd: book(files), terminal: true, env: { COLUMNS: String(columns), NO_COLOR: '1' } };
    const { out } = await run(['find', '--since', '2026'], setting);
    const lines = out.split('\n');
    expect(lines.length).toBeGreaterThan(10);
    for (const line of lines) {
      const place = /^ {2}\S+:\d+$/.test(line);
      expect(place || stringWidth(line) <= columns, line).toBe(true);
    }
    expect(out).toContain('entries/2026/2026-04-19-wide.md:6');
  });

  it('nothing is cut where it goes to a file', async () => {
    const { out } = await find(book(files), '油圧計');
    expect(out).toContain('左舷の機関の油圧計、暖機後に読む');
    expect(out).toContain('in particular');
    expect(out).not.toContain('\u001b');
  });
});
