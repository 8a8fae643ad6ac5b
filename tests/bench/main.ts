import { mkdtempSync, rmSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { makeBook } from './generate.js';
import { type Measured, measure } from './measure.js';
import { figures, growth, phases } from './tables.js';

/**
 * Measures the tool on made-up books, and Eleventy and js-yaml by themselves in the same run; only the ratios
 * mean much, since machines differ and are shared.
 *
 *     npm run bench -- [--sizes 500,2000,10000] [--quick]
 *     npm run bench -- --find
 *     npm run bench -- --photos 500
 */

const { values } = parseArgs({
  options: {
    sizes: { type: 'string', default: '500,2000,10000' },
    quick: { type: 'boolean', default: false },
    find: { type: 'boolean', default: false },
    photos: { type: 'string' },
  },
});
const sizes = values.sizes.split(',').map(Number);
if (sizes.some((size) => !Number.isInteger(size) || size < 1))
  throw new Error('--sizes are whole numbers: 500,2000');

console.log(`Node ${process.version}, ${availableParallelism()} cores. Medians; ratios are of one run.\n`);
const all: Measured[] = [];
if (values.find) {
  // Needs a browser, which the rest does without.
  const { benchFind } = await import('./find.js');
  await benchFind();
}
if (values.photos !== undefined) {
  const count = Number(values.photos);
  if (!Number.isInteger(count) || count < 2) throw new Error('--photos is how many: 500');
  const { benchPhotos } = await import('./photos.js');
  await benchPhotos(count);
}
for (const size of values.find || values.photos !== undefined ? [] : sizes) {
  const folder = mkdtempSync(join(tmpdir(), 'ribband-bench-'));
  try {
    const measured = measure(makeBook(size), folder, values.quick ? 1 : 3);
    all.push(measured);
    console.log(`${figures(measured)}\n\n${phases(measured)}\n`);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
if (all.length > 1) console.log(growth(all));
