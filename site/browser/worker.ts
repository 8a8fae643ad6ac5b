import type { Steps } from '../../src/find/index.js';

/** Milliseconds of work at a stretch: a key that is struck meanwhile waits no longer than this and one step. */
const STRETCH = 8;

/** Milliseconds of a pause: somebody who types strikes the next key before it ends, and no work is done for nothing. */
const PAUSE = 140;

/** Does work in stretches between which the page answers. */
export interface Worker {
  /** Puts work behind what waits. */
  readonly add: (work: Steps<void>) => void;
  /**
   * Does this as soon as the piece that is begun is done, in place of what was given here before. A step `frame` lets
   * the screen show what was done, `pause` also lets further keys come first.
   */
  readonly replace: (work: Steps<void>) => void;
}

/** Calls back once what has been changed is on the screen; at once where nobody looks. */
function afterFrame(go: () => void): void {
  if (document.hidden) go();
  else requestAnimationFrame(go);
}

/** A worker with nothing to do. One piece of work is done at a time, whole, unless it is replaced. */
export function openWorker(): Worker {
  const waiting: Steps<void>[] = [];
  let urgent: Steps<void> | null = null;
  let begun: Steps<void> | null = null;
  let isAsked = false;
  let pause = 0;
  const { port1, port2 } = new MessageChannel();

  const work = () => {
    const end = performance.now() + STRETCH;
    do {
      const now = begun ?? (pause === 0 ? urgent : null) ?? waiting[0];
      if (now === undefined) return;
      if (now === waiting[0]) begun = now;
      const step = now.next();
      if (step.value === 'frame') {
        isAsked = true;
        afterFrame(() => port2.postMessage(null));
        return;
      }
      if (step.value === 'pause') {
        pause = window.setTimeout(() => {
          pause = 0;
          ask();
        }, PAUSE);
      }
      if (step.done !== true) continue;
      if (now === urgent) urgent = null;
      else waiting.shift();
      begun = null;
    } while (performance.now() < end);
    ask();
  };

  // A message comes after keys that are waiting; a timer would be held back by some milliseconds.
  const ask = () => {
    if (!isAsked) port2.postMessage(null);
    isAsked = true;
  };
  port1.onmessage = () => {
    isAsked = false;
    work();
  };

  return {
    add: (steps) => {
      waiting.push(steps);
      ask();
    },
    replace: (steps) => {
      clearTimeout(pause);
      pause = 0;
      urgent = steps;
      ask();
    },
  };
}
