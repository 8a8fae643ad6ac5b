import type { Reckoning } from '../../reckon/model.js';
import { type Link, type Links, linksFrom } from '../links.js';
import type { Site } from '../site-context.js';

/**
 * Links inside the pack. It is read on paper and as one file, so that nothing in it leads out of it: entries go
 * by their number in the list at its end, everything else to its row.
 */

/** Places in the pack that a text may name with their page. */
export const place = {
  system: (id: string) => `system-${id}`,
  spec: (ref: string) => `spec-${ref}`,
  point: (ref: string) => `point-${ref}`,
  test: (ref: string) => `test-${ref}`,
  part: (id: string) => `part-${id}`,
  item: (id: string) => `item-${id}`,
  decision: (id: string) => `decision-${id}`,
  upkeep: (ref: string) => `upkeep-${ref}`,
  powerCase: (id: string) => `case-${id}`,
  entry: (number: number) => `entry-${number}`,
} as const;

/** The number of each entry, from 1, in the order of the book. */
function entryNumbers({ book }: Reckoning): ReadonlyMap<string, number> {
  return new Map(book.entries.map(({ id }, index) => [id, index + 1]));
}

/** The links of the pack, in the form that views of pages take. */
function packLinks(reckoning: Reckoning): Links {
  const numbers = entryNumbers(reckoning);
  const plain = linksFrom('', reckoning);
  const at = (link: Link, anchor: string): Link => ({
    text: link.text,
    href: link.href === null ? null : `#${anchor}`,
  });
  const links: Links = {
    root: '../',
    to: () => '',
    entry: (id) => {
      const number = numbers.get(id);
      return number === undefined
        ? { text: id, href: null }
        : { text: String(number), href: `#${place.entry(number)}` };
    },
    system: (id) => at(plain.system(id), place.system(id)),
    spec: (ref) => at(plain.spec(ref), place.spec(ref)),
    point: (ref) => at(plain.point(ref), place.point(ref)),
    part: (id) => at(plain.part(id), place.part(id)),
    // The pack lists the jobs that are open, and no others.
    item: (id) =>
      reckoning.items.get(id)?.closed != null
        ? { text: plain.item(id).text, href: null }
        : at(plain.item(id), place.item(id)),
    decision: (id) => at(plain.decision(id), place.decision(id)),
    test: (ref) => at(plain.test(ref), place.test(ref)),
    upkeep: (ref) => at(plain.upkeep(ref), place.upkeep(ref)),
    powerCase: (id) => at(plain.powerCase(id), place.powerCase(id)),
    weights: () => at(plain.weights(), 'weights'),
    anything: (ref) => {
      if (reckoning.specs.has(ref)) return links.spec(ref);
      if (reckoning.timelines.has(ref)) return links.point(ref);
      return { text: plain.anything(ref).text, href: null };
    },
  };
  return links;
}

/** The same site with links that stay in the pack. */
export function packSite(site: Site): Site {
  const links = packLinks(site.reckoning);
  return { ...site, top: links, nested: links };
}
