import { relative } from 'node:path';
import { watch } from 'chokidar';

/** The parts of a book's folder; nothing else in it says anything about the book. */
const PARTS = new Set(['book.yaml', 'systems', 'entries', 'plans', 'series', 'photos']);

/** An editor that saves a file does so in several steps; they are taken together. In milliseconds. */
const SETTLE = 20;

export interface Watching {
  /** Resolves when all files are watched and what was saved meanwhile has been told of. */
  readonly ready: Promise<void>;
  readonly close: () => Promise<void>;
}

/**
 * Watches a book's folder and calls `changed` after each change. Calls never overlap: what changes during one
 * brings another.
 */
export function watchBook(
  root: string,
  changed: () => Promise<void>,
  failed: (error: unknown) => void,
): Watching {
  const watcher = watch(root, {
    ignoreInitial: true,
    followSymlinks: false,
    atomic: false,
    ignored: (path) => isOutside(relative(root, path)),
  });
  const run = oneAtATime(changed, failed);
  let timer: NodeJS.Timeout | undefined;
  watcher.on('all', () => {
    clearTimeout(timer);
    timer = setTimeout(() => void run(), SETTLE);
  });
  watcher.on('error', failed);
  return {
    ready: new Promise<void>((resolve) => watcher.once('ready', resolve)).then(run),
    close: async () => {
      clearTimeout(timer);
      await watcher.close();
    },
  };
}

function isOutside(path: string): boolean {
  if (path === '') return false;
  const steps = path.split(/[\\/]/);
  return !PARTS.has(steps[0] ?? '') || steps.some((step) => step.startsWith('.'));
}

function oneAtATime(job: () => Promise<void>, failed: (error: unknown) => void): () => Promise<void> {
  let running = false;
  let again = false;
  return async () => {
    if (running) {
      again = true;
      return;
    }
    running = true;
    do {
      again = false;
      await job().catch(failed);
    } while (again);
    running = false;
  };
}
