import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** Runs things in processes of their own, as a user's shell would, and tells what they took. */

export interface Taken {
  /** From starting the process to its end. */
  readonly seconds: number;
  /** Of processors, on all cores: what is left to compare by where the machine is busy with other things. */
  readonly cpu: number;
  /** Highest resident memory, in MB. */
  readonly peak: number;
  readonly output: string;
}

/** Loaded into every child: says at its end, on a pipe of its own, what it used. */
const REPORTER = `data:text/javascript,${encodeURIComponent(
  "import{writeSync}from'node:fs';import{isMainThread}from'node:worker_threads';if(isMainThread)process.on('exit',()=>writeSync(3,JSON.stringify(process.resourceUsage())))",
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
  const used = JSON.parse(child.output[3] ?? '') as NodeJS.ResourceUsage;
  const cpu = (used.userCPUTime + used.systemCPUTime) / 1e6;
  return { seconds, cpu, peak: used.maxRSS / 1024, output: child.stdout };
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

/** The middle of several runs, figure by figure. */
export function middleOf(runs: readonly Taken[]): Taken {
  return {
    seconds: median(runs.map(({ seconds }) => seconds)),
    cpu: median(runs.map(({ cpu }) => cpu)),
    peak: median(runs.map(({ peak }) => peak)),
    output: runs[0]?.output ?? '',
  };
}
