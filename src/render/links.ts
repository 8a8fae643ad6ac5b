import type { Reckoning } from '../reckon/model.js';

/** A text that may lead somewhere. */
export interface Link {
  readonly text: string;
  /** Address relative to the page, or null where there is nothing to lead to. */
  readonly href: string | null;
}

/** What a copy of a book says in the place of something that is not in it. */
export const NOT_SHOWN: Link = { text: 'something that is not shown here', href: null };

/** Paths of pages from the site's folder. */
export const paths = {
  now: 'index.html',
  log: 'log/index.html',
  year: (year: string) => `log/${year}.html`,
  changes: (year: string) => `changes/${year}.html`,
  entry: (id: string) => `entries/${id}.html`,
  systems: 'systems/index.html',
  system: (id: string) => `systems/${id}.html`,
  specs: 'specs/index.html',
  spec: (ref: string) => `specs/${ref}.html`,
  readings: 'readings/index.html',
  systemReadings: (id: string, page: number) => `readings/${id}${page === 1 ? '' : `-${page}`}.html`,
  seriesDays: (ref: string, page: number) => `series/${ref}${page === 1 ? '' : `-${page}`}.html`,
  parts: 'parts.html',
  tests: 'tests.html',
  decisions: 'decisions.html',
  work: 'work.html',
  plan: 'plan.html',
  drift: 'drift.html',
  findings: 'findings.html',
  upkeep: 'upkeep.html',
  power: 'power.html',
  weights: 'weights.html',
  pack: 'pack/index.html',
  packHeads: 'pack/heads.css',
  hours: 'hours.html',
  write: 'write.html',
  writeData: 'data/write.js',
  seal: 'seal.html',
  about: 'about.html',
  reference: 'reference/index.html',
  referenceFile: (name: string) => `reference/file-${name}.html`,
  referenceCode: (code: string) => `reference/${code}.html`,
  quantities: 'reference/quantities.html',
  notFound: '404.html',
  downloads: 'downloads.html',
  /** The book in open forms, and its loggers' files below. */
  open: (file: string) => `open/${file}`,
  /** What a search of the book needs: names first, then records in parts. */
  findHead: 'data/find.js',
  findPart: (name: string) => `data/find-${name}.js`,
} as const;

/**
 * Addresses as seen from pages at one depth of folders. Everything is relative and names its file, so that
 * the site works in any folder of any host and straight from disk.
 */
export interface Links {
  /** What leads from the page to the site's folder: empty, or `../`. */
  readonly root: string;
  readonly to: (path: string) => string;
  readonly entry: (id: string) => Link;
  readonly system: (id: string) => Link;
  readonly spec: (ref: string) => Link;
  readonly point: (ref: string) => Link;
  readonly part: (id: string) => Link;
  readonly item: (id: string) => Link;
  readonly decision: (id: string) => Link;
  readonly test: (ref: string) => Link;
  readonly upkeep: (ref: string) => Link;
  /** A case of the power plan. */
  readonly powerCase: (id: string) => Link;
  readonly weights: () => Link;
  /** A spec, point or derived value, by what its ref turns out to be. */
  readonly anything: (ref: string) => Link;
}

/** The links of pages whose way to the site's folder is `root`. */
export function linksFrom(root: string, reckoning: Reckoning): Links {
  const { systems, plans } = reckoning.book;
  const link = (text: string, there: boolean, path: string): Link => ({
    text,
    href: there ? root + path : null,
  });
  const systemOf = (ref: string) => systems.get(ref.slice(0, ref.indexOf('.')));

  const links: Links = {
    root,
    to: (path) => root + path,
    entry: (id) => {
      const entry = reckoning.entries.get(id);
      return link(entry?.title ?? id, entry !== undefined, paths.entry(id));
    },
    system: (id) => {
      const system = systems.get(id);
      return link(system?.title ?? id, system !== undefined, paths.system(id));
    },
    spec: (ref) => {
      const state = reckoning.specs.get(ref);
      return link(state?.spec.title ?? ref, state !== undefined, paths.spec(ref));
    },
    point: (ref) => {
      const point = reckoning.timelines.get(ref)?.point;
      return link(point?.title ?? ref, point !== undefined, inSystem(ref, 'point'));
    },
    part: (id) => {
      const part = reckoning.parts.get(id);
      return link(part?.what ?? id, part !== undefined, `${paths.parts}#${id}`);
    },
    item: (id) => {
      const item = reckoning.items.get(id);
      return link(item?.opened.what ?? id, item !== undefined, `${paths.work}#${id}`);
    },
    decision: (id) => {
      const decision = reckoning.decisions.get(id)?.decision;
      return link(decision?.question ?? id, decision !== undefined, `${paths.decisions}#${id}`);
    },
    test: (ref) => {
      const test = reckoning.tests.get(ref)?.test;
      return link(test?.title ?? ref, test !== undefined, `${paths.tests}#${ref}`);
    },
    upkeep: (ref) => {
      const state = reckoning.upkeep.get(ref);
      return link(state?.upkeep.what ?? ref, state !== undefined, `${paths.upkeep}#${ref}`);
    },
    powerCase: (id) => {
      const found = plans.power?.cases[id];
      return link(found?.title ?? id, found !== undefined, `${paths.power}#${id}`);
    },
    weights: () => link(plans.weights?.title ?? 'Weights', plans.weights !== null, paths.weights),
    anything: (ref) => {
      if (reckoning.specs.has(ref)) return links.spec(ref);
      if (reckoning.timelines.has(ref)) return links.point(ref);
      const derived = systemOf(ref)?.derived.get(ref.slice(ref.indexOf('.') + 1));
      return link(derived?.title ?? ref, derived !== undefined, inSystem(ref, 'derived'));
    },
  };
  return links;
}

/** The place on a system's page of something that is named inside the system. */
function inSystem(ref: string, what: string): string {
  const dot = ref.indexOf('.');
  return `${paths.system(ref.slice(0, dot))}#${what}-${ref.slice(dot + 1)}`;
}
