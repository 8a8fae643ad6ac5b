import { h } from 'preact';
import { Pack } from '../../../site/templates/pack/pack.js';
import { packShell } from '../../../site/templates/pack/shell.js';
import { withOwnFootnotes } from '../footnotes.js';
import { paths } from '../links.js';
import { htmlOf } from '../markup.js';
import type { Page } from '../page.js';
import { proseHtml } from '../prose.js';
import type { Site } from '../site-context.js';
import { headsCss, type Paper } from './heads.js';
import { packSite, place } from './links.js';
import { type PackFor, packView } from './view.js';

/**
 * The pack as pages of a site. It shows something of every part of the book, so its key is made from all files
 * of the book, and it is put together only when it is rendered.
 *
 * @param paper null where the reader's printer decides.
 */
export function packPages(site: Site, whom: PackFor, paper: Paper | null): readonly Page[] {
  const { reckoning, digests, photos, frame } = site;
  const origins = () => [
    whom,
    reckoning.book.subject,
    reckoning.book.plans,
    reckoning.book.entries.map(({ id, hash }) => [id, hash]),
    [...reckoning.book.systems.values()].map(({ id, body }) => [id, digests.systems.get(id), body]),
    digests.names,
    [...reckoning.book.series].map(([point, { hash }]) => [point, hash]),
    [...photos],
  ];
  const heads = headsCss(reckoning, paper);
  return [
    {
      path: paths.pack,
      get key() {
        return site.keyOf(paths.pack, ...origins());
      },
      render: () => {
        const view = packView(site, whom);
        const inside = packSite(site);
        const told = [
          ...view.systems.map(({ id, prose }) => [place.system(id), prose] as const),
          ...view.entries.map((entry) => [entry.place, entry.prose] as const),
        ];
        const prose = new Map(
          told.map(([at, text]) => [at, text === null ? '' : withOwnFootnotes(proseHtml(inside, text), at)]),
        );
        return packShell(view, frame.language, htmlOf(h(Pack, { view, prose })));
      },
    },
    { path: paths.packHeads, key: site.keyOf(paths.packHeads, heads), render: () => heads },
  ];
}

/**
 * The document with page numbers where it names places: in the contents alone, elsewhere as `page 12` in place of
 * the number of the section.
 *
 * @param pages the number of the page of each place; a place that it does not have is shown as `00`, which is
 *   about as wide as a number.
 */
export function withPageNumbers(html: string, pages: ReadonlyMap<string, number>): string {
  const numberOf = (place: string) => String(pages.get(place) ?? '00');
  return html
    .replace(
      /(<span class="page-number" data-to="([^"]+)">)(<\/span>)/g,
      (_, open: string, place: string, close: string) => `${open}${numberOf(place)}${close}`,
    )
    .replace(
      /(<a class="where"[^>]* data-to="([^"]+)">)[^<]*(<\/a>)/g,
      (_, open: string, place: string, close: string) =>
        `${open}page <span class="page-number">${numberOf(place)}</span>${close}`,
    );
}
