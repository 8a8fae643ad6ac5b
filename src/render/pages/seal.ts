import { SealCheck } from '../../../site/templates/seal.js';
import { PROVES, PROVES_NOT } from '../../seal/summary.js';
import { paths } from '../links.js';
import { makePage } from '../make-page.js';
import type { Page } from '../page.js';
import type { Site } from '../site-context.js';

/**
 * The page by which a sealed site is checked. It says nothing that hangs on the seal itself, which covers this page
 * too: its script reads the seal when somebody looks.
 */
export interface SealView {
  readonly proves: readonly string[];
  readonly provesNot: readonly string[];
  /** The page on which the seal's fields are explained. */
  readonly reference: string;
}

/** Makes the page by which a sealed site is checked. */
export function sealPage(site: Site): Page {
  const view = (): SealView => ({
    proves: PROVES,
    provesNot: PROVES_NOT,
    reference: paths.referenceFile('seal'),
  });
  return makePage(site, {
    path: paths.seal,
    title: 'Check this copy',
    section: 'seal',
    template: SealCheck,
    view,
    scripts: ['assets/seal.js'],
    fetches: true,
  });
}
