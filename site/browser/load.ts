import { type FindHead, type FindPart, readHead, type SentHead } from '../../src/find/index.js';

/**
 * Loading what there is to search, in parts, through scripts: a page opened from disk may load a script but
 * not fetch a file. Each script hands its part to `ribbandFind`.
 */

declare global {
  interface Window {
    ribbandFind?: (data: SentHead | FindPart) => void;
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
  let waiting: string[] = [];
  let asked = false;
  let isIdle = false;
  const load = (name: string) => loadScript(`${root}data/${name}.js`, listener.failed);
  const next = () => {
    const part = waiting.shift();
    if (part !== undefined) load(`find-${part}`);
  };
  window.ribbandFind = (data) => {
    if ('parts' in data) {
      const head = readHead(data);
      waiting = head.parts.map(({ name }) => name);
      listener.head(head);
      // The newest are there before anybody asks.
      next();
      return;
    }
    // One after the other, so that a key is never kept waiting by many.
    listener.part(data, () => {
      isIdle = !asked;
      if (asked) next();
    });
  };
  load('find');
  return () => {
    if (asked) return;
    asked = true;
    if (isIdle) next();
  };
}

function loadScript(address: string, failed: () => void): void {
  const script = document.createElement('script');
  script.src = address;
  script.addEventListener('load', () => script.remove());
  script.addEventListener('error', failed);
  document.head.append(script);
}
