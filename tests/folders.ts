import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Folders of the tests: each file's are taken away when it is done (`setup.ts`). */

const made: string[] = [];

/** A new, empty folder. @param name what its name begins with */
export function tempFolder(name = 'ribband-'): string {
  const folder = mkdtempSync(join(tmpdir(), name));
  made.push(folder);
  return folder;
}

export function removeFolders(): void {
  for (const folder of made.splice(0)) rmSync(folder, { recursive: true, force: true });
}
