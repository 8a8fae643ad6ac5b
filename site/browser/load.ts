import type { FindHead, FindPart } from '../../src/find/index.js';

/**
 * Loading what there is to search, in parts, through scripts: a page opened from disk may load a script but
 * not fetch a file. Each script hands its part to `ribbandFind`.
 */

declare global {
  interface Window {
    ribbandFind?: (part: number, data: FindHead | FindPart) => void;
  }
}

/** What is told while loading. */
export interface Listener {
  readonly head: (head: FindHead) => void;
  /** One part, and what is to be called when it has been taken in. */
  readonly part: (part: FindPart, taken: () => void) => void;
  readonly failed: () => void;
}

/** Begins with the names and the newest records. @returns what loads the rest; it may be called any number of times */
export function openLoader(root: string, listener: Listener): () => void {
  let parts = 0;
  let asked = false;
  let come = 0;
  const load = (path: string) => loadScript(`${root}data/${path}.js`, listener.failed);
  const next = (part: number) => {
    if (part <= parts) load(`find-${part}`);
  };
  window.ribbandFind = (part, data) => {
    if ('records' in data) {
      parts = data.parts;
      listener.head(data);
      // The newest are there before anybody asks.
      next(1);
      return;
    }
    // One after the other, so that a key is never kept waiting by many.
    listener.part(data, () => {
      come = part;
      if (asked) next(part + 1);
    });
  };
  load('find');
  return () => {
    if (asked) return;
    asked = true;
    if (come > 0) next(come + 1);
  };
}

function loadScript(address: string, failed: () => void): void {
  const script = document.createElement('script');
  script.src = address;
  script.addEventListener('load', () => script.remove());
  script.addEventListener('error', failed);
  document.head.append(script);
}
