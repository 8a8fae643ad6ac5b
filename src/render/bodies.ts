import type { BodyAhead } from './bodies-ahead.js';
import type { BodyRenderer } from './markdown.js';
import type { Page } from './page.js';
import type { BodyContext } from './prose-tree.js';
import type { RenderBody } from './site-context.js';

/**
 * The renderer of prose, loaded when the first page is rendered and not before: its parser takes longer to
 * load than a site in which nothing has changed takes to look through.
 */

let loaded: BodyRenderer | undefined;
let ahead: BodyAhead | undefined;

/** Loads the renderer; has to be awaited before a page is rendered. */
export async function loadBodies(): Promise<void> {
  if (loaded !== undefined) return;
  const { bodyRenderer } = await import('./markdown.js');
  loaded = bodyRenderer();
}

/**
 * Has the prose of many pages made on another core while this one makes pages: half of what a large site takes is its
 * prose. Pages are made as before; the prose that is there by then is taken and the rest is made on the spot.
 *
 * @returns ends it; has to be called.
 */
export async function makeBodiesAhead(pages: readonly Page[]): Promise<() => Promise<void>> {
  const { openAhead } = await import('./bodies-ahead.js');
  const opened = openAhead(pages);
  ahead = opened ?? undefined;
  return async () => {
    ahead = undefined;
    await opened?.close();
  };
}

/** Waits for the prose of these pages as far as it is being made elsewhere. */
export async function bodiesReady(pages: readonly Page[]): Promise<void> {
  await ahead?.ready(pages);
}

/** Makes the HTML of one body. */
export const renderBody: RenderBody = (markdown: string, hash: string, context: BodyContext) => {
  const made = ahead?.take(hash, context);
  if (made !== undefined) return made;
  if (loaded === undefined) throw new Error('the renderer of prose was not loaded');
  return loaded(markdown, context);
};
