import { createHash } from 'node:crypto';
import { isInline } from '../check/inline.js';
import type { Reading } from '../check/model.js';
import { printQuantity } from '../quantity/index.js';
import type { Links } from './links.js';
import { shownPhoto } from './photo-index.js';
import type { ShownPhoto, ShownReading } from './prose-tree.js';
import type { Site } from './site-context.js';

/** Prose of a page, with the answers to everything that it may refer to. */
export interface ProseView {
  readonly markdown: string;
  readonly headingLevel: number;
  /** Pages of the site that the prose may name, by the name of the file as written. */
  readonly pages: readonly (readonly [string, string])[];
  /** Pictures that it may show, by their path in the book. */
  readonly photos: readonly (readonly [string, ShownPhoto])[];
  /** Readings that it tells, in their order in it. */
  readonly readings: readonly ShownReading[];
}

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
  const { markdown, headingLevel, pages, photos, readings } = view;
  if (markdown.trim() === '') return '';
  const pageOf = new Map(pages);
  const photoOf = new Map(photos);
  const hash = createHash('sha1').update(markdown).digest('base64url');
  return site.renderBody(markdown, hash, {
    key: JSON.stringify([headingLevel, pages, photos, readings]),
    headingLevel,
    readings,
    resolveLink: (href) => {
      if (/^(?:https?:\/\/|mailto:)/i.test(href)) return href;
      const name = /^[^?#:]*?([^/\\?#:]+)\.md(?:#.*)?$/.exec(decoded(href))?.[1];
      return (name === undefined ? undefined : pageOf.get(name)) ?? null;
    },
    resolvePhoto: (src) => {
      const path = decoded(src).replace(/^(?:\.{1,2}\/)+/, '');
      return photoOf.get(path) ?? photos.find(([file]) => baseName(file) === path)?.[1] ?? null;
    },
  });
}

function baseName(path: string): string {
  return path.slice(path.lastIndexOf('/') + 1);
}

/** Addresses come out of Markdown percent-encoded; one with a slip in it stays as it is. */
function decoded(address: string): string {
  try {
    return decodeURIComponent(address);
  } catch {
    return address;
  }
}
