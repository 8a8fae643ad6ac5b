import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { hashOfCode } from '../read/package.js';

/** Folders whose code has a say in the bytes of a page. */
const CODE = [
  'src/render',
  'src/quantity',
  'src/reckon',
  'src/find',
  'src/open',
  'src/seal',
  'site/templates',
];

/** Packages that have one too. */
const PACKAGES = [
  ...['preact', 'unified', 'remark-parse', 'remark-rehype'],
  ...['rehype-sanitize', 'rehype-stringify', 'd3-scale', 'ical-generator'],
];

let known: string | undefined;

/**
 * Stands for the code that renders: another code, another id. Keys of pages hold it, so that a cache made by
 * an older version is never taken for good. Read from the files once a process.
 */
export function rendererId(): string {
  known ??= readId();
  return known;
}

function readId(): string {
  const require = createRequire(import.meta.url);
  const hash = createHash('sha1').update(hashOfCode(CODE));
  for (const name of PACKAGES) hash.update(`${name} ${versionOf(require, name)}\n`);
  return hash.digest('base64url');
}

/** The version as installed. Some packages do not let their own description be read by name. */
function versionOf(require: NodeJS.Require, name: string): string {
  for (const folder of require.resolve.paths(name) ?? []) {
    try {
      return String(JSON.parse(readFileSync(join(folder, name, 'package.json'), 'utf8')).version);
    } catch {
      // Not in this folder of packages; the next one up may have it.
    }
  }
  return 'unknown';
}
