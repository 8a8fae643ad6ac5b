import { execFileSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { firstCommits } from '../../src/seal/written-down.js';
import { tempFolder } from '../folders.js';

function git(cwd: string, args: readonly string[], day = '2026-05-01'): void {
  const at = `${day}T23:30:00+02:00`;
  execFileSync('git', ['-c', 'user.name=x', '-c', 'user.email=x@example.org', ...args], {
    cwd,
    env: { ...process.env, GIT_AUTHOR_DATE: at, GIT_COMMITTER_DATE: at },
    stdio: 'ignore',
  });
}

function put(root: string, path: string, text: string): void {
  mkdirSync(dirname(join(root, path)), { recursive: true });
  writeFileSync(join(root, path), text);
}

const WORDS = 'a line of words\nand one more of them\n'.repeat(5);

/** A repository whose folder `log` is a book with a history. */
function repository(): string {
  const top = tempFolder();
  git(top, ['init', '-q', '-b', 'main']);
  put(top, 'log/book.yaml', 'book: x\n');
  put(top, 'log/entries/2026/2026-04-01-ä b.md', `${WORDS}first`);
  git(top, ['add', '.']);
  git(top, ['commit', '-q', '-m', 'one'], '2026-04-02');
  put(top, 'log/entries/2026/2026-04-10-second.md', 'quite other words, of another thing');
  git(top, ['mv', 'log/entries/2026/2026-04-01-ä b.md', 'log/entries/2026/2026-04-01-renamed.md']);
  git(top, ['add', '.']);
  git(top, ['commit', '-q', '-m', 'two'], '2026-05-01');
  put(top, 'log/entries/2026/2026-04-10-second.md', 'quite other words, of another thing, mended');
  put(top, 'log/entries/2026/2026-04-11-not-committed.md', 'x');
  git(top, ['commit', '-q', '-a', '-m', 'three'], '2026-06-01');
  return top;
}

const DAYS = [
  ['entries/2026/2026-04-01-renamed.md', '2026-04-02'],
  ['entries/2026/2026-04-10-second.md', '2026-05-01'],
];

function daysOf(root: string): readonly (readonly string[])[] | null {
  const found = firstCommits(root);
  return found === null ? null : [...found.days].filter(([path]) => !path.includes(' ')).sort();
}

describe('the day on which an entry was first committed', () => {
  it('is that of the first commit with it, under whatever name, in a folder of the repository too', () => {
    expect(daysOf(join(repository(), 'log'))).toEqual(DAYS);
  });

  it('is not known without a repository, or without a commit', () => {
    const folder = tempFolder();
    expect(firstCommits(folder)).toBe(null);
    git(folder, ['init', '-q']);
    expect(firstCommits(folder)).toBe(null);
  });

  it('is said to be too late where the history is cut short', () => {
    const top = repository();
    const copy = tempFolder();
    git(copy, ['clone', '-q', '--depth', '1', `file://${top}`, 'cut']);
    expect(firstCommits(join(copy, 'cut', 'log'))?.isCutShort).toBe(true);
  });

  it('is read without running anything that the repository names', () => {
    const top = repository();
    const trace = join(tempFolder(), 'ran');
    const evil = join(top, 'evil.sh');
    writeFileSync(evil, `#!/bin/sh\necho ran >> ${trace}\ncat\n`);
    chmodSync(evil, 0o755);
    const settings = [
      'core.fsmonitor',
      'core.pager',
      'core.sshCommand',
      'core.alternateRefsCommand',
      'diff.external',
      'diff.x.textconv',
      'diff.x.command',
      'gpg.program',
      'gpg.ssh.program',
      'alias.log',
      'alias.rev-parse',
      'log.mailmap',
      'pager.log',
    ];
    for (const name of settings) git(top, ['config', name, name.startsWith('alias') ? `!${evil}` : evil]);
    git(top, ['config', 'log.showSignature', 'true']);
    writeFileSync(join(top, '.gitattributes'), '*.md diff=x\n');
    expect(daysOf(join(top, 'log'))).toEqual(DAYS);
    expect(existsSync(trace)).toBe(false);
    // The same settings do run what they name where git is asked in the ordinary way.
    git(top, ['status']);
    expect(existsSync(trace)).toBe(true);
  });
});
