import { isInline } from '../check/inline.js';
import type { Reading } from '../check/model.js';
import { printQuantity } from '../quantity/index.js';
import type { Links } from './links.js';
import { shownPhoto } from './photo-index.js';
import { baseName, bodyOf, type ProseView } from './prose-context.js';
import type { ShownPhoto, ShownReading } from './prose-tree.js';

import type { Site } from './site-context.js';

export type { ProseView } from './prose-context.js';

/**
 * Gathers what a body refers to. What the body cannot name is left out, so that the page's key changes only
 * with what the page shows.
 */
export function proseView(
  site: Site,
  links: Links,
  markdown: string,
  headingLevel: number,
  readings: readonly Reading[] = [],
): ProseView {
  return {
    markdown,
    headingLevel,
    pages: markdown.includes('.md') ? namedPages(links, markdown) : [],
    photos: markdown.includes('![') ? namedPhotos(site, links, markdown) : [],
    readings: readings.filter(isInline).map((reading) => shownReading(site, links, reading)),
  };
}

function shownReading({ display }: Site, links: Links, reading: Reading): ShownReading {
  const { quantity, point, what } = reading;
  const to = point === null ? { text: what ?? '', href: null } : links.point(point);
  return {
    written: quantity.written,
    // The ± of an instrument is for the table: in the prose stands what somebody wrote.
    text: printQuantity(quantity, display),
    href: to.href,
    title: to.text,
  };
}

function namedPages(links: Links, markdown: string): [string, string][] {
  const found = new Map<string, string>();
  for (const [, name] of markdown.matchAll(/([^\s/\\()<>[\]"']+)\.md/g)) {
    const href = links.entry(name as string).href ?? links.system(name as string).href;
    if (href !== null) found.set(name as string, href);
  }
  return [...found];
}

function namedPhotos(site: Site, links: Links, markdown: string): [string, ShownPhoto][] {
  const found: [string, ShownPhoto][] = [];
  for (const file of site.photos.keys()) {
    const name = baseName(file);
    if (!markdown.includes(name) && !markdown.includes(encodeURI(name))) continue;
    const photo = shownPhoto(site.photos, file, links.root);
    if (photo !== null) found.push([file, photo]);
  }
  return found;
}

/** Makes the HTML of prose; empty for an empty text. */
export function proseHtml(site: Site, view: ProseView): string {
  if (view.markdown.trim() === '') return '';
  const { markdown, hash, context } = bodyOf(view);
  return site.renderBody(markdown, hash, context);
}
