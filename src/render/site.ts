import type { Reckoning } from '../reckon/model.js';
import type { FitMemory } from '../reckon/trend.js';
import type { BookZipOffer } from './book-zip.js';
import { packPages } from './pack/pages.js';
import type { Page } from './page.js';
import { aboutPage, notFoundPage } from './pages/about.js';
import { changesPages } from './pages/changes.js';
import { decisionsPage } from './pages/decisions.js';
import { downloadPages } from './pages/downloads.js';
import { driftPages } from './pages/drift.js';
import { entryPages } from './pages/entry.js';
import { findingsPage } from './pages/findings.js';
import { hoursPage } from './pages/hours.js';
import { logPages } from './pages/log.js';
import { nowPage } from './pages/now.js';
import { partsPage } from './pages/parts.js';
import { planPages } from './pages/plan.js';
import { powerPages } from './pages/power.js';
import { readingPages } from './pages/readings.js';
import { type ReferenceInput, referencePages } from './pages/reference.js';
import { sealPage } from './pages/seal.js';
import { seriesPages } from './pages/series.js';
import { specPages } from './pages/specs.js';
import { systemPages } from './pages/system.js';
import { systemsPage } from './pages/systems.js';
import { testsPage } from './pages/tests.js';
import { upkeepPages } from './pages/upkeep.js';
import { weightsPages } from './pages/weights.js';
import { workPage } from './pages/work.js';
import { writePages } from './pages/write.js';
import type { PhotoIndex } from './photo-index.js';
import { rendererId } from './renderer-id.js';
import { type RenderBody, siteContext } from './site-context.js';

export type { Page } from './page.js';
export type { ReferenceInput } from './pages/reference.js';
export type { RenderBody } from './site-context.js';

/** Everything that a site is made from. */
export interface SiteInput {
  readonly reckoning: Reckoning;
  readonly photos: PhotoIndex;
  /** The book's own files, to be taken away as one. */
  readonly zip: BookZipOffer;
  readonly reference: ReferenceInput;
  /** The JSON Schema of the book as one document, as it is published. */
  readonly exportSchema: string;
  /** Folder of the host in which the site lies; only the page for wrong addresses needs it. */
  readonly pathPrefix: string;
  readonly renderBody: RenderBody;
  /** The line by which an editor finds the schema of an entry; null where the book carries no schemas. */
  readonly entryModeline: string | null;
  /** Whether a seal will be published with it. */
  readonly sealed?: boolean;
  /** Spares laying lines through readings anew. */
  readonly fits?: FitMemory | undefined;
}

/**
 * All files of a site that are made from the book, with the key of each. Making keys is cheap; a page is put
 * together when its `render` is called.
 */
export function sitePages({
  reckoning,
  photos,
  zip,
  reference,
  exportSchema,
  pathPrefix,
  renderBody,
  entryModeline,
  sealed = false,
  fits,
}: SiteInput): readonly Page[] {
  const site = siteContext({
    reckoning,
    photos,
    renderBody,
    rendererId: rendererId(),
    sealed,
    fits,
  });
  return [
    nowPage(site),
    findingsPage(site),
    ...logPages(site),
    ...changesPages(site),
    ...entryPages(site),
    systemsPage(site),
    ...systemPages(site),
    ...specPages(site),
    ...readingPages(site),
    ...seriesPages(site),
    ...driftPages(site),
    testsPage(site),
    partsPage(site),
    decisionsPage(site),
    workPage(site),
    ...planPages(site),
    ...upkeepPages(site),
    ...powerPages(site),
    ...weightsPages(site),
    hoursPage(site),
    ...packPages(site, { seal: null, words: false }, null),
    ...(site.reckoning.book.copy === null ? writePages(site, reference, entryModeline) : []),
    ...downloadPages(site, exportSchema, zip),
    ...(sealed ? [sealPage(site)] : []),
    aboutPage(site),
    notFoundPage(site, pathPrefix),
    ...referencePages(site, reference),
  ];
}
