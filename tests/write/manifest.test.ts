import { appendFileSync, mkdirSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';
import { NO_CACHE, openCache } from '../../src/write/cache.js';
import { loadManifest, saveManifest } from '../../src/write/manifest.js';
import { withFolder } from './folder.js';

const KEYS = new Map([
  ['index.html', 'key 1'],
  ['log/2026.html', 'key 2'],
]);

/** A published site of two files, remembered. */
async function withSite(use: (out: string, load: () => ReturnType<typeof loadManifest<string>>) => void) {
  await withFolder((root) => {
    const out = join(root, 'site');
    mkdirSync(join(out, 'log'), { recursive: true });
    for (const path of KEYS.keys()) writeFileSync(join(out, path), path);
    const cache = openCache(root, 'one');
    saveManifest(cache, out, KEYS, 'all of it', 'a note');
    use(out, () => loadManifest<string>(cache, out));
  });
}

describe('what was published', () => {
  it('is known by the key it was made from', () =>
    withSite((_out, load) => {
      expect(load().has('index.html', 'key 1')).toBe(true);
      expect(load().has('index.html', 'key 2')).toBe(false);
      expect(load().has('nowhere.html', 'key 1')).toBe(false);
      expect([...load().paths].sort()).toEqual(['index.html', 'log/2026.html']);
    }));

  it.each([
    ['written to', (path: string) => appendFileSync(path, 'more')],
    ['given another time', (path: string) => utimesSync(path, 1, 1)],
    ['replaced by as many bytes', (path: string) => writeFileSync(path, 'INDEX.HTML')],
    ['deleted', (path: string) => rmSync(path)],
  ])('counts no longer once it was %s', (_how, touch) =>
    withSite((out, load) => {
      utimesSync(join(out, 'log/2026.html'), 5, 5);
      const cacheRoot = join(out, '..');
      const cache = openCache(cacheRoot, 'one');
      // Published a while ago, so that a new time is another time.
      utimesSync(join(out, 'index.html'), 5, 5);
      saveManifest(cache, out, KEYS, 'all of it', 'a note');
      expect(load().paths).toHaveLength(2);
      touch(join(out, 'index.html'));
      expect(load().has('index.html', 'key 1')).toBe(false);
      expect(load().paths).toEqual(['log/2026.html']);
      expect(load().noteOn('all of it')).toBeNull();
    }),
  );

  it('has its note only while all is as it was, made from the same', () =>
    withSite((_out, load) => {
      expect(load().noteOn('all of it')).toBe('a note');
      expect(load().noteOn('something else')).toBeNull();
    }));

  it('is remembered for each place by itself, however that is named', async () => {
    await withFolder((root) => {
      const cache = openCache(root, 'one');
      const out = join(root, 'site');
      mkdirSync(out);
      writeFileSync(join(out, 'a.html'), 'a');
      saveManifest(cache, out, new Map([['a.html', 'key']]), 'x', null);
      expect(loadManifest(cache, relative(process.cwd(), out)).has('a.html', 'key')).toBe(true);
      expect(loadManifest(cache, join(root, 'other')).paths).toEqual([]);
    });
  });

  it('leaves out what is not there, and is nothing without a cache', async () => {
    await withFolder((root) => {
      const cache = openCache(root, 'one');
      saveManifest(cache, root, new Map([['nowhere.html', 'key']]), 'x', null);
      expect(loadManifest(cache, root).paths).toEqual([]);
      saveManifest(NO_CACHE, root, KEYS, 'x', null);
      expect(loadManifest(NO_CACHE, root)).toMatchObject({ paths: [] });
      expect(loadManifest(NO_CACHE, root).noteOn('x')).toBeNull();
    });
  });
});
