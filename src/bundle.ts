import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { buildSync } from 'esbuild';

/**
 * Puts the compiled command line into few files, `dist/src/bundle/`: finding and loading some six hundred modules
 * one by one takes longer than the work does where little has changed. What is loaded late stays in files of
 * its own. Run by `npm run build`, after the compiler.
 */

/** Packages that bring more than their own code (binaries, templates), or are needed by one command only. */
const APART = ['sharp', '@11ty/eleventy', 'vscode-languageserver', 'vscode-languageserver-textdocument'];

/** CommonJS packages among the bundled ones ask for Node's own modules by `require`. */
const REQUIRE =
  "import { createRequire as requireFrom } from 'node:module'; const require = requireFrom(import.meta.url);";

const DIST = join(dirname(fileURLToPath(import.meta.url)), '..', 'dist');

buildSync({
  entryPoints: {
    bin: join(DIST, 'src/cli/bin.js'),
    // Run as a thread, by its name beside the others.
    'bodies-worker': join(DIST, 'src/render/bodies-worker.js'),
  },
  // As deep as the folders of the code itself, so that ways to other files of the package stay the same.
  outdir: join(DIST, 'src/bundle'),
  bundle: true,
  splitting: true,
  format: 'esm',
  platform: 'node',
  target: 'node20',
  external: APART,
  banner: { js: REQUIRE },
  legalComments: 'linked',
  logLevel: 'warning',
});
