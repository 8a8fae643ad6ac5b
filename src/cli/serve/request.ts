import type { IncomingHttpHeaders } from 'node:http';

/**
 * Who may ask the server for what. It listens on this machine only, or on the one address that its owner has
 * named; but any page that is open in a browser here can send requests to it, and a name on the internet can be
 * made to lead to it. So what a request says of where it comes from has to fit, and its path has to be plain.
 */

/** Where finished entries are sent to: the one thing that is taken in. */
export const ENTRY_PATH = '__ribband/entry';

/** The part of a request that is judged. */
export interface Asked {
  readonly method: string;
  /** As sent: path and query. */
  readonly target: string;
  readonly headers: IncomingHttpHeaders;
}

export type Judgement =
  | { readonly ok: true; readonly path: string; readonly withBody: boolean; readonly brings: boolean }
  | { readonly ok: false; readonly status: 400 | 403 | 405; readonly why: string };

/** The names of this machine for itself. */
const LOOPBACK = ['localhost', '127.0.0.1', '[::1]'];

/**
 * @param port on which the server listens.
 * @param address the one address it listens on; null for this machine alone.
 */
export function judge(
  { method, target, headers }: Asked,
  port: number,
  address: string | null = null,
): Judgement {
  const brings = method === 'POST' && readPath(target) === ENTRY_PATH;
  if (method !== 'GET' && method !== 'HEAD' && !brings)
    return { ok: false, status: 405, why: 'Only GET and HEAD are answered.' };
  const names = address === null ? LOOPBACK : [address.includes(':') ? `[${address}]` : address];
  const hosts = names.map((name) => `${name}:${port}`);
  if (!hosts.includes(headers.host?.toLowerCase() ?? ''))
    return { ok: false, status: 403, why: `Only ${hosts[0]} is answered for.` };
  if (headers.origin !== undefined && !hosts.some((host) => headers.origin === `http://${host}`))
    return { ok: false, status: 403, why: 'Only pages of this site are answered.' };
  // A page says where it comes from whenever it sends something; what does not say so is no page of this site.
  if (brings && headers.origin !== `http://${headers.host?.toLowerCase()}`)
    return { ok: false, status: 403, why: 'Only pages of this site are answered.' };
  if (isForeign(headers)) return { ok: false, status: 403, why: 'Only pages of this site are answered.' };
  const path = readPath(target);
  if (path === null) return { ok: false, status: 400, why: 'That is no path of this site.' };
  return { ok: true, path, withBody: method !== 'HEAD', brings };
}

/** A page from elsewhere may lead here by a link, but not load scripts, pictures or frames from here. */
function isForeign(headers: IncomingHttpHeaders): boolean {
  const site = headers['sec-fetch-site'];
  const leadsHere = headers['sec-fetch-mode'] === 'navigate' && headers['sec-fetch-dest'] === 'document';
  return (site === 'cross-site' || site === 'same-site') && !leadsHere;
}

/**
 * The path of a file of the site, without its first slash; a folder's is that of its `index.html`. Null for
 * whatever is not spelt plainly: steps upward, slashes or NULs in disguise, broken escapes.
 */
export function readPath(target: string): string | null {
  const raw = target.split(/[?#]/, 1)[0] ?? '';
  if (!raw.startsWith('/') || /%(?:2f|5c|00)|\\/i.test(raw)) return null;
  let decoded: string;
  try {
    decoded = decodeURIComponent(raw.slice(1));
  } catch {
    return null;
  }
  if (/\p{Cc}/u.test(decoded)) return null;
  const steps = decoded.split('/');
  const last = steps.pop() ?? '';
  if ([...steps, last].some((step) => step === '.' || step === '..') || steps.includes('')) return null;
  return [...steps, last === '' ? 'index.html' : last].join('/');
}

const TYPES: ReadonlyMap<string, string> = new Map(
  Object.entries({
    html: 'text/html; charset=utf-8',
    css: 'text/css; charset=utf-8',
    js: 'text/javascript; charset=utf-8',
    json: 'application/json; charset=utf-8',
    jsonld: 'application/ld+json; charset=utf-8',
    csv: 'text/csv; charset=utf-8',
    ics: 'text/calendar; charset=utf-8',
    atom: 'application/atom+xml; charset=utf-8',
    svg: 'image/svg+xml',
    png: 'image/png',
    jpg: 'image/jpeg',
    jpeg: 'image/jpeg',
    webp: 'image/webp',
    gif: 'image/gif',
    woff2: 'font/woff2',
    txt: 'text/plain; charset=utf-8',
    xml: 'application/xml; charset=utf-8',
    pdf: 'application/pdf',
  }),
);

/** Media type of a file, by its ending. */
export function mediaType(path: string): string {
  return TYPES.get(path.slice(path.lastIndexOf('.') + 1).toLowerCase()) ?? 'application/octet-stream';
}
