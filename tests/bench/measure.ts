import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { BIN } from './built.js';
import { medianOf, REPO, runNode, runScript, type Taken } from './child.js';
import { type MadeBook, pathOf, writeBare, writeBook } from './generate.js';
import type { Live } from './live.js';
import type { Stages } from './stages.js';

/** All that is measured of one size of book, in one run. */
export interface Measured {
  readonly entries: number;
  readonly bare: Taken;
  readonly cold: Taken;
  readonly nothing: Taken;
  readonly one: Taken;
  readonly checkCold: Taken;
  readonly checkWarm: Taken;
  /** Milliseconds of js-yaml for the front matter alone. */
  readonly yaml: number;
  readonly stages: Stages & { readonly peak: number };
  readonly live: Live & { readonly peak: number };
}

const ELEVENTY = join(REPO, 'node_modules', '@11ty', 'eleventy', 'cmd.cjs');

/** Measures a book that is made in an empty folder. */
export function measure(book: MadeBook, folder: string, runs: number): Measured {
  const root = join(folder, 'book');
  const bareRoot = join(folder, 'bare');
  const out = join(folder, 'site');
  for (const path of [root, bareRoot]) mkdirSync(path, { recursive: true });
  writeBook(book, root);
  writeBare(book, bareRoot);
  const cached = join(root, '.ribband');
  const clean = (...paths: string[]) => {
    for (const path of paths) rmSync(path, { recursive: true, force: true });
  };
  const build = () => runNode([BIN, 'build', root, '--out', out], folder);
  const check = () => runNode([BIN, 'check', root, '--quiet'], folder);
  const last = pathOf(book.entries[book.entries.length - 1] as MadeBook['entries'][number]);
  let edits = 0;

  const bare = medianOf(runs, () => {
    clean(join(bareRoot, '_site'));
    return runNode([ELEVENTY, '--quiet'], bareRoot);
  });
  const cold = medianOf(runs, () => {
    clean(cached, out);
    return build();
  });
  const nothing = medianOf(runs, build);
  const one = medianOf(runs, () => {
    edits += 1;
    edit(join(root, last), edits);
    return build();
  });
  const checkCold = medianOf(runs, () => {
    clean(cached);
    return check();
  });
  const checkWarm = medianOf(runs, check);
  const yaml = medianOf(runs, () => {
    const { ms, peak } = runScript<{ ms: number }>('yaml-alone.ts', [root]);
    return { seconds: ms / 1000, peak, output: '' };
  });
  const stages = runScript<Stages>('stages.ts', [root]);
  const live = runScript<Live>('live.ts', [root, last]);
  return {
    entries: book.entries.length,
    ...{ bare, cold, nothing, one, checkCold, checkWarm, yaml: yaml.seconds * 1000, stages, live },
  };
}

/** A sentence more, and a reading: what somebody adds who forgot something. */
function edit(file: string, times: number): void {
  const text = readFileSync(file, 'utf8');
  const reading = `measurements:\n  - { what: forgotten until now ${times}, value: ${times} mm }\n`;
  writeFileSync(file, text.replace('measurements:\n', reading).concat(`\nForgot one thing, ${times}.\n`));
}
