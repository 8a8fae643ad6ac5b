import { performance } from 'node:perf_hooks';
import {
  loadCheck,
  loadFolder,
  loadFrontMatter,
  loadPipeline,
  loadReckon,
  loadSchema,
  TODAY,
} from './built.js';

/** Milliseconds of each stage of a cold build, one after the other in one process; prints JSON. */
export interface Stages {
  readonly read: number;
  readonly parse: number;
  readonly schema: number;
  readonly check: number;
  readonly reckon: number;
  readonly keys: number;
  readonly render: number;
  readonly pages: number;
  readonly readings: number;
  readonly specs: number;
  readonly dependents: number;
}

const [{ readFolder }, { quickFrontMatter, quickYaml }, { fitsSchema }, { checkBook }, { reckon }, pipeline] =
  await Promise.all([
    loadFolder(),
    loadFrontMatter(),
    loadSchema(),
    loadCheck(),
    loadReckon(),
    loadPipeline(),
  ]);

let last = performance.now();
const lap = (): number => {
  const now = performance.now();
  const taken = now - last;
  last = now;
  return taken;
};

const folder = readFolder(process.argv[2] as string);
const read = lap();
const parsed = folder.files.map((file) => ({
  file,
  data: (file.path.endsWith('.yaml') ? quickYaml(file.text) : quickFrontMatter(file.text))?.data,
}));
const parse = lap();
const fit = parsed.every(({ file, data }) => fitsSchema(file.role, data, () => undefined));
if (!fit) throw new Error('a made-up book does not fit the schema');
const schema = lap();
const known = new Map(parsed.map(({ file, data }) => [file.path, data]));
lap();
const { book } = await checkBook(folder, TODAY, {
  recall: ({ path }) => known.get(path),
  keep: () => undefined,
  recallPlace: () => undefined,
  keepPlace: () => undefined,
});
if (book === null) throw new Error('a made-up book has no book.yaml');
const check = lap();
const reckoning = reckon(book, TODAY);
const reckoned = lap();
const zip = { files: 0, photos: 0, bytes: 0, isMade: true };
const pages = await pipeline.pagesOf(reckoning, { photos: new Map(), zip }, '/', null);
const keys = lap();
for (let from = 0; from < pages.length; from += 250)
  await pipeline.renderThrough(pages.slice(from, from + 250));
const render = lap();

const rests = (things: Iterable<{ readonly restsOn: readonly unknown[] }>) =>
  [...things].filter(({ restsOn }) => restsOn.length > 0).length;
const stages: Stages = {
  read,
  parse,
  schema,
  check,
  reckon: reckoned,
  keys,
  render,
  pages: pages.length,
  readings: reckoning.readings.length,
  specs: reckoning.specs.size,
  dependents:
    rests(reckoning.decisions.values()) +
    rests(reckoning.parts.values()) +
    rests([...reckoning.items.values()].map(({ opened }) => opened)) +
    [...book.systems.values()].reduce((sum, system) => sum + system.derived.size, 0),
};
process.stdout.write(JSON.stringify(stages));
