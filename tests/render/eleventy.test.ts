import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { renderPages } from '../../src/render/eleventy.js';

const page = (path: string, content: string) => ({ path, key: path, render: () => content });

afterEach(() => vi.restoreAllMocks());

describe('rendering through Eleventy', () => {
  test('gives every page in order, whatever its folder and ending', async () => {
    const pages = [
      page('log/index.html', 'a year'),
      page('index.html', 'the first page'),
      page('entries/2026-04-18-größe.html', 'an entry'),
      page('data/readings.js', 'window.x=1'),
    ];
    const made = await renderPages(pages);
    expect(made).toEqual(pages.map(({ path, render }) => ({ path, content: render() })));
  });

  test('says nothing and leaves nothing behind', async () => {
    const log = vi.spyOn(console, 'log').mockImplementation(() => undefined);
    const own = mkdtempSync(join(tmpdir(), 'own-'));
    vi.stubEnv('TMPDIR', own);
    vi.stubEnv('TEMP', own);
    await renderPages([page('index.html', 'x')]);
    vi.unstubAllEnvs();
    expect(log).not.toHaveBeenCalled();
    expect(readdirSync(own)).toEqual([]);
    rmSync(own, { recursive: true });
  });

  test('runs nothing that looks like a template, and reads no configuration of the folder it runs in', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'elsewhere-'));
    writeFileSync(join(folder, 'eleventy.config.js'), 'throw new Error("this was run")');
    const cwd = vi.spyOn(process, 'cwd').mockReturnValue(folder);
    const text = '---js\n{ x: 1 }\n---\n{% include "x" %}{{ page.url }}';
    expect(await renderPages([page('index.html', text)])).toEqual([{ path: 'index.html', content: text }]);
    cwd.mockRestore();
    rmSync(folder, { recursive: true });
  });

  test('a page that throws is an error, not a page left out', async () => {
    vi.spyOn(console, 'error').mockImplementation(() => undefined);
    const broken = {
      path: 'x.html',
      key: '',
      render: () => {
        throw new Error('broken');
      },
    };
    await expect(renderPages([page('index.html', 'x'), broken])).rejects.toThrow();
  });

  test('nothing to render is nothing', async () => {
    expect(await renderPages([])).toEqual([]);
  });
});
