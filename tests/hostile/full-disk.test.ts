import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  chmodSync,
  chownSync,
  existsSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statfsSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startServer } from '../../src/cli/serve/server.js';
import { takeEntry } from '../../src/cli/take-entry.js';
import { emptyDraft } from '../../src/draft/draft.js';
import { BOOK, put, run, TODAY } from '../cli/support.js';

/**
 * Every command that writes, on a disk that is full after more and more of what it writes, and on one that lets nothing be
 * written: one plain line, the old state as it was, and all of it once there is room.
 */

const HELD = mkdtempSync(join(tmpdir(), 'ribband-disk-'));
const DISK = join(HELD, 'disk');

/** Whether a small disk of our own can be had: for that one has to be root, on a system that lets them be mounted. */
function canMount(): boolean {
  if (process.platform !== 'linux' || process.getuid?.() !== 0) return false;
  mkdirSync(DISK, { recursive: true });
  const mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=16m', 'tmpfs', DISK]).status === 0;
  if (mounted) spawnSync('umount', [DISK]);
  return mounted;
}

const CAN = canMount();
const WHY = CAN ? '' : ' (passed over: a disk of its own needs root on Linux)';

afterAll(() => {
  if (CAN) spawnSync('umount', ['-l', DISK]);
  rmSync(HELD, { recursive: true, force: true });
});

interface Writing {
  readonly argv: readonly string[];
  readonly files?: Readonly<Record<string, string>>;
  /** Run before, with room enough. */
  readonly before?: readonly (readonly string[])[];
  /** Changed after that. */
  readonly edit?: Readonly<Record<string, string>>;
  /** What it ends with where all is well. */
  readonly code?: number;
  /** Whether one size of disk has to do. */
  readonly once?: boolean;
  /** Whether there is a photo. */
  readonly photo?: boolean;
  /** Whether it begins on an empty disk. */
  readonly bare?: boolean;
  /** Files of the book that may be changed singly, each whole. */
  readonly each?: boolean;
}

/** A picture that takes room on a disk. */
const PHOTO = await sharp(
  Buffer.from(Array.from({ length: 300 * 300 * 3 }, (_, at) => (at * at * 7) % 251)),
  {
    raw: { width: 300, height: 300, channels: 3 },
  },
)
  .png()
  .toBuffer();

const ROWS = Array.from(
  { length: 400 },
  (_, at) =>
    `2026-01-${String((at % 28) + 1).padStart(2, '0')} ${String(Math.floor(at / 28)).padStart(2, '0')}:00,${60 + (at % 9)}`,
);

const WRITINGS: Readonly<Record<string, Writing>> = {
  'build, again': {
    argv: ['build'],
    before: [['build']],
    edit: {
      'entries/2026/2026-04-19-more.md':
        '---\ndate: 2026-04-19\ntitle: More\nsystems: [engine]\n---\nMore.\n',
    },
  },
  'build, for the first time, with a photo': {
    argv: ['build'],
    photo: true,
    files: {
      'entries/2026/2026-04-19-plate.md':
        '---\ndate: 2026-04-19\ntitle: Plate\nsystems: [engine]\nphotos:\n  - { file: photos/2026/plate.png, alt: The plate }\n---\n',
    },
  },
  'build --seal': { argv: ['build', '--seal'] },
  new: {
    argv: [
      'new',
      '--title',
      'Looked again',
      '--system',
      'engine',
      '--text',
      'x'.repeat(9_000),
      '--date',
      '2026-04-20',
    ],
  },
  'new, in the first entry of a year': {
    argv: [
      'new',
      '--title',
      'Looked',
      '--system',
      'engine',
      '--text',
      'x'.repeat(9_000),
      '--date',
      '2025-04-20',
    ],
  },
  take: {
    argv: ['take', 'table.csv', '--map', 'map.yaml'],
    files: {
      'systems/hull.md':
        '---\nsystem: hull\ntitle: Hull\npoints:\n  humidity: { quantity: relative-humidity, unit: "%RH", series: series/humidity.csv }\n---\n',
      'table.csv': `Day,Humidity\n${ROWS.join('\n')}\n`,
      'map.yaml':
        'time: { column: Day, as: YYYY-MM-DD HH:mm }\nvalues: [{ column: Humidity, point: hull.humidity, unit: "%RH" }]\n',
    },
  },
  seal: { argv: ['seal'] },
  'check --fix': {
    argv: ['check', '--fix', '--quiet'],
    files: Object.fromEntries(
      [16, 17, 19].map((day) => [
        `entries/2026/2026-04-${day}-odd.md`,
        `---\ntitle: Odd\nsystems: [engine]\ndate: 2026-04-${day}\nmeters:\n  - { meter: engine.hours, reads: 13${day}.0 hours }\n---\n${'Long. '.repeat(900)}\n`,
      ]),
    ),
    each: true,
  },
  init: { argv: ['init', 'another'], bare: true },
  'changes --out': { argv: ['changes', '--from', '2026-01-01', '--out', 'page'] },
  // Printed by a browser, which takes seconds.
  pack: { argv: ['pack', '--pdf', 'pack.pdf'], once: true },
};

/** Everything on the disk with its hash, without what may be thrown away at any time. */
function state(): ReadonlyMap<string, string> {
  const paths = (readdirSync(DISK, { recursive: true }) as string[]).filter(
    (path) => !/^(?:filler|\.ribband(?:$|\/))/.test(path),
  );
  return new Map(
    paths.sort().map((path) => {
      const whole = join(DISK, path);
      return [
        path,
        lstatSync(whole).isFile() ? createHash('sha256').update(readFileSync(whole)).digest('hex') : 'folder',
      ];
    }),
  );
}

function leftovers(): readonly string[] {
  const cache = join(DISK, '.ribband');
  return existsSync(cache)
    ? readdirSync(cache).filter((name) => name.startsWith('writing-') || name.endsWith('.part'))
    : [];
}

/** A disk with the book on it, and nothing else. */
async function withDisk(size: string, writing: Writing, use: () => Promise<void>): Promise<void> {
  execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${size}`, 'tmpfs', DISK]);
  try {
    if (writing.bare !== true) put(DISK, { ...BOOK, ...writing.files });
    if (writing.photo === true) {
      mkdirSync(join(DISK, 'photos/2026'), { recursive: true });
      writeFileSync(join(DISK, 'photos/2026/plate.png'), PHOTO);
    }
    for (const argv of writing.before ?? []) expect((await run(argv, { cwd: DISK })).code).toBe(0);
    put(DISK, writing.edit ?? {});
    await use();
  } finally {
    execFileSync('umount', ['-l', DISK]);
  }
}

/** Leaves so many kilobytes free. */
function fillUp(free: number): void {
  const filler = join(DISK, 'filler');
  rmSync(filler, { force: true });
  const { bavail, bsize } = statfsSync(DISK);
  writeFileSync(filler, Buffer.alloc(Math.max(0, Math.floor((bavail * bsize) / 4096) * 4096 - free * 1024)));
}

function expectOneLine(
  ran: { readonly code: number; readonly out: string; readonly err: string },
  words: RegExp,
  what: string,
): void {
  const told = ran.err
    .split('\n')
    .filter((line) => line !== '' && !line.startsWith('Sealed ') && !/^\d+ of \d+/.test(line));
  expect([ran.code, told.length], `${what}: ${ran.err}`).toEqual([2, 1]);
  expect(told[0], what).toMatch(/^ribband: Cannot use \/\S+: .*\. [A-Z].*\.$/);
  expect(told[0], what).toMatch(words);
  expect(told[0], what).not.toMatch(/\.part|ribband-new|writing-/);
}

describe.skipIf(!CAN)(`a disk that is full${WHY}`, () => {
  it.each(Object.entries(WRITINGS))('%s', { timeout: 120_000 }, async (what, writing) => {
    await withDisk('16m', writing, async () => {
      const old = state();
      const failed: number[] = [];
      for (let free = 0; free <= 8_192; free = Math.max(4, Math.ceil((free * 4) / 4) * 4)) {
        fillUp(free);
        const ran = await run(writing.argv, { cwd: DISK });
        if (ran.code === (writing.code ?? 0)) break;
        failed.push(free);
        expectOneLine(ran, /the disk is full\. Make room on it/, `${what}, ${free} kB free`);
        if (writing.each !== true) expect(state(), `${what}, ${free} kB free`).toEqual(old);
        expect([...state().keys()], `${what}, ${free} kB free`).toEqual([...old.keys()]);
        expect(leftovers()).toEqual([]);
        if (writing.once === true) return;
      }
      expect(failed.length, what).toBeGreaterThan(0);
      // It has been done now that there was room.
      expect(state()).not.toEqual(old);
    });
  });

  it('export, whose output goes to a file on it', async () => {
    await withDisk('1m', { argv: [] }, async () => {
      fillUp(0);
      for (const argv of [['export'], ['find', 'bank']]) {
        const bin = join(import.meta.dirname, '../../dist/src/bundle/bin.js');
        const ran = spawnSync('sh', ['-c', `exec "$0" "$@" > out`, process.execPath, bin, ...argv], {
          cwd: DISK,
          encoding: 'utf8',
          env: { PATH: process.env['PATH'] ?? '' },
        });
        expect(
          [ran.status, ran.stderr.split('\n').filter((line) => /^ribband: /.test(line))],
          argv.join(' '),
        ).toEqual([
          2,
          [
            'ribband: Cannot write what was asked for: the disk is full. Make room on it, and call this again.',
          ],
        ]);
      }
    });
  });

  it('an entry from the writing page', async () => {
    await withDisk('2m', { argv: [] }, async () => {
      const old = state();
      const told: unknown[] = [];
      const server = await startServer({
        shown: { get: () => Promise.resolve(null), hasPages: () => true, diagnostics: () => [] },
        port: 0,
        address: null,
        word: 'w',
        takeIn: (draft, pictures) => takeEntry({ root: DISK, today: TODAY, draft, pictures }),
        fault: (error) => told.push(error),
      });
      const origin = `http://localhost:${server.port}`;
      const form = new FormData();
      form.set(
        'draft',
        JSON.stringify({
          ...emptyDraft('2026-04-20'),
          title: 'Looked',
          systems: ['engine'],
          prose: 'x'.repeat(9_000),
        }),
      );
      const send = () =>
        fetch(`${origin}/__ribband/entry`, {
          method: 'POST',
          body: form,
          headers: { origin, 'x-ribband-word': 'w' },
        });
      fillUp(0);
      const full = await send();
      expect([full.status, await full.json()]).toEqual([
        422,
        {
          is: 'failed',
          why: `Cannot use ${DISK}/entries/2026/2026-04-20-looked.md: the disk is full. Make room on it, and call this again.`,
        },
      ]);
      expect(state()).toEqual(old);
      fillUp(512);
      expect((await send()).status).toBe(200);
      expect(state().size).toBe(old.size + 1);
      await server.close();
    });
  });
});

describe.skipIf(!CAN)(`a disk that lets nothing be written${WHY}`, () => {
  it.each(Object.entries(WRITINGS).filter(([, { once }]) => once !== true))('%s', async (what, writing) => {
    await withDisk('8m', writing, async () => {
      const old = state();
      execFileSync('mount', ['-o', 'remount,ro', DISK]);
      const ran = await run(writing.argv, { cwd: DISK });
      expectOneLine(ran, /the disk is read-only\. Take a folder on another disk/, what);
      expect(state()).toEqual(old);
    });
  });
});

describe.skipIf(!CAN)(`a folder that belongs to somebody else${WHY}`, () => {
  const NOBODY = 65_534;

  beforeAll(() => {
    chmodSync(HELD, 0o755);
  });

  it.each(Object.entries(WRITINGS).filter(([, { once }]) => once !== true))('%s', async (what, writing) => {
    await withDisk('8m', writing, async () => {
      const old = state();
      for (const path of ['', ...old.keys(), ...(existsSync(join(DISK, '.ribband')) ? ['.ribband'] : [])])
        if (lstatSync(join(DISK, path)).isDirectory()) chmodSync(join(DISK, path), 0o555);
      chownSync(DISK, 0, 0);
      process.seteuid?.(NOBODY);
      const ran = await run(writing.argv, { cwd: DISK }).finally(() => process.seteuid?.(0));
      expectOneLine(ran, /you have no permission\. Change whose it is/, what);
      expect(state()).toEqual(old);
    });
  });
});
