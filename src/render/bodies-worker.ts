import { parentPort, workerData } from 'node:worker_threads';
import type { BodiesToMake, MadeBodies } from './bodies-ahead.js';
import { bodyRenderer } from './markdown.js';
import { bodyOf } from './prose-context.js';

/** The other thread: makes prose into HTML, lot by lot, as long as there is one that nobody has taken. */

const { lots, taken } = workerData as BodiesToMake;
const render = bodyRenderer();
for (const [lot, views] of lots.entries()) {
  if (Atomics.exchange(taken, lot, 1) !== 0) continue;
  const html = views.map((view) => {
    const { markdown, context } = bodyOf(view);
    return render(markdown, context);
  });
  parentPort?.postMessage({ lot, html } satisfies MadeBodies);
}
