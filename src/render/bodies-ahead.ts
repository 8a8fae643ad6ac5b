import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import { lotsOf } from './lots.js';
import type { Page } from './page.js';
import { bodyOf, type ProseView } from './prose-context.js';
import type { BodyContext } from './prose-tree.js';

/**
 * Prose made on another core, ahead of the pages that it goes into. Pages are dealt out in lots; who takes a lot,
 * the other thread or this one, is settled by a mark in memory that both share, so that neither ever waits for work
 * nor does what the other has begun.
 */

/** Pages of which the prose is made in one go. */
const LOT = 25;

/** From so many pages with prose on it is worth starting a thread, which takes as long as rendering some hundred. */
const WORTH_IT = 300;

/** What the other thread is given. */
export interface BodiesToMake {
  readonly lots: readonly (readonly ProseView[])[];
  /** One number a lot: 0 nobody's, 1 taken. */
  readonly taken: Int32Array;
}

/** What it gives back, lot by lot. */
export interface MadeBodies {
  readonly lot: number;
  readonly html: readonly string[];
}

export interface BodyAhead {
  /** Waits until the lots of these pages that the other thread has begun are there; takes the others back. */
  readonly ready: (pages: readonly Page[]) => Promise<void>;
  /** HTML that was made ahead, or undefined. It is given out once. */
  readonly take: (hash: string, context: BodyContext) => string | undefined;
  readonly close: () => Promise<void>;
}

/** Begins to make the prose of pages; null where that would not be worth it. */
export function openAhead(pages: readonly Page[]): BodyAhead | null {
  const told = pages.filter((page) => page.prose !== undefined);
  // From its sources the tool is run by a loader that knows nothing of further threads.
  if (told.length < WORTH_IT || availableParallelism() < 2 || import.meta.url.endsWith('.ts')) return null;
  const lots: ProseView[][] = [];
  const lotOf = new Map<Page, number>();
  for (const [at, page] of told.entries()) {
    if (at % LOT === 0) lots.push([]);
    lotOf.set(page, lots.length - 1);
    lots.at(-1)?.push((page.prose as () => ProseView)());
  }
  return openThread(lots, lotOf);
}

function openThread(lots: readonly (readonly ProseView[])[], lotOf: ReadonlyMap<Page, number>): BodyAhead {
  const taken = new Int32Array(new SharedArrayBuffer(4 * lots.length));
  const made = new Map<string, string>();
  const dealt = lotsOf(taken);
  const worker = new Worker(new URL('./bodies-worker.js', import.meta.url), {
    workerData: { lots, taken } satisfies BodiesToMake,
    resourceLimits: { maxOldGenerationSizeMb: 512, maxYoungGenerationSizeMb: 32 },
  });
  worker.on('message', ({ lot, html }: MadeBodies) => {
    for (const [at, view] of (lots[lot] as readonly ProseView[]).entries()) {
      const { hash, context } = bodyOf(view);
      made.set(nameOf(hash, context), html[at] as string);
    }
    dealt.done(lot);
  });
  // Whatever keeps it from its work (a machine without memory to spare), this thread can do the work itself.
  worker.on('error', dealt.ended);
  worker.on('exit', dealt.ended);
  return {
    ready: (pages) => dealt.ready(new Set(pages.flatMap((page) => lotOf.get(page) ?? []))),
    take: (hash, context) => {
      const name = nameOf(hash, context);
      const html = made.get(name);
      made.delete(name);
      return html;
    },
    close: async () => {
      await worker.terminate();
    },
  };
}

function nameOf(hash: string, { key }: BodyContext): string {
  return `${hash} ${key}`;
}
