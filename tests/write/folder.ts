import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Runs something on a folder of its own, which is taken away afterwards. */
export async function withFolder<T>(use: (root: string) => T | Promise<T>): Promise<T> {
  const root = mkdtempSync(join(tmpdir(), 'ribband-write-'));
  try {
    return await use(root);
  } finally {
    rmSync(root, { recursive: true, force: true });
  }
}

/** Everything below a folder: the text of each file by its path. */
export function filesIn(folder: string): Readonly<Record<string, string>> {
  const paths = (readdirSync(folder, { recursive: true }) as string[]).sort();
  return Object.fromEntries(
    paths
      .filter((path) => statSync(join(folder, path)).isFile())
      .map((path) => [path, readFileSync(join(folder, path), 'utf8')]),
  );
}
