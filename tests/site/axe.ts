import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

interface Axe {
  run(root: Document, options: object): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }>;
}

/**
 * What axe finds on a page, as `rule: element`, and whether the page is wider than its window.
 *
 * @param page of a context in which the pages' policy is off, or axe could not get in.
 */
export async function axeFindings(page: Page): Promise<string[]> {
  await page.evaluate(AXE);
  return page.evaluate(async () => {
    const { axe } = window as unknown as { axe: Axe };
    // Rows of a long table are made alike, as are systems in the pack: looking at every one takes minutes.
    for (const system of [...document.querySelectorAll('section.system')].slice(4)) system.remove();
    for (const { rows } of document.querySelectorAll('tbody'))
      for (const row of [...rows].slice(15, -3)) row.remove();
    // The rule for the size of targets is part of WCAG 2.2 AA, but off unless asked for.
    const rules = { 'target-size': { enabled: true } };
    const { violations } = await axe.run(document, { resultTypes: ['violations'], rules, preload: false });
    const { scrollWidth, clientWidth } = document.documentElement;
    return [
      ...violations.flatMap(({ id, nodes }) => nodes.slice(0, 3).map(({ html }) => `${id}: ${html}`)),
      ...(scrollWidth > clientWidth ? [`wider than its window by ${scrollWidth - clientWidth} px`] : []),
    ];
  });
}
