import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { deadLinksIn, type LinkReport } from '../render/dead-links.js';

/** Looks up every link and picture of a built site. @param out the site's folder. */
export function checkLinks(out: string): LinkReport {
  const files = readdirSync(out, { withFileTypes: true, recursive: true }).filter((file) => file.isFile());
  const paths = new Set(
    files.map((file) => relative(out, join(file.parentPath ?? file.path, file.name)).replaceAll('\\', '/')),
  );
  return deadLinksIn(paths, (path) => readFileSync(join(out, path), 'utf8'));
}

/** The report in words: a line for each dead link, and one that sums it up. */
export function linksText({ dead, checked, outside }: LinkReport): string {
  const lines = dead.map(({ page, address, why }) => `${page}: ${address}: ${why}\n`);
  const all = checked === 1 ? '1 link' : `${checked} links`;
  const left = outside.length === 0 ? '' : ` Addresses out of the site, not looked up: ${outside.length}.`;
  const found = dead.length === 0 ? 'none is dead' : `${dead.length} dead`;
  return `${lines.join('')}${all} and pictures looked up, ${found}.${left}\n`;
}
