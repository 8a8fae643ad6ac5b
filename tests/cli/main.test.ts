import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { COMMANDS } from '../../src/cli/commands.js';
import { packageVersion } from '../../src/read/package.js';
import { tempFolder } from '../folders.js';
import { BOOK, book, put, run } from './support.js';

const cwd = tempFolder();

describe('help', () => {
  it.each([['--help'], ['-h'], ['help']])('%s lists every command and fits a terminal', async (word) => {
    const { code, out, err } = await run([word], { cwd });
    expect([code, err]).toEqual([0, '']);
    for (const { name, summary } of COMMANDS) expect(out).toMatch(new RegExp(`  ${name} .*${summary}`));
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
  });

  it.each(COMMANDS.map((command) => [command.name, command] as const))(
    '%s has help with usage, options and examples that its own parser takes',
    async (name, command) => {
      const asked = await run([name, '--help'], { cwd });
      expect(asked).toEqual(await run(['help', name], { cwd }));
      expect(asked.code).toBe(0);
      expect(asked.out).toMatch(new RegExp(`^Usage: ribband ${name} `));
      for (const option of command.options) expect(asked.out).toContain(`\n  --${option.name}`);
      expect(command.examples.length).toBeGreaterThan(0);
      for (const { run: example } of command.examples) {
        expect(asked.out).toContain(example);
        const [program, called] = example.split(' ');
        expect([program, called]).toEqual(['ribband', name]);
        const used = [...example.matchAll(/ --([a-z-]+)/g)].map((match) => match[1]);
        expect(command.options.map((option) => option.name)).toEqual(expect.arrayContaining(used));
      }
    },
  );

  it('is shown on the error stream, as wrong use, where nothing is asked for', async () => {
    const { code, out, err } = await run([], { cwd });
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain('Usage: ribband COMMAND');
  });

  it('tells the version of the package', async () => {
    expect(await run(['--version'], { cwd })).toEqual({ code: 0, out: `${packageVersion()}\n`, err: '' });
  });
});

describe('wrong use ends with 2, one line, and the nearest right word', () => {
  it.each([
    [['chekc'], 'There is no command `chekc`. Did you mean `check`?'],
    [['zzz'], 'There is no command `zzz`. See `ribband --help`.'],
    [['--versoin'], 'There is no option `--versoin`. Did you mean `--version`?'],
    [['help', 'buld'], 'There is no command `buld`. Did you mean `build`?'],
    [['check', '--fromat', 'json'], '`ribband check` has no option `--fromat`. Did you mean `--format`?'],
    [['check', '-x'], '`ribband check` has no option `-x`.'],
    [
      ['check', '--format', 'jsn'],
      '`--format` is one of text, json, sarif, github, not `jsn`. Did you mean `json`?',
    ],
    [['check', '--format'], '`--format` needs a value: `--format FORMAT`.'],
    [['check', '--format='], '`--format` needs a value: `--format FORMAT`.'],
    [['check', '--format', '--quiet'], '`--format` needs a value: `--format FORMAT`.'],
    [['check', '--format', 'json', '--format', 'text'], '`--format` is given more than once.'],
    [['check', '--quiet=yes'], '`--quiet` takes no value.'],
    [['check', 'a', 'b'], '`ribband check` takes one folder; `b` is one too many.'],
    [['check', '--__proto__', 'x'], '`ribband check` has no option `--__proto__`.'],
    [['constructor'], 'There is no command `constructor`. See `ribband --help`.'],
    [['serve', '--port', 'http'], '`--port` is a number up to 65535, not `http`.'],
    [['serve', '--port', '65536'], '`--port` is a number up to 65535, not `65536`.'],
    [
      ['export', '--as-of', '4/5/2026'],
      '`--as-of` is a day such as `2026-04-18`, `18 April 2026`, `today` or `yesterday`, not `4/5/2026`.',
    ],
    [['export', '--as-of', '2026-02-30'], '`--as-of`: the calendar has no day 2026-02-30.'],
  ])('%j', async (argv, message) => {
    expect(await run(argv, { cwd: book() })).toEqual({ code: 2, out: '', err: `ribband: ${message}\n` });
  });

  it('RIBBAND_TODAY has to be a day', async () => {
    const ran = await run(['check'], { cwd: book(), env: { RIBBAND_TODAY: 'yesterday' } });
    expect(ran.code).toBe(2);
    expect(ran.err).toBe('ribband: `RIBBAND_TODAY` is a day such as `2026-04-18`, not `yesterday`.\n');
  });
});

describe('which book', () => {
  it('is the current folder', async () => {
    expect(await run(['check'], { cwd: book() })).toMatchObject({ code: 0, err: '' });
  });

  it('is the one folder here that has a book.yaml, and says so', async () => {
    const parent = tempFolder();
    put(join(parent, 'log'), BOOK);
    mkdirSync(join(parent, 'notes'));
    expect(await run(['check'], { cwd: parent })).toMatchObject({
      code: 0,
      err: 'Taking the book in ./log.\n',
    });
    put(join(parent, 'second'), BOOK);
    expect(await run(['check'], { cwd: parent })).toMatchObject({
      code: 2,
      err: 'ribband: There is more than one book here: log, second. Name one of them.\n',
    });
    expect(await run(['check', 'second'], { cwd: parent })).toMatchObject({ code: 0, err: '' });
  });

  it('is the one in which the current folder lies, and says so', async () => {
    const root = join(tempFolder(), 'log');
    put(root, BOOK);
    mkdirSync(join(root, 'notes/old'), { recursive: true });
    expect(await run(['check'], { cwd: join(root, 'notes/old') })).toMatchObject({
      code: 0,
      err: 'Taking the book in ../.., in which this folder lies.\n',
    });
  });

  it.each([
    [
      'check',
      [],
      'There is no book.yaml in the current folder, nor in one above it. `ribband init` starts a new one.',
    ],
    ['check', ['nowhere'], 'There is no folder `nowhere`.'],
    [
      'build',
      ['log/book.yaml'],
      '`log/book.yaml` is a file; a book is a folder. Give the folder in which it lies.',
    ],
    ['export', ['file.txt'], '`file.txt` is a file; a book is a folder.'],
    ['serve', ['empty'], '`empty` is no book: there is no book.yaml in it. `ribband init` starts a new one.'],
    ['new', ['outer'], '`outer` is no book: there is no book.yaml in it. Did you mean `outer/log`?'],
  ])('%s %j is refused', async (command, operands, message) => {
    const parent = tempFolder();
    if (operands.length > 0) put(join(parent, 'log'), BOOK);
    put(parent, { 'file.txt': 'x', 'empty/x.txt': 'x', 'outer/log/book.yaml': 'book: x' });
    const ran = await run([command, ...operands], { cwd: parent });
    expect(ran).toEqual({ code: 2, out: '', err: `ribband: ${message}\n` });
  });
});

describe('a fault of the program itself', () => {
  const notReached = () => Promise.reject(new TypeError('not reached'));
  const ask = {
    text: () => Promise.reject(new Error('the first line\nand more')),
    long: notReached,
    one: notReached,
    several: notReached,
  };

  it('is one line and no stack, with the way to more of it, and has an exit code of its own', async () => {
    expect(await run(['new'], { cwd: book(), ask })).toEqual({
      code: 70,
      out: '',
      err: 'ribband: a fault in ribband itself: the first line (RIBBAND_DEBUG=1 shows where)\n',
    });
  });

  it('shows where with RIBBAND_DEBUG', async () => {
    const { code, err } = await run(['new'], { cwd: book(), ask, env: { RIBBAND_DEBUG: '1' } });
    expect(code).toBe(70);
    expect(err).toMatch(/^Error: the first line\nand more\n {4}at /);
  });

  it('is told from a file system that does not let us, whose reason is given in words', async () => {
    const refuse = (code: string, path?: string) => ({
      ...ask,
      text: () => Promise.reject(Object.assign(new Error(`${code}: whatever`), { code, path })),
    });
    expect(await run(['new'], { cwd: book(), ask: refuse('EACCES', '/x/y') })).toEqual({
      code: 2,
      out: '',
      err: 'ribband: Cannot use /x/y: you have no permission. Change whose it is, or take another folder.\n',
    });
    expect(await run(['new'], { cwd: book(), ask: refuse('ENOSPC') })).toMatchObject({
      code: 2,
      err: 'ribband: Cannot write there: the disk is full. Make room on it, and call this again.\n',
    });
    expect(await run(['new'], { cwd: book(), ask: refuse('EBADF') })).toMatchObject({ code: 70 });
  });
});
