import { h } from 'preact';
import { Supposed } from '../../site/templates/suppose.js';
import type { Reckoning } from '../reckon/model.js';
import type { Supposition } from '../reckon/suppose.js';
import { lonePage, type WholeFile } from './lone-page.js';
import { htmlOf } from './markup.js';
import { supposeView } from './pages/suppose.js';

/** The files of a page that shows a supposition by itself. */
export function supposeFiles(reckoning: Reckoning, supposition: Supposition): readonly WholeFile[] {
  return lonePage(reckoning, 'Suppose', htmlOf(h(Supposed, { view: supposeView(reckoning, supposition) })));
}
