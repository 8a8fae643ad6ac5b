import { shell } from '../../site/templates/shell.js';
import type { Reckoning } from '../reckon/model.js';
import { siteAssets } from './assets.js';
import { paths } from './links.js';
import { ALL_SECTIONS, frameOf } from './site-context.js';

/** A file of a site, whole. */
export interface WholeFile {
  readonly path: string;
  readonly content: string | Uint8Array;
}

/** The files of a page by itself: the page and what it needs. It leads to no other, since the site need not be there. */
export function lonePage(reckoning: Reckoning, title: string, contents: string): readonly WholeFile[] {
  const frame = { ...frameOf(reckoning), without: ALL_SECTIONS };
  const page = { path: paths.now, title, section: 'now', root: '', scripts: [] } as const;
  const content = shell(frame, page, contents);
  return [{ path: paths.now, content }, ...siteAssets().map(({ path, bytes }) => ({ path, content: bytes }))];
}
