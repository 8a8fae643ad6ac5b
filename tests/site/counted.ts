import type { Page } from 'playwright-core';

/** Waits until all records are there, all rows of what was found on the page, and their count says something. */
export async function counted(page: Page, words: RegExp): Promise<void> {
  await page.waitForFunction(
    (pattern) =>
      document.querySelector('#found')?.ariaBusy === 'false' &&
      new RegExp(pattern).test(document.querySelector('#filter-count')?.textContent ?? ''),
    words.source,
  );
}
