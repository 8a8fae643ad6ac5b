import { execFileSync } from 'node:child_process';
import { copyFileSync, existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** When each entry came into version control, by the commit that first had it. */
export interface FirstCommits {
  /** Day of that commit where it was made, by path in the book. */
  readonly days: ReadonlyMap<string, string>;
  /** Whether the history begins later than the book: what it had then is all of one day. */
  readonly isCutShort: boolean;
}

/**
 * Reads from git on which day each entry was first committed; a renamed one keeps its first day.
 *
 * The repository may be a stranger's, and git runs programs that a repository's own settings name. So its
 * settings are never in force while the history is read: that is done from an empty repository of our own that
 * borrows its objects.
 *
 * @returns null where there is no git, no repository or no commit.
 */
export function firstCommits(root: string): FirstCommits | null {
  const where = askGit(
    ['rev-parse', '--path-format=absolute', '--git-common-dir', '--show-object-format', 'HEAD'],
    {
      cwd: root,
    },
  );
  const [common, format, head] = where?.split('\n') ?? [];
  if (common === undefined || format === undefined || !/^[0-9a-f]{40,64}$/.test(head ?? '')) return null;
  const prefix = askGit(['rev-parse', '--show-prefix'], { cwd: root })?.replace(/\n$/, '') ?? '';
  const own = mkdtempSync(join(tmpdir(), 'ribband-history-'));
  try {
    const bare = join(own, 'bare');
    askGit(['init', '-q', '--bare', '--template=', `--object-format=${format}`, bare], { cwd: own });
    const isCutShort = existsSync(join(common, 'shallow'));
    if (isCutShort) copyFileSync(join(common, 'shallow'), join(bare, 'shallow'));
    const log = askGit(
      [
        ...['-c', 'core.quotepath=off', 'log', '--reverse', '--no-show-signature', '--format=%x01%cs'],
        ...[
          '--name-status',
          '-z',
          '-M',
          '--diff-filter=AR',
          '--no-ext-diff',
          head ?? '',
          '--',
          `${prefix}entries`,
        ],
      ],
      { cwd: own, env: { GIT_DIR: bare, GIT_OBJECT_DIRECTORY: join(common, 'objects') } },
    );
    return log === null ? null : { days: daysIn(log, prefix), isCutShort };
  } finally {
    rmSync(own, { recursive: true, force: true });
  }
}

/** `\x01DAY`, then `A`, path, or `R100`, path, path, each with a nought behind. */
function daysIn(log: string, prefix: string): Map<string, string> {
  const days = new Map<string, string>();
  for (const commit of log.split('\x01').slice(1)) {
    const [day = '', ...words] = commit.split('\0').map((word) => word.replace(/^\n/, ''));
    for (let at = 0; at < words.length; ) {
      const isRename = words[at]?.startsWith('R') === true;
      const old = words[at + 1]?.slice(prefix.length) ?? '';
      const path = (isRename ? words[at + 2] : words[at + 1])?.slice(prefix.length) ?? '';
      const first = (isRename ? days.get(old) : days.get(path)) ?? day;
      if (path !== '') days.set(path, first);
      at += isRename ? 3 : 2;
    }
  }
  return days;
}

interface Where {
  readonly cwd: string;
  readonly env?: Readonly<Record<string, string>>;
}

function askGit(args: readonly string[], { cwd, env = {} }: Where): string | null {
  try {
    return execFileSync('git', [...args], {
      cwd,
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
      maxBuffer: 1 << 28,
      env: { ...withoutGit(process.env), GIT_TERMINAL_PROMPT: '0', GIT_NO_LAZY_FETCH: '1', ...env },
    });
  } catch {
    return null;
  }
}

/** The same without what git takes from it: run from a hook, it would look into another repository. */
function withoutGit(env: NodeJS.ProcessEnv): NodeJS.ProcessEnv {
  return Object.fromEntries(Object.entries(env).filter(([name]) => !name.startsWith('GIT_')));
}
