import { h } from 'preact';
import { shell } from '../../site/templates/shell.js';
import { Supposed } from '../../site/templates/suppose.js';
import type { Reckoning } from '../reckon/model.js';
import type { Supposition } from '../reckon/suppose.js';
import { siteAssets } from './assets.js';
import { paths } from './links.js';
import { htmlOf } from './markup.js';
import { supposeView } from './pages/suppose.js';
import { ALL_SECTIONS, frameOf } from './site-context.js';

/** A file of a site, whole. */
interface WholeFile {
  readonly path: string;
  readonly content: string | Uint8Array;
}

/**
 * The files of a page that shows a supposition by itself: the page and what it needs. It leads to no other
 * page, since the book's own site need not be there.
 */
export function supposeFiles(reckoning: Reckoning, supposition: Supposition): readonly WholeFile[] {
  const frame = { ...frameOf(reckoning), without: ALL_SECTIONS };
  const view = supposeView(reckoning, supposition);
  const page = { path: paths.now, title: 'Suppose', section: 'now', root: '', scripts: [] } as const;
  const content = shell(frame, page, htmlOf(h(Supposed, { view })));
  return [{ path: paths.now, content }, ...siteAssets().map(({ path, bytes }) => ({ path, content: bytes }))];
}
