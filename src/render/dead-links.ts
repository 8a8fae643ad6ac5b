import { posix } from 'node:path';
import { Parser } from 'htmlparser2';
import { decoded } from '../check/prose-links.js';

/** Links, pictures and other addresses of a built site that lead to nothing in it. */

/** An address on a page at which there is nothing. */
export interface DeadLink {
  /** The page, by its path in the site. */
  readonly page: string;
  /** The address as it stands there. */
  readonly address: string;
  readonly why: 'no such file' | 'no such place in the page';
}

/** What was looked at, and what was not in order. */
export interface LinkReport {
  readonly dead: readonly DeadLink[];
  /** Addresses in the site that were looked up. */
  readonly checked: number;
  /** Different addresses that lead out of the site: they are not looked up, since nothing leaves this machine. */
  readonly outside: readonly string[];
}

interface Addresses {
  readonly ids: ReadonlySet<string>;
  readonly leads: readonly string[];
}

const ADDRESS: ReadonlySet<string> = new Set(['href', 'src', 'poster', 'data']);

/**
 * Looks up every address on every page of a site.
 *
 * @param paths all files of the site, with forward slashes.
 * @param htmlOf the text of one of its pages.
 */
export function deadLinksIn(paths: ReadonlySet<string>, htmlOf: (path: string) => string): LinkReport {
  const pages = new Map<string, Addresses>();
  for (const path of paths) if (path.endsWith('.html')) pages.set(path, addressesOf(htmlOf(path)));
  const dead: DeadLink[] = [];
  const outside = new Set<string>();
  let checked = 0;
  for (const [page, { leads }] of pages) {
    for (const address of new Set(leads)) {
      if (/^[a-z][a-z0-9+.-]*:|^\/\//i.test(address)) {
        if (!address.startsWith('data:')) outside.add(address);
        continue;
      }
      // The page for wrong addresses is shown at any address, and so has whole paths from the host's top.
      if (address.startsWith('/')) continue;
      checked += 1;
      const why = faultOf(address, page, paths, pages);
      if (why !== null) dead.push({ page, address, why });
    }
  }
  return { dead, checked, outside: [...outside].sort() };
}

function faultOf(
  address: string,
  page: string,
  paths: ReadonlySet<string>,
  pages: ReadonlyMap<string, Addresses>,
): DeadLink['why'] | null {
  const [, file = '', fragment = ''] = /^([^?#]*)(?:\?[^#]*)?(?:#(.*))?$/s.exec(address) ?? [];
  const target = file === '' ? page : posix.join(posix.dirname(page), decoded(file));
  if (!paths.has(target)) return 'no such file';
  const there = pages.get(target);
  // `#q=…` is the state of a search, read by the page's script.
  if (there === undefined || fragment === '' || fragment.includes('=')) return null;
  return there.ids.has(decoded(fragment)) ? null : 'no such place in the page';
}

function addressesOf(html: string): Addresses {
  const ids = new Set<string>();
  const leads: string[] = [];
  const parser = new Parser({
    onopentag: (_, attributes) => {
      for (const [name, value] of Object.entries(attributes)) {
        if (name === 'id') ids.add(value);
        else if (ADDRESS.has(name)) leads.push(value);
        else if (name === 'srcset')
          leads.push(...value.split(',').map((one) => one.trim().split(/\s+/)[0] ?? ''));
      }
    },
  });
  parser.end(html);
  return { ids, leads };
}
