import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** Runs things in processes of their own, as a user's shell would, and tells what they took. */

export interface Taken {
  /** From starting the process to its end. */
  readonly seconds: number;
  /** Highest resident memory, in MB. */
  readonly peak: number;
  readonly output: string;
}

/** Loaded into every child: says at its end, on a pipe of its own, how much memory it had. */
const REPORTER = `data:text/javascript,${encodeURIComponent(
  "import{writeSync}from'node:fs';process.on('exit',()=>writeSync(3,String(process.resourceUsage().maxRSS)))",
)}`;

export const REPO = fileURLToPath(new URL('../../', import.meta.url));

/**
 * Runs Node and waits for it.
 *
 * @throws Error if it ends with anything but one of the codes that are all right
 */
export function runNode(args: readonly string[], cwd: string, fine: readonly number[] = [0]): Taken {
  const began = performance.now();
  const child = spawnSync(process.execPath, ['--import', REPORTER, ...args], {
    cwd,
    stdio: ['ignore', 'pipe', 'pipe', 'pipe'],
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  const seconds = (performance.now() - began) / 1000;
  if (child.status === null || !fine.includes(child.status))
    throw new Error(
      `${args.join(' ')} ended with ${child.status ?? child.signal}\n${child.stderr.slice(0, 2000)}`,
    );
  return { seconds, peak: Number(child.output[3]) / 1024, output: child.stdout };
}

/** Runs one of the bench's own scripts against the built tool; it prints one JSON value. */
export function runScript<T>(name: string, args: readonly string[]): T & { readonly peak: number } {
  const script = fileURLToPath(new URL(name, import.meta.url));
  const { output, peak } = runNode(['--import', 'tsx', script, ...args], REPO);
  return { ...(JSON.parse(output) as T), peak };
}

/** The middle one of several numbers. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? Number.NaN;
}

/** Runs something several times; the run with the middle time. */
export function medianOf(runs: number, run: () => Taken): Taken {
  const all = Array.from({ length: runs }, run).sort((a, b) => a.seconds - b.seconds);
  return all[all.length >> 1] as Taken;
}
