import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { ExportDocument } from '../../schemas/export.js';
import { COMMANDS } from '../../src/cli/commands.js';
import { tempFolder } from '../folders.js';
import { blocksOf, README } from './readme.js';

/**
 * The package as others get it: packed, unpacked into an empty folder, with none but the dependencies that it
 * declares. They are linked rather than downloaded, so that the tests need no network.
 */

const ROOT = join(import.meta.dirname, '../..');
const description = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as {
  version: string;
  dependencies: Readonly<Record<string, string>>;
};
const TODAY = '2026-04-20';

let folder: string;
let tarball: string;

function sh(script: string, cwd = folder) {
  const { status, stdout, stderr } = spawnSync('bash', ['-euo', 'pipefail', '-c', script], {
    cwd,
    env: {
      PATH: process.env['PATH'] ?? '',
      HOME: process.env['HOME'] ?? '',
      RIBBAND_TODAY: TODAY,
      npm_config_offline: 'true',
      npm_config_update_notifier: 'false',
    },
    encoding: 'utf8',
  });
  return { code: status, out: stdout, err: stderr };
}

function install(): void {
  const modules = join(folder, 'node_modules');
  mkdirSync(join(modules, '.bin'), { recursive: true });
  expect(sh(`tar -xzf "${tarball}"`).code).toBe(0);
  renameSync(join(folder, 'package'), join(modules, 'ribband'));
  for (const name of Object.keys(description.dependencies)) {
    mkdirSync(dirname(join(modules, name)), { recursive: true });
    symlinkSync(join(ROOT, 'node_modules', name), join(modules, name));
  }
  chmodSync(join(modules, 'ribband/dist/src/bundle/bin.js'), 0o755);
  symlinkSync('../ribband/dist/src/bundle/bin.js', join(modules, '.bin/ribband'));
}

beforeAll(() => {
  const packed = tempFolder();
  // Without the scripts: they would compile into the folder from which other tests run.
  const { code, err } = sh(`npm pack --ignore-scripts --pack-destination "${packed}"`, ROOT);
  expect(code, err).toBe(0);
  tarball = join(packed, `ribband-${description.version}.tgz`);
  folder = tempFolder();
  install();
});

describe('the package', () => {
  it('has what it needs and nothing of the workshop', () => {
    const files = readdirSync(join(folder, 'node_modules/ribband'), { recursive: true, withFileTypes: true })
      .filter((file) => file.isFile())
      .map((file) => join(file.parentPath, file.name).slice(`${folder}/node_modules/ribband/`.length));
    expect(files).toEqual(
      expect.arrayContaining([
        'README.md',
        'LICENSE',
        'dist/src/bundle/bin.js',
        'schemas/json/entry.schema.json',
      ]),
    );
    const tops = new Set(files.map((file) => file.split('/')[0]));
    expect([...tops].sort()).toEqual(['LICENSE', 'README.md', 'dist', 'package.json', 'schemas', 'site']);
    expect(files.filter((file) => file.startsWith('site/'))).toEqual(['site/preview.png']);
    expect(files.filter((file) => /\.tsx?$|\.test\.|(?:^|\/)tests\//.test(file))).toEqual([]);
  });

  it('has every file to which its README leads', () => {
    const root = join(folder, 'node_modules/ribband');
    const linked = [...README.matchAll(/\]\(([^)#\s]+)[^)]*\)/g)].flatMap(([, to = '']) =>
      /^[a-z]+:/.test(to) ? [] : [to],
    );
    expect(linked).toContain('LICENSE');
    for (const to of linked) expect(existsSync(join(root, to)), to).toBe(true);
  });

  it('is put together as publint wants it', () => {
    const { code, out, err } = sh(`npx publint run "${tarball}" --strict`, ROOT);
    expect(code, out + err).toBe(0);
  });

  it('starts, checks, builds and exports a book in an empty folder by npx', () => {
    expect(sh('npx ribband --version')).toMatchObject({ code: 0, out: `${description.version}\n` });
    expect(sh('npx ribband init log --name "Marram"').code).toBe(0);
    expect(sh('npx ribband check log')).toMatchObject({ code: 0, out: '3 files checked: nothing wrong.\n' });
    const made = sh('npx ribband new log --title "First look" --close read-labels');
    expect(made).toMatchObject({ code: 0, out: `log/entries/2026/${TODAY}-first-look.md\n` });
    const built = sh('npx ribband build log');
    expect(built.code, built.err).toBe(0);
    expect(readFileSync(join(folder, '_site/index.html'), 'utf8')).toContain('Marram');
    expect(readdirSync(join(folder, '_site/assets'))).toContain('site.css');
    const exported = sh('npx ribband export log');
    expect(exported.code, exported.err).toBe(0);
    const { entries } = JSON.parse(exported.out) as ExportDocument;
    expect(entries.map(({ title }) => title).sort()).toEqual(['First look', 'The book begins']);
  });
});

describe('the README', () => {
  const blocks = blocksOf('Five minutes to a book of your own');
  const inBook = blocks.filter(({ language }) => language === 'sh').slice(1);

  /** Puts fields at the end of a file's front matter, as the README tells the reader to. */
  function write(file: string, fields: string): void {
    const text = readFileSync(file, 'utf8');
    writeFileSync(
      file,
      text.replace(/\n---\n/, () => `\n${fields}---\n`),
    );
  }

  it('leads from nothing to a site that shows the claim as contradicted', () => {
    const home = tempFolder();
    symlinkSync(join(folder, 'node_modules'), join(home, 'node_modules'));
    const [start, look, make] = inBook.map(({ text }) => text);
    const [found, claimed] = blocks.filter(({ language }) => language === 'yaml').map(({ text }) => text);
    const started = sh(start as string, home);
    expect(started.code, started.err).toBe(0);
    const entry = started.out.trimEnd().split('\n').at(-1) as string;
    write(join(home, entry), found as string);
    write(join(home, 'log/systems/house-dc.md'), claimed as string);
    const [check, serve] = (look as string).trimEnd().split('\n');
    expect(serve).toBe('npx ribband serve log');
    expect(sh(check as string, home)).toMatchObject({ code: 0, out: '4 files checked: nothing wrong.\n' });
    const made = sh(make as string, home);
    expect(made.code, made.err).toBe(0);
    const page = readFileSync(join(home, '_site/index.html'), 'utf8');
    expect(page).toMatch(/Bank capacity[\s\S]*contradicted[\s\S]*318 ± 6 Ah/);
  });

  it('tells of every command with every option, of the tarball by its name, and of nothing else', () => {
    const rows = [...README.matchAll(/^\| `ribband ([\w-]+)(?: ([^`]+))?` \| (.*) \|$/gm)];
    expect(rows.map(([, name, operands = '']) => `${name} ${operands}`)).toEqual(
      COMMANDS.map(({ name, operands }) => `${name} ${operands}`),
    );
    for (const [, name, , about = ''] of rows) {
      const told = [...about.matchAll(/`--([a-z-]+)`/g)].map((match) => match[1]);
      const options = COMMANDS.find((command) => command.name === name)?.options ?? [];
      expect([name, told.sort()]).toEqual([name, options.map((option) => option.name).sort()]);
    }
    expect(blocks[0]?.text).toContain(`./ribband-${description.version}.tgz`);
  });
});
