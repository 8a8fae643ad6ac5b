import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import type { Page } from './page.js';

/** One file that Eleventy made. */
export interface RenderedPage {
  readonly path: string;
  readonly content: string;
}

/** What the one template is given: the place of its page in the list. */
interface TemplateData {
  readonly place: number;
}

interface MadeFile {
  readonly outputPath: string;
  readonly content: string;
}

/** The little of Eleventy that is used here; its main export ships no types. */
interface EleventyConfig {
  addGlobalData(name: string, data: () => unknown): void;
  addTemplate(name: string, template: (data: TemplateData) => string, data: object): void;
  readonly benchmarks: Readonly<Record<'config' | 'aggregate', { setIsVerbose(verbose: boolean): void }>>;
}

interface EleventyInstance {
  disableLogger(): void;
  toJSON(): Promise<readonly MadeFile[]>;
}

type EleventyConstructor = new (
  input: string,
  output: string,
  options: { quietMode: boolean; configPath: false; config: (config: EleventyConfig) => void },
) => EleventyInstance;

/**
 * Renders pages through Eleventy: one instance, one paginated template that is a function, no tags, and an
 * empty folder as input. Eleventy is handed functions of our own only and never a file of a book, since it
 * would run the templates and front matter in it as code.
 *
 * Eleventy is imported here and not at the top, so that a build with nothing to render does not load it.
 *
 * @returns the pages with their contents, in the order given; nothing is written
 */
export async function renderPages(pages: readonly Page[]): Promise<RenderedPage[]> {
  if (pages.length === 0) return [];
  // @ts-expect-error: it ships no types for its main export.
  const { default: Eleventy } = (await import('@11ty/eleventy')) as { default: EleventyConstructor };
  const input = mkdtempSync(join(tmpdir(), 'ribband-render-'));
  try {
    const config = (eleventy: EleventyConfig) => configure(eleventy, pages);
    const output = join(input, 'site');
    const eleventy = new Eleventy(input, output, { quietMode: true, configPath: false, config });
    eleventy.disableLogger();
    return inOrder(pages, await eleventy.toJSON(), output);
  } finally {
    rmSync(input, { recursive: true, force: true });
  }
}

/** The pages stay outside of Eleventy's data, which it copies and merges; it only counts through them. */
function configure(eleventy: EleventyConfig, pages: readonly Page[]): void {
  const pageAt = ({ place }: TemplateData): Page => pages[place] as Page;
  // On a slow machine it would tell how long its own steps took, quiet or not.
  for (const bench of Object.values(eleventy.benchmarks)) bench.setIsVerbose(false);
  eleventy.addGlobalData('places', () => pages.map((_, place) => place));
  eleventy.addTemplate('page.11ty.js', (data) => inOnePiece(pageAt(data).render()), {
    pagination: { data: 'places', size: 1, alias: 'place' },
    permalink: (data: TemplateData) => pageAt(data).path,
    eleventyExcludeFromCollections: true,
  });
}

/**
 * The same text, laid out in memory in one piece. A text that was put together from thousands of pieces keeps
 * them all until somebody looks into it, and a batch of such texts costs more to keep than to make.
 */
function inOnePiece(text: string): string {
  START.test(text);
  return text;
}

const START = /^/;

/** Puts what Eleventy made back into the order of the pages, by path below its output folder. */
function inOrder(pages: readonly Page[], made: readonly MadeFile[], output: string): RenderedPage[] {
  const byPath = new Map<string, string>();
  for (const file of made) byPath.set(relative(output, file.outputPath).replaceAll('\\', '/'), file.content);
  return pages.map(({ path }) => {
    const content = byPath.get(path);
    if (content === undefined) throw new Error(`Eleventy did not make ${path}`);
    return { path, content };
  });
}
