import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { packageRoot } from '../read/package.js';
import { writeWhole } from '../write/whole.js';

/**
 * A book carries copies of the format's JSON Schemas, so that any editor completes and explains its fields
 * wherever ribband itself is installed, and on a machine where it is not.
 */
export const SCHEMA_FOLDER = '.schemas';

const NAMES = ['book', 'system', 'entry', 'power-plan', 'weights-plan', 'take-map'] as const;

/** The copies as they should be: path in the book, and text. */
export function schemaCopies(): readonly { readonly path: string; readonly text: string }[] {
  return NAMES.map((name) => `${name}.schema.json`).map((file) => ({
    path: `${SCHEMA_FOLDER}/${file}`,
    text: readFileSync(join(packageRoot(), 'schemas', 'json', file), 'utf8'),
  }));
}

/**
 * The line by which an editor finds the schema of a file.
 *
 * @param up way from the file's folder to the book's: empty, or `../`.
 */
export function modeline(name: (typeof NAMES)[number], up: string): string {
  return `# yaml-language-server: $schema=${up}${SCHEMA_FOLDER}/${name}.schema.json`;
}

/** That line for an entry in its folder; null for a book without such copies. */
export function entryModelineOf(root: string): string | null {
  const isThere = existsSync(join(root, SCHEMA_FOLDER, 'entry.schema.json'));
  return isThere ? modeline('entry', '../../') : null;
}

/** Brings copies of an earlier version up to date; those that are not there are left so. @returns whether any was old. */
export function refreshSchemas(root: string): boolean {
  const old = schemaCopies().filter(({ path, text }) => {
    const file = join(root, path);
    return existsSync(file) && readFileSync(file, 'utf8') !== text;
  });
  for (const { path, text } of old) writeWhole(join(root, path), text);
  return old.length > 0;
}
