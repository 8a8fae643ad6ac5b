import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';

/** A file of the site that is the same for every book: styles, scripts, fonts. */
export interface Asset {
  /** Path from the site's folder. */
  readonly path: string;
  readonly bytes: Uint8Array;
}

type Bundler = { bundleAssets(): readonly Asset[] };

/** Run from source there are no made assets, and old ones would hide a change: they are made on the spot. */
const fromSource = import.meta.url.endsWith('.ts');
const bundler = fromSource ? ((await import(`../../site/bundle${'.ts'}`)) as Bundler) : null;

let assets: readonly Asset[] | undefined;

/** Styles, scripts and fonts of the site. */
export function siteAssets(): readonly Asset[] {
  assets ??= (bundler?.bundleAssets() ?? readMade()).map(({ path, bytes }) => ({
    path: `assets/${path}`,
    bytes,
  }));
  return assets;
}

/** Reads the assets that the build of the tool has put beside its code. */
function readMade(): Asset[] {
  const folder = fileURLToPath(new URL('../../site/assets/', import.meta.url));
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((file) => file.isFile())
    .map((file) => join(file.parentPath ?? file.path, file.name))
    .map((file) => ({ path: relative(folder, file).replaceAll('\\', '/'), bytes: readFileSync(file) }));
}
