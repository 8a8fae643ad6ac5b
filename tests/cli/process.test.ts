import { spawn, spawnSync } from 'node:child_process';
import { chmodSync, existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { tempFolder } from '../folders.js';
import { BROKEN, book } from './support.js';

const ROOT = join(import.meta.dirname, '../..');
const BIN = join(ROOT, 'dist/src/bundle/bin.js');

interface Options {
  readonly cwd: string;
  readonly env?: Readonly<Record<string, string>>;
  readonly uid?: number;
  readonly gid?: number;
}

/** Runs the program for real, without the environment of whoever runs the tests. */
function ribband(args: readonly string[], { cwd, env = {}, ...who }: Options) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [BIN, ...args], {
    cwd,
    env: { PATH: process.env['PATH'] ?? '', RIBBAND_TODAY: '2026-04-20', ...env },
    encoding: 'utf8',
    // An export is larger than what is let through by default.
    maxBuffer: 1 << 28,
    ...who,
  });
  return { code: status, out: stdout, err: stderr };
}

beforeAll(() => {
  if (!existsSync(BIN)) throw new Error('There is no compiled program yet: run `npm run build` first.');
});

describe('the program, run for real', () => {
  it('ends with 0, 1 or 2', () => {
    expect(ribband(['check', '--quiet'], { cwd: book() }).code).toBe(0);
    expect(ribband(['check'], { cwd: book(BROKEN) }).code).toBe(1);
    expect(ribband(['chekc'], { cwd: book() })).toEqual({
      code: 2,
      out: '',
      err: 'ribband: There is no command `chekc`. Did you mean `check`?\n',
    });
  });

  it('colours nothing in a pipe, and nothing with NO_COLOR even where it is told to', () => {
    const cwd = book(BROKEN);
    expect(ribband(['check'], { cwd }).out).not.toContain('\u001b');
    expect(ribband(['check'], { cwd, env: { FORCE_COLOR: '1' } }).out).toContain('\u001b[1;31merror');
    expect(ribband(['check'], { cwd, env: { FORCE_COLOR: '1', NO_COLOR: '1' } }).out).not.toContain('\u001b');
  });

  it('asks nothing where its input is no terminal', () => {
    const ran = ribband(['new'], { cwd: book() });
    expect([ran.code, ran.out]).toEqual([2, '']);
    expect(ran.err).toContain(
      '`--title` is needed where there is no terminal to ask at.\nUsage: ribband new',
    );
  });

  it('takes today from the local calendar', () => {
    const days = ['Pacific/Kiritimati', 'Etc/GMT+12'].map((TZ) => {
      const cwd = tempFolder();
      expect(ribband(['init'], { cwd, env: { TZ, RIBBAND_TODAY: '' } }).code).toBe(0);
      const year = readdirSync(join(cwd, 'entries'))[0] as string;
      const name = readdirSync(join(cwd, 'entries', year))[0] as string;
      const local = new Intl.DateTimeFormat('sv-SE', { timeZone: TZ }).format(new Date());
      expect(name).toBe(`${local}-the-book-begins.md`);
      return name;
    });
    // These two are 26 hours apart: at every moment their days differ.
    expect(new Set(days).size).toBe(2);
  });

  it('does not mind when nobody reads on', () => {
    const { status, stdout, stderr } = spawnSync(
      'bash',
      ['-c', `set -o pipefail; "${process.execPath}" "${BIN}" export "${join(ROOT, 'log')}" | head -c 20`],
      { cwd: tempFolder(), env: { PATH: process.env['PATH'] ?? '' }, encoding: 'utf8' },
    );
    expect(stdout).toBe('{\n "format": "ribban');
    expect(stderr).not.toMatch(/EPIPE|Error|\n {4}at /);
    expect(status).toBe(0);
  });

  it('prints a large export whole into a pipe', () => {
    const { code, out } = ribband(['export', join(ROOT, 'log')], {
      cwd: tempFolder(),
      env: { RIBBAND_TODAY: '' },
    });
    expect(code).toBe(0);
    expect(out.length).toBeGreaterThan(200_000);
    expect((JSON.parse(out) as { format: string }).format).toBe('ribband-export');
  });

  it('says in one line that a folder is not to be written to', () => {
    const cwd = tempFolder();
    chmodSync(cwd, 0o555);
    // The administrator may write anywhere, so somebody else has to try.
    const who = process.getuid?.() === 0 ? { uid: 65_534, gid: 65_534 } : {};
    const ran = ribband(['init', 'log'], { cwd, ...who });
    chmodSync(cwd, 0o755);
    expect([ran.code, ran.out]).toEqual([2, '']);
    expect(ran.err).toMatch(
      /^ribband: Cannot use \S*log: you have no permission\. Change whose it is, or take another folder\.\n$/,
    );
    expect(readdirSync(cwd)).toEqual([]);
  });
});

describe('ribband serve, run for real', () => {
  it('ends cleanly on Ctrl-C', async () => {
    const serving = spawn(process.execPath, [BIN, 'serve', '--port', '0'], {
      cwd: book(),
      env: { PATH: process.env['PATH'] ?? '', RIBBAND_TODAY: '2026-04-20' },
    });
    const ended = new Promise((resolve) => serving.on('exit', (code, signal) => resolve({ code, signal })));
    const address = await new Promise<string>((resolve) => {
      serving.stdout.on('data', (piece: Buffer) => resolve(piece.toString('utf8').trim()));
    });
    const page = await fetch(address);
    expect(page.status).toBe(200);
    // An open page listens; that must not hold the program back.
    const events = await fetch(new URL('/__ribband/events', address));
    expect(events.status).toBe(200);
    serving.kill('SIGINT');
    expect(await ended).toEqual({ code: 0, signal: null });
  });
});
