import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { PrintFailure, printPage } from './chromium.js';
import { withDay } from './dates.js';
import { placesOf } from './places.js';

/** What is printed: a page, and the files that it shows, as a site has them. */
export interface PrintableSite {
  /** Files by their path: text, bytes, or where the file lies. */
  readonly files: readonly {
    readonly path: string;
    readonly content: string | Uint8Array | { readonly copyOf: string };
  }[];
  /** Path of the page among them that is printed. */
  readonly page: string;
  /** The page with the numbers of pages in it; of a place that is not known yet, with room for one. */
  readonly numbered: (pages: ReadonlyMap<string, number>) => string;
  /** The day that the PDF bears. */
  readonly day: string;
}

/** As often as it is printed at most: once to count, once with the numbers, once more should they have moved. */
const MOST_PASSES = 4;

/**
 * Prints a page that names its own pages: first with room for the numbers, then with the numbers that were
 * counted, until what it says is where things are.
 *
 * @param browser path of the browser.
 * @param beside where the folder for its work is made; null for the machine's own.
 * @returns the PDF. @throws PrintFailure where the browser does not print it so. The work folder is gone in any case.
 */
export async function printNumbered(
  browser: string,
  site: PrintableSite,
  beside: string | null,
): Promise<Uint8Array> {
  const folder = mkdtempSync(join(beside ?? tmpdir(), 'ribband-pack-'));
  try {
    for (const { path, content } of site.files) put(join(folder, 'site', path), content);
    const page = join(folder, 'site', site.page);
    let known: ReadonlyMap<string, number> = new Map();
    for (let pass = 1; ; pass += 1) {
      put(page, site.numbered(known));
      const pdf = join(folder, `pass-${pass}.pdf`);
      await printPage({
        browser,
        url: pathToFileURL(page).href,
        pdf,
        profile: join(folder, `profile-${pass}`),
      });
      const bytes = readFileSync(pdf);
      const found = await placesOf(bytes);
      if (sameNumbers(known, found)) return withDay(bytes, site.day);
      if (pass === MOST_PASSES) throw new PrintFailure('The numbers of the pages do not settle.');
      known = found;
    }
  } finally {
    rmSync(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
  }
}

function put(path: string, content: PrintableSite['files'][number]['content']): void {
  mkdirSync(dirname(path), { recursive: true });
  if (typeof content === 'object' && 'copyOf' in content) copyFileSync(content.copyOf, path);
  else writeFileSync(path, content);
}

function sameNumbers(a: ReadonlyMap<string, number>, b: ReadonlyMap<string, number>): boolean {
  return a.size === b.size && [...a].every(([place, page]) => b.get(place) === page);
}
