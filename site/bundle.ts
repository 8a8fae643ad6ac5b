import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildSync } from 'esbuild';

/**
 * Makes the styles, scripts and fonts of the site. Run by itself it writes them beside the compiled code, from
 * where the built tool takes them; run from source the tool calls `bundleAssets` and takes them from memory.
 */

/** A file of the site that is the same for every book. */
export interface BundledAsset {
  /** Path from the folder of assets. */
  readonly path: string;
  readonly bytes: Uint8Array;
}

const HERE = dirname(fileURLToPath(import.meta.url));

/** Names in the site, and where the fonts lie in their packages. Latin only: it has what European prose needs. */
const FONTS = [
  ['source-sans-3', '@fontsource-variable/source-sans-3/files/source-sans-3-latin-wght-normal.woff2'],
  ['source-serif-4', '@fontsource-variable/source-serif-4/files/source-serif-4-latin-wght-normal.woff2'],
  [
    'source-serif-4-italic',
    '@fontsource-variable/source-serif-4/files/source-serif-4-latin-wght-italic.woff2',
  ],
  // Paper has no use for variable fonts: a browser prints their letters as pictures, which are large and blurred.
  ['serif-400', '@fontsource/source-serif-4/files/source-serif-4-latin-400-normal.woff2'],
  ['serif-400-italic', '@fontsource/source-serif-4/files/source-serif-4-latin-400-italic.woff2'],
  ['serif-600', '@fontsource/source-serif-4/files/source-serif-4-latin-600-normal.woff2'],
  ['sans-400', '@fontsource/source-sans-3/files/source-sans-3-latin-400-normal.woff2'],
  ['sans-600', '@fontsource/source-sans-3/files/source-sans-3-latin-600-normal.woff2'],
] as const;

/** All assets, made afresh. */
export function bundleAssets(): BundledAsset[] {
  const require = createRequire(import.meta.url);
  const made = buildSync({
    absWorkingDir: HERE,
    entryPoints: {
      site: 'styles/site.css',
      pack: 'styles/pack.css',
      readings: 'browser/readings.ts',
      write: 'browser/write.tsx',
      seal: 'browser/seal.ts',
    },
    outdir: 'out',
    bundle: true,
    minify: true,
    write: false,
    format: 'iife',
    target: ['es2020', 'chrome100', 'firefox100', 'safari15'],
    external: ['./fonts/*'],
    jsx: 'automatic',
    jsxImportSource: 'preact',
    tsconfigRaw: '{}',
    logLevel: 'silent',
  });
  return [
    ...made.outputFiles.map(({ path, contents }) => ({
      path: path.slice(path.lastIndexOf('/') + 1),
      bytes: contents,
    })),
    ...FONTS.map(([name, file]) => ({
      path: `fonts/${name}.woff2`,
      bytes: readFileSync(require.resolve(file)),
    })),
    { path: 'mark.svg', bytes: readFileSync(join(HERE, 'mark.svg')) },
  ];
}

function writeAssets(folder: string): void {
  rmSync(folder, { recursive: true, force: true });
  for (const { path, bytes } of bundleAssets()) {
    const file = join(folder, path);
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, bytes);
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url))
  writeAssets(join(HERE, '..', 'dist', 'site', 'assets'));
