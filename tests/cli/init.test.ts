import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { quickFrontMatter, quickYaml } from '../../src/read/front-matter.js';
import { thoroughYaml } from '../../src/read/thorough.js';
import { tempFolder } from '../folders.js';
import { put, run, TODAY } from './support.js';

function all(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((item) => item.isFile())
    .map((item) => join(item.parentPath, item.name).slice(folder.length + 1))
    .sort();
}

describe('ribband init', () => {
  it('makes a book that the checker passes without a word', async () => {
    const cwd = tempFolder();
    const ran = await run(['init', 'log', '--name', 'Wherry'], { cwd });
    expect(ran).toMatchObject({ code: 0, err: '' });
    expect(all(join(cwd, 'log'))).toEqual([
      '.gitignore',
      '.schemas/book.schema.json',
      '.schemas/entry.schema.json',
      '.schemas/power-plan.schema.json',
      '.schemas/system.schema.json',
      '.schemas/take-map.schema.json',
      '.schemas/weights-plan.schema.json',
      'book.yaml',
      `entries/2026/${TODAY}-the-book-begins.md`,
      'systems/house-dc.md',
    ]);
    expect(ran.out).toContain(`  log/entries/2026/${TODAY}-the-book-begins.md\n`);
    expect(await run(['check', 'log'], { cwd })).toEqual({
      code: 0,
      out: '3 files checked: nothing wrong.\n',
      err: '',
    });
  });

  it('names in each file the schema that it fits, where an editor finds it', async () => {
    const cwd = tempFolder();
    await run(['init'], { cwd });
    const files = ['book.yaml', 'systems/house-dc.md', `entries/2026/${TODAY}-the-book-begins.md`];
    for (const file of files) {
      const text = readFileSync(join(cwd, file), 'utf8');
      const named = /^# yaml-language-server: \$schema=(.+)$/m.exec(text)?.[1] ?? '';
      const schema = JSON.parse(readFileSync(join(cwd, file, '..', named), 'utf8')) as object;
      const data = (file.endsWith('.yaml') ? quickYaml(text) : quickFrontMatter(text))?.data;
      const validate = new Ajv2020({ strict: false }).compile(schema);
      expect([file, validate(data), validate.errors]).toEqual([file, true, null]);
    }
  });

  it.each([
    ['a plain name', 'Marram'],
    ['a name that YAML would take for something else', 'true'],
    ['a number', '1968'],
    ['quotes, colons and a number sign', `Old "Marram": #3 'the boat'`],
    ['letters that are not Latin', 'Морская'],
    ['a name in two lines', 'Two\nlines'],
    ['a name that tries to leave its field', 'x\n---\nbook: y'],
  ])('takes %s as it is', async (_what, name) => {
    const cwd = tempFolder();
    expect(await run(['init', '--name', name], { cwd })).toMatchObject({ code: 0 });
    const data = thoroughYaml(readFileSync(join(cwd, 'book.yaml'), 'utf8')).data as {
      subject: { name: string };
    };
    expect(data.subject.name).toBe(name.replaceAll(/\s+/g, ' '));
    expect(await run(['check'], { cwd })).toMatchObject({
      code: 0,
      out: '3 files checked: nothing wrong.\n',
    });
  });

  it('takes the name of the folder where none is given', async () => {
    const cwd = tempFolder();
    await run(['init', 'our-boat'], { cwd });
    expect(readFileSync(join(cwd, 'our-boat/book.yaml'), 'utf8')).toContain('\n  name: our-boat\n');
  });

  it.each(['book.yaml', 'systems/house-dc.md', `entries/2026/${TODAY}-the-book-begins.md`])(
    'writes nothing where there is a %s already',
    async (path) => {
      const cwd = tempFolder();
      put(cwd, { [path]: 'mine' });
      const ran = await run(['init'], { cwd });
      expect(ran.code).toBe(2);
      expect(ran.err).toContain(`There is a ${path} in this folder already; nothing was written.`);
      expect(all(cwd)).toEqual([path]);
      expect(readFileSync(join(cwd, path), 'utf8')).toBe('mine');
    },
  );

  it('leaves other files in the folder alone', async () => {
    const cwd = tempFolder();
    put(cwd, { 'README.md': 'mine' });
    expect(await run(['init'], { cwd })).toMatchObject({ code: 0 });
    expect(readFileSync(join(cwd, 'README.md'), 'utf8')).toBe('mine');
  });

  it('keeps what is made out of version control, and leaves a .gitignore that is there as it is', async () => {
    const cwd = tempFolder();
    await run(['init', 'log'], { cwd });
    expect(spawnSync('git', ['init', '-q'], { cwd: join(cwd, 'log') }).status).toBe(0);
    put(join(cwd, 'log'), {
      '_site/a.html': '',
      '_site-buyer/a.html': '',
      '.ribband/a': '',
      'notes.txt': '',
    });
    const { stdout } = spawnSync('git', ['status', '--porcelain', '-uall'], {
      cwd: join(cwd, 'log'),
      encoding: 'utf8',
    });
    expect(stdout).toContain('?? notes.txt');
    expect(stdout).toContain('?? book.yaml');
    expect(stdout).not.toMatch(/_site|\.ribband/);

    put(cwd, { 'other/.gitignore': 'mine' });
    expect(await run(['init', 'other'], { cwd })).toMatchObject({ code: 0 });
    expect(readFileSync(join(cwd, 'other/.gitignore'), 'utf8')).toBe('mine');
  });

  it('makes no book inside a book', async () => {
    const cwd = tempFolder();
    put(cwd, { 'book.yaml': 'mine', 'notes/a.txt': 'mine' });
    const inside = await run(['init'], { cwd: join(cwd, 'notes') });
    expect([inside.code, inside.err]).toEqual([
      2,
      expect.stringMatching(/^ribband: `\.\.` is a book already/),
    ]);
    const below = await run(['init', 'new/one'], { cwd });
    expect([below.code, below.err]).toEqual([2, expect.stringMatching(/^ribband: This folder is a book/)]);
    expect(all(cwd)).toEqual(['book.yaml', 'notes/a.txt']);
  });

  it('refuses a file in the place of the folder', async () => {
    const cwd = tempFolder();
    writeFileSync(join(cwd, 'log'), 'x');
    const ran = await run(['init', 'log'], { cwd });
    expect(ran).toEqual({ code: 2, out: '', err: 'ribband: `log` is a file; a book is a folder.\n' });
  });

  it('leaves nothing half made when the disk does not let it finish', async () => {
    const cwd = tempFolder();
    // A file where a folder has to be: the first file can be written, the next cannot.
    put(cwd, { systems: 'in the way' });
    const ran = await run(['init'], { cwd });
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/^ribband: [^\n]+\n$/);
    expect(all(cwd)).toEqual(['systems']);
  });
});
