import { chmodSync, mkdirSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';
import { tempFolder } from '../folders.js';
import { blocksOf } from './readme.js';
import { BROKEN, book, put, run } from './support.js';

const ESCAPE = '\u001b';

describe('ribband check', () => {
  it('passes the whole system file that the README shows', async () => {
    const shown = blocksOf('The files').filter(
      ({ language, text }) => language === 'markdown' && text.startsWith('---\n'),
    );
    expect(shown).toHaveLength(1);
    const text = shown[0]?.text ?? '';
    for (const field of ['hazards', 'points', 'meters', 'specs', 'tests', 'upkeep'])
      expect(text).toContain(`\n${field}:`);
    const cwd = tempFolder();
    await run(['init'], { cwd });
    put(cwd, { 'systems/heating.md': text });
    expect(await run(['check'], { cwd })).toEqual({
      code: 0,
      out: '4 files checked: nothing wrong.\n',
      err: '',
    });
  });

  it('counts the files and ends with 0 where nothing is wrong', async () => {
    const ran = await run(['check'], { cwd: book({ 'entries/2026/2026-04-18-capacity-test.md': PLAIN }) });
    expect(ran).toEqual({ code: 0, out: '5 files checked: nothing wrong.\n', err: '' });
  });

  it('prints nothing at all with --quiet where nothing is wrong', async () => {
    const cwd = book({ 'entries/2026/2026-04-18-capacity-test.md': PLAIN });
    expect(await run(['check', '--quiet'], { cwd })).toEqual({ code: 0, out: '', err: '' });
  });

  it('shows place, line and mend of a problem, counts them, and ends with 1', async () => {
    const { code, out, err } = await run(['check'], { cwd: book(BROKEN) });
    expect([code, err]).toEqual([1, '']);
    expect(out).toMatch(/^entries\/2026\/2026-04-19-broken\.md:6:\d+ error unknown-unit\n/m);
    expect(out).toMatch(/6 \| {3}- house-dc\.rest-voltage: 12\.6 Vlt\n +\| +\^+\n/);
    expect(out).toMatch(/\n6 files checked: 1 error[^\n]*\.\n$/);
  });

  it('ends with 0 where there are warnings alone', async () => {
    const { code, out } = await run(['check'], { cwd: book({ 'entries/notes.doc': 'x' }) });
    expect(out).toMatch(/: \d+ warnings?\.\n$/);
    expect(code).toBe(0);
  });

  it('prints problems but no count with --quiet', async () => {
    const { code, out } = await run(['check', '--quiet'], { cwd: book(BROKEN) });
    expect(code).toBe(1);
    expect(out).toContain('unknown-unit');
    expect(out).not.toContain('checked');
  });

  it('tells files as they are found from the current folder', async () => {
    const root = book(BROKEN);
    const beside = tempFolder();
    for (const [cwd, seen] of [
      [join(root, '..'), `${relative(join(root, '..'), root)}/`],
      [beside, `../${relative(join(root, '..'), root)}/`],
    ] as const) {
      const text = await run(['check', root], { cwd });
      expect(text.out).toContain(`${seen}entries/2026/2026-04-19-broken.md:6:`);
      const json = await run(['check', root, '--format', 'json'], { cwd });
      const { diagnostics } = JSON.parse(json.out) as { diagnostics: { file: string; code: string }[] };
      expect(diagnostics.find(({ code }) => code === 'unknown-unit')?.file).toBe(
        `${seen}entries/2026/2026-04-19-broken.md`,
      );
    }
  });

  it('tells a folder that has lost its book.yaml as a problem, not as wrong use', async () => {
    const cwd = tempFolder();
    mkdirSync(join(cwd, 'entries'));
    mkdirSync(join(cwd, 'systems'));
    const { code, out } = await run(['check'], { cwd });
    expect(code).toBe(1);
    expect(out).toContain('error book-missing');
  });

  it('survives a broken book.yaml and shows the problems of the other files too', async () => {
    const { code, out } = await run(['check'], { cwd: book({ ...BROKEN, 'book.yaml': 'book: [\n' }) });
    expect(code).toBe(1);
    expect(out).toMatch(/^book\.yaml:\d+:\d+ error yaml-syntax$/m);
    expect(out).toContain('error unknown-unit');
  });

  it('knows that tomorrow is still to come, by RIBBAND_TODAY', async () => {
    const cwd = book();
    const before = await run(['check'], { cwd, env: { RIBBAND_TODAY: '2026-04-17' } });
    expect(before.code).toBe(1);
    expect(before.out).toContain('error date-in-future');
    expect(await run(['check'], { cwd })).toMatchObject({ code: 0 });
  });
});

describe('--format', () => {
  it('json is one document, and nothing else is printed', async () => {
    const { code, out, err } = await run(['check', '--format', 'json'], { cwd: book(BROKEN) });
    expect([code, err]).toEqual([1, '']);
    const { version, diagnostics } = JSON.parse(out) as { version: number; diagnostics: object[] };
    expect(version).toBe(1);
    expect(diagnostics).toEqual(
      expect.arrayContaining([expect.objectContaining({ code: 'unknown-unit', severity: 'error' })]),
    );
  });

  it('sarif is one document', async () => {
    const { code, out } = await run(['check', '--format', 'sarif'], { cwd: book(BROKEN) });
    expect(code).toBe(1);
    const { version, runs } = JSON.parse(out) as { version: string; runs: { results: object[] }[] };
    expect(version).toBe('2.1.0');
    expect(runs[0]?.results).toEqual(
      expect.arrayContaining([expect.objectContaining({ ruleId: 'unknown-unit', level: 'error' })]),
    );
  });

  it('github is one annotation a line', async () => {
    const { code, out } = await run(['check', '--format', 'github'], { cwd: book(BROKEN) });
    expect(code).toBe(1);
    expect(out).toMatch(/^::error file=entries\/2026\/2026-04-19-broken\.md,line=6,.*title=unknown-unit::/m);
    for (const line of out.trimEnd().split('\n')) expect(line).toMatch(/^::(?:error|warning) file=/);
  });
});

describe('colour', () => {
  it.each([
    ['on a terminal', { terminal: true }, true],
    ['not into a file', { terminal: false }, false],
    ['not with NO_COLOR', { terminal: true, env: { NO_COLOR: '1' } }, false],
    ['with an empty NO_COLOR, which says nothing', { terminal: true, env: { NO_COLOR: '' } }, true],
    ['not on a dumb terminal', { terminal: true, env: { TERM: 'dumb' } }, false],
    ['into a file with FORCE_COLOR', { terminal: false, env: { FORCE_COLOR: '1' } }, true],
    ['not with FORCE_COLOR=0', { terminal: false, env: { FORCE_COLOR: '0' } }, false],
    ['not with both', { terminal: true, env: { FORCE_COLOR: '1', NO_COLOR: '1' } }, false],
  ] as const)('%s', async (_where, setting, coloured) => {
    const { out } = await run(['check'], { cwd: book(BROKEN), ...setting });
    expect(out.includes(ESCAPE)).toBe(coloured);
    const plain = out.replaceAll(new RegExp(`${ESCAPE}\\[[0-9;]*m`, 'g'), '');
    expect(plain).not.toContain(ESCAPE);
    expect(plain).toContain(' error unknown-unit\n');
  });

  it('is never in what other programs read', async () => {
    for (const format of ['json', 'sarif', 'github']) {
      const { out } = await run(['check', '--format', format], { cwd: book(BROKEN), terminal: true });
      expect(out).not.toContain(ESCAPE);
    }
  });
});

const PLAIN = `---
date: 2026-04-18
title: Capacity test
systems: [house-dc]
closes: [test-bank]
---
`;

describe('--fix', () => {
  const PATH = 'entries/2026/2026-04-19-slips.md';
  const slips = (entry: string) =>
    entry.replaceAll('measurements:', 'Measurements:').replaceAll('basis: marked', 'basis: Marked');
  const RIGHT = `---
date: 2026-04-19
title: Slips
systems: [house-dc]
measurements:   # two of them
  - { point: house-dc.rest-voltage, value: 12.6 V }
statements:
  - { spec: house-dc.bank-model, says: "TL-200", basis: marked }
---
Grüße, measurements of old are left alone here.
`;
  const WRONG = slips(RIGHT);

  it('mends what has one safe mend, says where, and tells what is left', async () => {
    const cwd = book({ ...BROKEN, [PATH]: WRONG });
    const before = await run(['check'], { cwd });
    expect(before.out).toContain('error unknown-key');
    const ran = await run(['check', '--fix'], { cwd });
    expect(ran.out).toContain(`Mended ${PATH}:5: measurements:   # two of them\n`);
    expect(ran.out).toContain('error unknown-unit');
    expect(ran.out).not.toContain('unknown-key');
    expect([ran.code, ran.err]).toEqual([1, '']);
    expect(readFileSync(join(cwd, PATH), 'utf8')).toBe(RIGHT);
    expect(readFileSync(join(cwd, 'entries/2026/2026-04-19-broken.md'), 'utf8')).toBe(
      BROKEN['entries/2026/2026-04-19-broken.md'],
    );
  });

  it('ends with 0 where all of it could be mended', async () => {
    const cwd = book({ [PATH]: WRONG });
    expect(await run(['check', '--fix'], { cwd })).toMatchObject({ code: 0 });
    const silent = book({ [PATH]: WRONG });
    const ran = await run(['check', '--fix', '--quiet'], { cwd: silent });
    expect(ran.code).toBe(0);
    expect(ran.out + ran.err).not.toContain('Mended');
    expect(readFileSync(join(silent, PATH), 'utf8')).toBe(RIGHT);
  });

  it('keeps byte order mark, line ends and mode, and leaves no other file behind', async () => {
    const other = (text: string) => `\uFEFF${text.replaceAll('\n', '\r\n')}`;
    const cwd = book({ [PATH]: other(WRONG) });
    const file = join(cwd, PATH);
    chmodSync(file, 0o640);
    const names = readdirSync(join(cwd, 'entries/2026'));
    expect(await run(['check', '--fix'], { cwd })).toMatchObject({ code: 0 });
    expect(readFileSync(file, 'utf8')).toBe(other(RIGHT));
    expect(statSync(file).mode & 0o777).toBe(0o640);
    expect(readdirSync(join(cwd, 'entries/2026'))).toEqual(names);
  });

  it('says what it mended on the error stream where a program reads the output', async () => {
    const cwd = book({ [PATH]: WRONG });
    const { out, err } = await run(['check', '--fix', '--format', 'json'], { cwd });
    expect(err).toContain(`Mended ${PATH}:5:`);
    expect((JSON.parse(out) as { version: number }).version).toBe(1);
  });

  it('mends days, units, a short form that is too full, the name of the file and the order of fields', async () => {
    const wrong = `---
title: A look around  # before breakfast
date: 19 April 2026
systems: [house-dc]
measurements:
  - house-dc.rest-voltage: 12.6 v
    with: clamp
  # the spare
  - { what: spare battery, value: 12.4 volts }
---
It gave :reading[12.5 V]{point="house-dc.rest-voltage" under-load="2 amperes"}, :reading[3 metres]{what="lead"}.
`.replaceAll('\n', '\r\n');
    const cwd = book({ 'entries/2026/Look.md': wrong });
    const { code, out } = await run(['check', '--fix'], { cwd });
    const to = 'entries/2026/2026-04-19-a-look-around.md';
    expect(out).toContain(`Renamed entries/2026/Look.md: now ${to}\n`);
    expect(out).toContain(`Put the fields of ${to} in order\n`);
    expect(code).toBe(0);
    expect(readdirSync(join(cwd, 'entries/2026'))).not.toContain('Look.md');
    expect(readFileSync(join(cwd, to), 'utf8')).toBe(
      `---
date: 2026-04-19
title: A look around  # before breakfast
systems: [house-dc]
measurements:
  - point: house-dc.rest-voltage
    value: 12.6 V
    with: clamp
  # the spare
  - { what: spare battery, value: 12.4 V }
---
It gave :reading[12.5 V]{point="house-dc.rest-voltage" under-load="2 amperes"}, :reading[3 m]{what="lead"}.
`.replaceAll('\n', '\r\n'),
    );
    const again = await run(['check', '--fix'], { cwd });
    expect(again).toEqual(await run(['check'], { cwd }));
  });

  it('gives no file a name that something else has by now', async () => {
    const entry = '---\ndate: 2026-04-19\ntitle: Look\nsystems: [house-dc]\n---\n';
    const cwd = book({ 'entries/2026/a.md': entry, 'entries/2026/b.md': entry });
    const { code, out } = await run(['check', '--fix'], { cwd });
    expect(code).toBe(1);
    expect(out.match(/^Renamed/gm)).toHaveLength(1);
    expect(readdirSync(join(cwd, 'entries/2026'))).toEqual(
      expect.arrayContaining(['2026-04-19-look.md', 'b.md']),
    );
  });

  it('writes nothing where there is nothing to mend', async () => {
    const cwd = book(BROKEN);
    const file = join(cwd, 'entries/2026/2026-04-19-broken.md');
    const before = statSync(file).mtimeMs;
    expect(await run(['check', '--fix'], { cwd })).toEqual(await run(['check'], { cwd }));
    expect(statSync(file).mtimeMs).toBe(before);
  });
});
