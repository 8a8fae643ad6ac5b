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
