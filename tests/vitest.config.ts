import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

/** Files that put something in the place of a module, and so need modules of their own. */
const APART = ['tests/render/markup.test.ts', 'tests/render/eleventy.test.ts'];

export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    testTimeout: 60_000,
    hookTimeout: 180_000,
    pool: 'forks',
    maxWorkers: 2,
    setupFiles: ['tests/setup.ts'],
    projects: [
      { extends: true, test: { name: 'apart', include: APART } },
      {
        extends: true,
        // Each file loading and warming up all of the code again takes a fifth of the time.
        test: {
          name: 'together',
          isolate: false,
          include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
          exclude: APART,
        },
      },
    ],
  },
});
