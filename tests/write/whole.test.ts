import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { describe, expect, it } from 'vitest';
import { writeWhole } from '../../src/write/whole.js';
import { filesIn, withFolder } from './folder.js';

describe('writing a file whole', () => {
  it.each([
    ['a text', 'Ø 12 mm\n', Buffer.from('Ø 12 mm\n')],
    ['bytes', new Uint8Array([0, 255, 10, 13]), Buffer.from([0, 255, 10, 13])],
    ['nothing', '', Buffer.alloc(0)],
  ])('writes %s, making folders on the way', async (_what, content, bytes) => {
    await withFolder((root) => {
      const path = join(root, 'a', 'b', 'c.txt');
      writeWhole(path, content);
      expect(readFileSync(path)).toEqual(bytes);
      expect(readdirSync(join(root, 'a', 'b'))).toEqual(['c.txt']);
    });
  });

  it('names the file that was wanted where it cannot be written, and not one beside it', async () => {
    await withFolder((root) => {
      // As long as a name may be, so that there is no room for the name of the file aside.
      const path = join(root, 'x'.repeat(250));
      expect(() => writeWhole(path, 'x')).toThrow(expect.objectContaining({ code: 'ENAMETOOLONG', path }));
    });
  });

  it('replaces what is there and leaves nothing beside it', async () => {
    await withFolder((root) => {
      for (const text of ['long before', 'short']) writeWhole(join(root, 'a.txt'), text, 'soon');
      expect(filesIn(root)).toEqual({ 'a.txt': 'short' });
    });
  });

  it.each([0o600, 0o640, 0o664, 0o666, 0o755])('keeps the mode %o of the old file', async (mode) => {
    await withFolder((root) => {
      const path = join(root, 'a.txt');
      writeFileSync(path, 'old');
      chmodSync(path, mode);
      writeWhole(path, 'new');
      expect((statSync(path).mode & 0o777).toString(8)).toBe(mode.toString(8));
      expect(readFileSync(path, 'utf8')).toBe('new');
    });
  });

  it('gives a new file the mode that any new file would have', async () => {
    await withFolder((root) => {
      writeFileSync(join(root, 'plain'), '');
      writeWhole(join(root, 'whole'), '');
      expect(statSync(join(root, 'whole')).mode).toBe(statSync(join(root, 'plain')).mode);
    });
  });

  it('leaves the old file and nothing else where it fails', async () => {
    await withFolder((root) => {
      mkdirSync(join(root, 'taken'));
      writeFileSync(join(root, 'taken', 'inside.txt'), 'kept');
      writeFileSync(join(root, 'file'), 'kept');
      expect(() => writeWhole(join(root, 'taken'), 'text')).toThrow();
      expect(() => writeWhole(join(root, 'file', 'below.txt'), 'text')).toThrow();
      expect(filesIn(root)).toEqual({ file: 'kept', 'taken/inside.txt': 'kept' });
      expect(readdirSync(root).sort()).toEqual(['file', 'taken']);
    });
  });

  it('puts a file in the place of a link, and leaves alone what the link leads to', async () => {
    await withFolder((root) => {
      writeFileSync(join(root, 'elsewhere'), 'kept');
      symlinkSync(join(root, 'elsewhere'), join(root, 'link'));
      writeWhole(join(root, 'link'), 'new');
      expect(filesIn(root)).toEqual({ elsewhere: 'kept', link: 'new' });
    });
  });
});

/** Reads a file over and over in another thread, and counts what it found. */
const READER = `
const { parentPort, workerData } = require('node:worker_threads');
const { readFileSync } = require('node:fs');
const seen = {};
const end = Date.now() + 5000;
const stop = new Int32Array(workerData.stop);
parentPort.postMessage('ready');
while (Atomics.load(stop, 0) === 0 && Date.now() < end) {
  let what;
  try {
    const text = readFileSync(workerData.path, 'utf8');
    const whole = text.length === workerData.length && text === text[0].repeat(text.length);
    what = whole ? text[0] : 'torn';
  } catch (error) {
    what = error.code;
  }
  seen[what] = (seen[what] ?? 0) + 1;
}
parentPort.postMessage(seen);
`;

describe('whoever reads while a file is written', () => {
  it('finds the old text or the new one, whole', async () => {
    await withFolder(async (root) => {
      const path = join(root, 'a.txt');
      const length = 300_000;
      writeWhole(path, 'a'.repeat(length), 'soon');
      const stop = new SharedArrayBuffer(4);
      const worker = new Worker(READER, { eval: true, workerData: { path, length, stop } });
      const messages: unknown[] = [];
      const ended = new Promise<void>((resolve, reject) => {
        worker.on('message', (message) => messages.push(message));
        worker.on('error', reject);
        worker.on('exit', () => resolve());
      });
      await new Promise((resolve) => worker.once('message', resolve));
      for (let turn = 0; turn < 300; turn += 1)
        writeWhole(path, (turn % 2 === 0 ? 'b' : 'a').repeat(length), 'soon');
      Atomics.store(new Int32Array(stop), 0, 1);
      await ended;
      const seen = messages.at(-1) as Readonly<Record<string, number>>;
      expect(Object.keys(seen).every((what) => what === 'a' || what === 'b')).toBe(true);
      expect(Object.values(seen).reduce((sum, count) => sum + count, 0)).toBeGreaterThan(10);
      expect(existsSync(path)).toBe(true);
    });
  });
});
