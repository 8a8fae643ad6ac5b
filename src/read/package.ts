import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** Where this package lies, whether it runs compiled from `dist/` or from its sources. */
export function packageRoot(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, 'package.json')) && dirname(folder) !== folder) folder = dirname(folder);
  return folder;
}

/** The version in package.json. */
export function packageVersion(): string {
  const description = JSON.parse(readFileSync(join(packageRoot(), 'package.json'), 'utf8')) as {
    version: string;
  };
  return description.version;
}

/** A JSON Schema of the format, as shipped: `entry`, `system`, `book`, `power-plan`, `weights-plan`. */
export function shippedSchema(name: string): unknown {
  return JSON.parse(readFileSync(join(packageRoot(), 'schemas', 'json', `${name}.schema.json`), 'utf8'));
}

/** Where the code that is running lies: `dist/` of the package, or the package itself. */
function codeRoot(): string {
  return join(dirname(fileURLToPath(import.meta.url)), '..', '..');
}

/**
 * Stands for the code in some folders: another code, another hash. What is kept between runs is kept under
 * it, so that nothing made by an older version is ever taken for good.
 *
 * @param folders from the root of the code, such as `src/check`.
 */
export function hashOfCode(folders: readonly string[]): string {
  const hash = createHash('sha256');
  for (const folder of folders) {
    for (const file of filesBelow(join(codeRoot(), folder))) hash.update(readFileSync(file));
  }
  return hash.digest('base64url').slice(0, 22);
}

function filesBelow(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((file) => file.isFile() && /\.(?:[jt]sx?|css)$/.test(file.name))
    .map((file) => join(file.parentPath ?? file.path, file.name))
    .sort();
}
