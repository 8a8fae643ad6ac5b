import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { randomFrom } from '../bench/random.js';
import { BOOK, run } from '../cli/support.js';

/**
 * The program killed at random moments: what it was changing is then as it was, or as it was to be. A few kills each time;
 * with `KILLS=100` in the environment as many for each command.
 */

const BIN = join(import.meta.dirname, '../../dist/src/bundle/bin.js');
const KILLS = Number(process.env['KILLS'] ?? 5);
const folders: string[] = [];

beforeAll(() => {
  if (!existsSync(BIN)) throw new Error('There is no compiled program yet: run `npm run build` first.');
});

afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

function tempFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'ribband-kill-'));
  folders.push(folder);
  return folder;
}

function put(folder: string, files: Readonly<Record<string, string | Uint8Array>>): void {
  for (const [path, content] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), content);
  }
}

/** What is in a folder, its own workings left out. */
function stateOf(folder: string): string {
  if (!existsSync(folder)) return 'absent';
  const hash = createHash('sha256');
  const files = readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((file) => file.isFile())
    .map((file) => relative(folder, join(file.parentPath ?? file.path, file.name)))
    .filter((path) => !path.startsWith('.ribband') && !path.startsWith('_site'))
    .sort();
  for (const path of files) hash.update(`${path}\n`).update(readFileSync(join(folder, path)));
  return hash.digest('hex');
}

/** Runs the program, and kills it after so many milliseconds. @returns whether it was killed, and what it took */
function ribband(args: readonly string[], cwd: string, killAfter: number | null) {
  return new Promise<{ readonly killed: boolean; readonly code: number | null; readonly ms: number }>(
    (resolve) => {
      const began = performance.now();
      const child = spawn(process.execPath, [BIN, ...args], {
        cwd,
        env: { PATH: process.env['PATH'] ?? '', RIBBAND_TODAY: '2026-04-20' },
        stdio: 'ignore',
      });
      const timer = killAfter === null ? undefined : setTimeout(() => child.kill('SIGKILL'), killAfter);
      child.on('exit', (code, signal) => {
        clearTimeout(timer);
        resolve({ killed: signal === 'SIGKILL', code, ms: performance.now() - began });
      });
    },
  );
}

interface Case {
  readonly files: Readonly<Record<string, string | Uint8Array>>;
  readonly args: readonly string[];
  /** Where the change is seen. */
  readonly watched: (cwd: string) => string;
  /** Run once before, so that there is an old state. */
  readonly before?: readonly string[];
  /** Changed after that. */
  readonly edit?: Readonly<Record<string, string>>;
}

/** How often each state was met after a kill. */
type Met = Record<'old' | 'new' | 'finished by the next run', number>;

/** Kills a command again and again, each time on a fresh copy of the same folder. */
async function killed({ files, args, watched, before, edit }: Case): Promise<Met> {
  const start = tempFolder();
  put(start, files);
  if (before !== undefined) expect((await ribband(before, start, null)).code).toBe(0);
  put(start, edit ?? {});
  const copy = (): string => {
    const cwd = tempFolder();
    cpSync(start, cwd, { recursive: true, preserveTimestamps: true });
    return cwd;
  };
  const whole = copy();
  const old = watched(whole);
  const { ms, code } = await ribband(args, whole, null);
  expect(code).toBe(0);
  const fresh = watched(whole);
  expect(fresh).not.toBe(old);
  const random = randomFrom(7);
  const met: Met = { old: 0, new: 0, 'finished by the next run': 0 };
  for (let kill = 0; kill < KILLS; kill++) {
    const cwd = copy();
    await ribband(args, cwd, Math.floor(random.next() * ms * 1.05));
    const left = watched(cwd);
    // Whatever was left behind, the book is in order (looked at in this process, which saves starting one),
    expect((await run(['check', '--quiet'], { cwd })).code).toBe(0);
    const settled = watched(cwd);
    if (settled === old) {
      met.old += 1;
      // and the next run does what this one was to do.
      expect((await ribband(args, cwd, null)).code).toBe(0);
    } else if (left === fresh) met.new += 1;
    else {
      met['finished by the next run'] += 1;
      if (settled === 'absent') expect((await ribband(args, cwd, null)).code).toBe(0);
    }
    expect(watched(cwd)).toBe(fresh);
    rmSync(cwd, { recursive: true, force: true });
  }
  if (process.env['KILLS'] !== undefined) console.log(`${args[0]}: ${JSON.stringify(met)}`);
  return met;
}

const SERIES_BOOK = {
  ...BOOK,
  'systems/hull.md':
    '---\nsystem: hull\ntitle: Hull\npoints:\n  humidity: { quantity: relative-humidity, unit: "%RH" }\n  play: { quantity: length, unit: mm }\n---\n',
};
const ROWS = Array.from({ length: 9 }, (_, day) => `2026-03-0${day + 1},${60 + day},1.${day}`).join('\n');

const book = (cwd: string) => stateOf(cwd);
const total = (met: Met) => met.old + met.new + met['finished by the next run'];

describe('a run that is killed', { timeout: 1_800_000 }, () => {
  it('leaves the old site or the new one', async () => {
    const met = await killed({
      files: BOOK,
      before: ['build'],
      edit: {
        'systems/engine.md': (BOOK['systems/engine.md'] ?? '').replace('title: Engine', 'title: The engine'),
      },
      args: ['build'],
      watched: (cwd) => stateOf(join(cwd, '_site')),
    });
    expect(total(met)).toBe(KILLS);
  });

  it('leaves no entry, or the entry with all its pictures', async () => {
    const picture = await sharp({ create: { width: 900, height: 700, channels: 3, background: '#864' } })
      .jpeg()
      .toBuffer();
    const met = await killed({
      files: { ...BOOK, 'a.jpg': picture, 'b.jpg': picture },
      args: [
        ...['new', '--title', 'Looked again', '--system', 'house-dc', '--text', 'All well.'],
        ...['--photo', 'a.jpg=The bank', '--photo', 'b.jpg=The bank from aft'],
      ],
      watched: book,
    });
    expect(total(met)).toBe(KILLS);
  });

  it('leaves nothing of a table, or all of it', async () => {
    const met = await killed({
      files: {
        ...SERIES_BOOK,
        'table.csv': `Day,Humidity,Play\n${ROWS}\n`,
        'map.yaml':
          'time: { column: Day, as: YYYY-MM-DD }\nentries: { title: From the table }\nvalues:\n  - { column: Humidity, point: hull.humidity, unit: "%RH" }\n  - { column: Play, point: hull.play, unit: mm }\n',
      },
      args: ['take', 'table.csv', '--map', 'map.yaml'],
      watched: book,
    });
    expect(total(met)).toBe(KILLS);
  });
});
