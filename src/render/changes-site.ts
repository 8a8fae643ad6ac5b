import { h } from 'preact';
import { ChangesPage } from '../../site/templates/changes.js';
import type { Reckoning } from '../reckon/model.js';
import { lonePage, type WholeFile } from './lone-page.js';
import { htmlOf } from './markup.js';
import { type ChangesView, withoutLinks } from './pages/changes.js';

/** The files of a page that tells what changed by itself, to be printed or sent with a letter. */
export function changesFiles(reckoning: Reckoning, view: ChangesView): readonly WholeFile[] {
  return lonePage(reckoning, view.title, htmlOf(h(ChangesPage, { view: withoutLinks(view), html: '' })));
}
