import { createHash } from 'node:crypto';
import { decoded, leadsOut, pageNamedBy } from '../check/prose-links.js';
import type { BodyContext, ShownPhoto, ShownReading } from './prose-tree.js';

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

/** A body with all that is needed to make its HTML. */
export interface Body {
  readonly markdown: string;
  /** Stands for the text; the context's `key` for the rest. */
  readonly hash: string;
  readonly context: BodyContext;
}

/** What a body refers to, made ready to be asked. Plain data in, so that it can be done in another thread. */
export function bodyOf({ markdown, headingLevel, pages, photos, readings }: ProseView): Body {
  const pageOf = new Map(pages);
  const photoOf = new Map(photos);
  const context: BodyContext = {
    key: JSON.stringify([headingLevel, pages, photos, readings]),
    headingLevel,
    readings,
    resolveLink: (href) => {
      if (leadsOut(href)) return href;
      const name = pageNamedBy(href);
      return (name === null ? undefined : pageOf.get(name)) ?? null;
    },
    resolvePhoto: (src) => {
      const path = decoded(src).replace(/^(?:\.{1,2}\/)+/, '');
      return photoOf.get(path) ?? photos.find(([file]) => baseName(file) === path)?.[1] ?? null;
    },
  };
  return { markdown, hash: createHash('sha1').update(markdown).digest('base64url'), context };
}

/** The name of a file without its folders. */
export function baseName(path: string): string {
  return path.slice(path.lastIndexOf('/') + 1);
}
