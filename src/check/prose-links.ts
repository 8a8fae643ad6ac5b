/** Where a link in the prose of a book leads. The checker and the site go by the same. */

/** Whether an address leads out of the book, to where a page may lead. */
export function leadsOut(address: string): boolean {
  return /^(?:https?:\/\/|mailto:)/i.test(address);
}

/** The name of the entry or system that an address in the book leads to (`../systems/hull.md`); null for others. */
export function pageNamedBy(address: string): string | null {
  return /^[^?#:]*?([^/\\?#:]+)\.md(?:#.*)?$/.exec(decoded(address))?.[1] ?? null;
}

/** Addresses come out of Markdown percent-encoded; one with a slip in it stays as it is. */
export function decoded(address: string): string {
  try {
    return decodeURIComponent(address);
  } catch {
    return address;
  }
}

/**
 * Whether a body may hold a picture, or a link that leads nowhere: a quick look at what stands where an address
 * stands, before the body is parsed for good. It may say yes too often, never too seldom.
 */
export function mayLeadNowhere(body: string, pages: ReadonlySet<string>): boolean {
  if (!/\]\(|\]\[|\]:/.test(body)) return false;
  if (body.includes('![')) return true;
  const beside = body.split('](').length - 1;
  const addresses = [...body.matchAll(/\]\(\s*<?([^\s()<>]+)>?\s*\)/g)].map(
    ([, address]) => address as string,
  );
  // One of a form that is not understood here, or with its address elsewhere, is looked at for good.
  if (addresses.length !== beside || /^ {0,3}\[(?!\^)[^\]]+\]:/m.test(body)) return true;
  return addresses.some((address) => !leadsOut(address) && !pages.has(pageNamedBy(address) ?? ''));
}
