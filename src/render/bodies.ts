import type { BodyRenderer } from './markdown.js';

/**
 * The renderer of prose, loaded when the first page is rendered and not before: its parser takes longer to
 * load than a site in which nothing has changed takes to look through.
 */

let loaded: BodyRenderer | undefined;

/** Loads the renderer; has to be awaited before a page is rendered. */
export async function loadBodies(): Promise<void> {
  if (loaded !== undefined) return;
  const { bodyRenderer } = await import('./markdown.js');
  loaded = bodyRenderer();
}

/** Makes the HTML of one body. */
export const renderBody: BodyRenderer = (markdown, context) => {
  if (loaded === undefined) throw new Error('the renderer of prose was not loaded');
  return loaded(markdown, context);
};
