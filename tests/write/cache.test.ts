import fs, { existsSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { SourceFile } from '../../src/read/folder.js';
import { CACHE_FOLDER, NO_CACHE, openCache, parseMemory } from '../../src/write/cache.js';
import { withFolder } from './folder.js';

const { mkdirSync } = fs;

const VALUE = { a: [1, 'Ø', null], b: { c: true } };

describe('the cache of a book', () => {
  it('gives back what was kept, to the same version only', async () => {
    await withFolder((root) => {
      const cache = openCache(root, 'one');
      expect(cache.load('x.json')).toBeNull();
      cache.save('x.json', VALUE);
      expect(cache.load('x.json')).toEqual(VALUE);
      expect(openCache(root, 'one').load('x.json')).toEqual(VALUE);
      expect(openCache(root, 'two').load('x.json')).toBeNull();
      expect(openCache(root, 'on').load('x.json')).toBeNull();
      expect(cache.load('y.json')).toBeNull();
    });
  });

  it('keeps itself out of version control, without touching what is there', async () => {
    await withFolder((root) => {
      openCache(root, 'one');
      expect(readFileSync(join(root, CACHE_FOLDER, '.gitignore'), 'utf8')).toBe('*\n');
      writeFileSync(join(root, CACHE_FOLDER, '.gitignore'), 'mine\n');
      openCache(root, 'two');
      expect(readFileSync(join(root, CACHE_FOLDER, '.gitignore'), 'utf8')).toBe('mine\n');
      expect(readdirSync(root)).toEqual([CACHE_FOLDER]);
    });
  });

  it('may be deleted at any time', async () => {
    await withFolder((root) => {
      const cache = openCache(root, 'one');
      cache.save('x.json', VALUE);
      rmSync(join(root, CACHE_FOLDER), { recursive: true });
      expect(cache.load('x.json')).toBeNull();
      cache.save('x.json', VALUE);
      expect(cache.load('x.json')).toEqual(VALUE);
    });
  });

  it('takes a file that was damaged in any way for none', async () => {
    await withFolder((root) => {
      const cache = openCache(root, 'one');
      const path = join(root, CACHE_FOLDER, 'x.json');
      cache.save('x.json', VALUE);
      const whole = readFileSync(path);
      const damage = fc.oneof(
        fc.record({ cut: fc.nat({ max: whole.length - 1 }) }),
        fc.record({ at: fc.nat({ max: whole.length - 1 }), bit: fc.nat({ max: 7 }) }),
        fc.record({ more: fc.uint8Array({ minLength: 1, maxLength: 9 }) }),
        fc.record({ instead: fc.uint8Array({ maxLength: 40 }) }),
        fc.record({ json: fc.json() }),
      );
      fc.assert(
        fc.property(damage, (how) => {
          const bytes = damaged(whole, how);
          fc.pre(!bytes.equals(whole));
          writeFileSync(path, bytes);
          expect(cache.load('x.json')).toBeNull();
        }),
        { numRuns: 300 },
      );
    });
  });

  it('is none where the folder of the book cannot be written to', async () => {
    await withFolder((root) => {
      // Whoever runs the tests may be allowed to write anywhere, so the disk is made to refuse.
      fs.mkdirSync = () => {
        throw Object.assign(new Error('read-only'), { code: 'EROFS' });
      };
      syncBuiltinESMExports();
      try {
        const cache = openCache(root, 'one');
        expect(cache).toBe(NO_CACHE);
        cache.save('x.json', VALUE);
        expect(cache.load('x.json')).toBeNull();
      } finally {
        fs.mkdirSync = mkdirSync;
        syncBuiltinESMExports();
      }
    });
  });

  it('is none where a file lies in the place of its folder', async () => {
    await withFolder((root) => {
      writeFileSync(join(root, CACHE_FOLDER), 'mine');
      expect(openCache(root, 'one')).toBe(NO_CACHE);
      expect(readFileSync(join(root, CACHE_FOLDER), 'utf8')).toBe('mine');
    });
  });

  it('is a slower next run, and nothing worse, where something cannot be kept', async () => {
    await withFolder((root) => {
      const cache = openCache(root, 'one');
      mkdirSync(join(root, CACHE_FOLDER, 'x.json'));
      expect(() => cache.save('x.json', VALUE)).not.toThrow();
      expect(cache.load('x.json')).toBeNull();
    });
  });
});

function damaged(
  whole: Buffer,
  how: { cut?: number; at?: number; bit?: number; more?: Uint8Array; instead?: Uint8Array; json?: string },
): Buffer {
  if (how.cut !== undefined) return whole.subarray(0, how.cut);
  if (how.more !== undefined) return Buffer.concat([whole, how.more]);
  if (how.instead !== undefined) return Buffer.from(how.instead);
  if (how.json !== undefined) return Buffer.from(how.json);
  const bytes = Buffer.from(whole);
  bytes[how.at ?? 0] = (bytes[how.at ?? 0] ?? 0) ^ (1 << (how.bit ?? 0));
  return bytes;
}

const source = (path: string, hash: string): SourceFile => ({ path, hash, role: 'entry', text: '' });

describe('the memory of checked files', () => {
  it('recalls a file by path and content', async () => {
    await withFolder((root) => {
      const cache = openCache(root, 'one');
      const [a, b] = [source('a.md', '1'), source('b.md', '2')];
      const memory = parseMemory(cache);
      expect(memory.recall(a)).toBeUndefined();
      memory.keep(a, { date: 'x' });
      memory.keep(b, { date: 'y' });
      memory.store([a, b]);
      const again = parseMemory(openCache(root, 'one'));
      expect(again.recall(a)).toEqual({ date: 'x' });
      expect(again.recall(source('a.md', '2'))).toBeUndefined();
      expect(again.recall(source('c.md', '1'))).toBeUndefined();
      expect(parseMemory(openCache(root, 'two')).recall(a)).toBeUndefined();
    });
  });

  it('forgets files that are gone, and writes only when something is new', async () => {
    await withFolder((root) => {
      const cache = openCache(root, 'one');
      const [a, b] = [source('a.md', '1'), source('b.md', '2')];
      const first = parseMemory(cache);
      first.keep(a, 1);
      first.keep(b, 2);
      first.store([a, b]);
      const kept = join(root, CACHE_FOLDER, 'parsed.json');
      const written = statSync(kept).ino;
      parseMemory(cache).store([a, b]);
      expect(statSync(kept).ino).toBe(written);
      parseMemory(cache).store([b]);
      expect(statSync(kept).ino).not.toBe(written);
      expect(parseMemory(cache).recall(a)).toBeUndefined();
      expect(parseMemory(cache).recall(b)).toBe(2);
    });
  });

  it('remembers a path that is called like a thing of the language', async () => {
    await withFolder((root) => {
      const cache = openCache(root, 'one');
      const odd = source('__proto__', '1');
      const memory = parseMemory(cache);
      memory.keep(odd, 'kept');
      memory.store([odd]);
      expect(parseMemory(cache).recall(odd)).toBe('kept');
      expect(existsSync(join(root, CACHE_FOLDER, 'parsed.json'))).toBe(true);
    });
  });
});
