import { spawnSync } from 'node:child_process';
import fs, {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { basename, dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, describe, expect, it } from 'vitest';
import { inspectTarget, MARKER, publish, type SiteFile } from '../../src/write/publish.js';
import { filesIn, withFolder } from './folder.js';

async function* each(files: readonly SiteFile[]): AsyncGenerator<SiteFile> {
  for (const file of files) {
    await Promise.resolve();
    yield file;
  }
}

const content = (path: string, text: string): SiteFile => ({ path, content: text });
const put = (out: string, ...files: readonly SiteFile[]) => publish(out, each(files));

/** The files of a site without its marker; and nothing may lie beside it. */
function siteIn(out: string): Readonly<Record<string, string>> {
  const { [MARKER]: marker, ...files } = filesIn(out);
  expect(marker).toBeDefined();
  return files;
}

const beside = (out: string) => readdirSync(dirname(out)).filter((name) => name !== basename(out));

const real = { ...fs };

/** Lets a call of the file system fail, or be watched, until the test is over. */
function patch<K extends 'renameSync' | 'linkSync'>(name: K, how: (typeof fs)[K]): void {
  fs[name] = how;
  syncBuiltinESMExports();
}

afterEach(() => {
  fs.renameSync = real.renameSync;
  fs.linkSync = real.linkSync;
  syncBuiltinESMExports();
});

describe('publishing a site', () => {
  it('writes, copies and keeps files, and takes away what is no longer there', async () => {
    await withFolder(async (root) => {
      const out = join(root, 'site');
      writeFileSync(join(root, 'photo.jpg'), 'a photo');
      await put(
        out,
        content('index.html', 'one'),
        content('log/2026.html', 'kept'),
        content('gone/old.html', 'x'),
      );
      rmSync(join(root, 'photo.jpg'));
      writeFileSync(join(root, 'photo.jpg'), 'a photo');
      await put(
        out,
        content('index.html', 'two'),
        { path: 'log/2026.html', keep: true },
        { path: 'photos/a.jpg', copyOf: join(root, 'photo.jpg') },
        { path: 'bytes.bin', content: new Uint8Array([65, 66]) },
      );
      expect(siteIn(out)).toEqual({
        'index.html': 'two',
        'log/2026.html': 'kept',
        'photos/a.jpg': 'a photo',
        'bytes.bin': 'AB',
      });
      expect(readdirSync(out)).not.toContain('gone');
      expect(beside(out)).toEqual(['photo.jpg']);
    });
  });

  it('keeps a file by a link, so that its time stays', async () => {
    await withFolder(async (root) => {
      const out = join(root, 'site');
      await put(out, content('a.html', 'a'));
      const before = statSync(join(out, 'a.html'));
      await put(out, { path: 'a.html', keep: true });
      expect(statSync(join(out, 'a.html')).ino).toBe(before.ino);
      expect(statSync(join(out, 'a.html')).mtimeMs).toBe(before.mtimeMs);
    });
  });

  it('keeps a file by a copy where the disk knows no links', async () => {
    await withFolder(async (root) => {
      const out = join(root, 'site');
      await put(out, content('a/b.html', 'kept'));
      patch('linkSync', () => {
        throw Object.assign(new Error('no links here'), { code: 'EXDEV' });
      });
      await put(out, { path: 'a/b.html', keep: true });
      expect(siteIn(out)).toEqual({ 'a/b.html': 'kept' });
    });
  });

  it('writes a site of many files', async () => {
    await withFolder(async (root) => {
      const out = join(root, 'site');
      const files = Array.from({ length: 300 }, (_, at) => content(`p${at % 7}/${at}.html`, `page ${at}`));
      await put(out, ...files);
      expect(Object.keys(siteIn(out))).toHaveLength(300);
      expect(readFileSync(join(out, 'p5', '299.html'), 'utf8')).toBe('page 299');
    });
  });

  it('takes an empty folder for a place to publish to', async () => {
    await withFolder(async (root) => {
      const out = join(root, 'site');
      mkdirSync(out);
      await put(out, content('index.html', 'one'));
      expect(siteIn(out)).toEqual({ 'index.html': 'one' });
      expect(beside(out)).toEqual([]);
    });
  });
});

describe('publishing that fails', () => {
  /** Publishes a site, lets the next publishing fail, and looks at what is left. */
  async function afterFailure(fail: (out: string, root: string) => Promise<void>) {
    await withFolder(async (root) => {
      const out = join(root, 'site');
      await put(out, content('index.html', 'old'), content('a/b.html', 'old too'));
      await expect(fail(out, root)).rejects.toThrow();
      expect(siteIn(out)).toEqual({ 'index.html': 'old', 'a/b.html': 'old too' });
      expect(beside(out)).toEqual([]);
    });
  }

  it('leaves the old site where the maker of the files fails', () =>
    afterFailure(async (out) => {
      async function* half(): AsyncGenerator<SiteFile> {
        yield content('index.html', 'new');
        await Promise.resolve();
        throw new Error('a page could not be rendered');
      }
      await publish(out, half());
    }));

  it('leaves it where a file cannot be written', () =>
    afterFailure((out) =>
      put(out, content('index.html', 'new'), content('a', 'file'), content('a/b', 'below it')),
    ));

  it('leaves it where a file to copy is not there', () =>
    afterFailure((out, root) => put(out, { path: 'x.jpg', copyOf: join(root, 'nowhere.jpg') })));

  it('leaves it where a file to keep is not there', () =>
    afterFailure((out) => put(out, { path: 'nowhere.html', keep: true })));

  it('leaves it where the old site cannot be moved aside', () =>
    afterFailure((out) => {
      patch('renameSync', () => {
        throw new Error('busy');
      });
      return put(out, content('index.html', 'new'));
    }));

  it('puts it back where the new site cannot be moved into its place', () =>
    afterFailure((out) => {
      let calls = 0;
      patch('renameSync', (from, to) => {
        calls += 1;
        if (calls === 2) throw new Error('busy');
        real.renameSync(from, to);
      });
      return put(out, content('index.html', 'new'));
    }));

  it('leaves nothing where there was nothing', async () => {
    await withFolder(async (root) => {
      await expect(put(join(root, 'site'), { path: 'x', keep: true })).rejects.toThrow();
      expect(readdirSync(root)).toEqual([]);
    });
  });
});

/** Publishes in a process of its own that is killed at the given renaming, before or after it. */
function publishAndDie(out: string, at: number): void {
  const code = `
    import fs from 'node:fs';
    import { syncBuiltinESMExports } from 'node:module';
    const { renameSync } = fs;
    let calls = 0;
    fs.renameSync = (from, to) => {
      calls += 1;
      if (calls === ${at}) process.kill(process.pid, 'SIGKILL');
      renameSync(from, to);
    };
    syncBuiltinESMExports();
    const { publish } = await import(${JSON.stringify(pathToFileURL(join(import.meta.dirname, '../../src/write/publish.ts')).href)});
    await publish(${JSON.stringify(out)}, (async function* () { yield { path: 'index.html', content: 'new' }; })());
  `;
  const ran = spawnSync(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', code], {
    cwd: join(import.meta.dirname, '../..'),
    encoding: 'utf8',
  });
  expect(ran.signal, ran.stderr).toBe('SIGKILL');
}

describe('a run that is killed', () => {
  it('before the first renaming leaves the old site, and rubbish that the next run takes away', async () => {
    await withFolder(async (root) => {
      const out = join(root, 'site');
      await put(out, content('index.html', 'old'));
      publishAndDie(out, 1);
      expect(siteIn(out)).toEqual({ 'index.html': 'old' });
      expect(beside(out)).toHaveLength(1);
      await put(out, content('index.html', 'newer'));
      expect(siteIn(out)).toEqual({ 'index.html': 'newer' });
      expect(beside(out)).toEqual([]);
    });
  });

  it('between the two leaves a site that is put back when somebody looks', async () => {
    await withFolder(async (root) => {
      const out = join(root, 'site');
      await put(out, content('index.html', 'old'));
      publishAndDie(out, 2);
      expect(existsSync(out)).toBe(false);
      expect(inspectTarget(out)).toBe('ours');
      expect(siteIn(out)).toEqual({ 'index.html': 'old' });
    });
  });

  it('between the two leaves a site of which the next run can keep files', async () => {
    await withFolder(async (root) => {
      const out = join(root, 'site');
      await put(out, content('index.html', 'old'));
      publishAndDie(out, 2);
      await put(out, { path: 'index.html', keep: true });
      expect(siteIn(out)).toEqual({ 'index.html': 'old' });
      expect(beside(out)).toEqual([]);
    });
  });
});

describe('what lies where a site is to go', () => {
  it.each([
    ['absent', () => undefined],
    ['empty', (out: string) => mkdirSync(out)],
    ['not-a-folder', (out: string) => writeFileSync(out, 'a file')],
    [
      'foreign',
      (out: string) => {
        mkdirSync(out);
        writeFileSync(join(out, 'thesis.txt'), 'years of work');
      },
    ],
    [
      'ours',
      (out: string) => {
        mkdirSync(out);
        writeFileSync(join(out, MARKER), '');
      },
    ],
  ] as const)('is told: %s', async (target, make) => {
    await withFolder((root) => {
      const out = join(root, 'site');
      make(out);
      expect(inspectTarget(out)).toBe(target);
    });
  });

  it('is told of what publishing left', async () => {
    await withFolder(async (root) => {
      const out = join(root, 'site');
      await put(out, content('index.html', 'one'));
      expect(inspectTarget(out)).toBe('ours');
    });
  });
});
