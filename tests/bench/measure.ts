import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { BIN } from './built.js';
import { median, middleOf, REPO, runNode, runScript, type Taken } from './child.js';
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

  // In turns, so that whatever else the machine is busy with meets them all alike.
  const taken = Array.from({ length: runs }, (_, run) => {
    clean(join(bareRoot, '_site'), cached, out);
    const bare = runNode([ELEVENTY, '--quiet'], bareRoot);
    const cold = build();
    const nothing = build();
    edit(join(root, last), run);
    const one = build();
    clean(cached);
    const checkCold = check();
    const checkWarm = check();
    return {
      bare,
      cold,
      nothing,
      one,
      checkCold,
      checkWarm,
      yaml: runScript<{ ms: number }>('yaml-alone.ts', [root]).ms,
    };
  });
  const middle = (of: (all: (typeof taken)[number]) => Taken) => middleOf(taken.map(of));
  const stages = runScript<Stages>('stages.ts', [root]);
  const live = runScript<Live>('live.ts', [root, last]);
  return {
    entries: book.entries.length,
    bare: middle(({ bare }) => bare),
    cold: middle(({ cold }) => cold),
    nothing: middle(({ nothing }) => nothing),
    one: middle(({ one }) => one),
    checkCold: middle(({ checkCold }) => checkCold),
    checkWarm: middle(({ checkWarm }) => checkWarm),
    yaml: median(taken.map(({ yaml }) => yaml)),
    stages,
    live,
  };
}

/** A sentence more, and a reading: what somebody adds who forgot something. */
function edit(file: string, times: number): void {
  const text = readFileSync(file, 'utf8');
  const reading = `measurements:\n  - { what: forgotten until now ${times}, value: ${times} mm }\n`;
  writeFileSync(file, text.replace('measurements:\n', reading).concat(`\nForgot one thing, ${times}.\n`));
}
