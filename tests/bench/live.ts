import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { loadLiveSite, TODAY } from './built.js';
import { median } from './child.js';

/** Milliseconds from saving one entry to having its page, and the first page, fresh from a live site; prints JSON. */
export interface Live {
  readonly entry: number;
  readonly home: number;
  readonly slowest: number;
}

const EDITS = 11;
const [root = '', path = ''] = process.argv.slice(2);
const { openLiveSite } = await loadLiveSite();
const site = await openLiveSite({ root, today: () => TODAY, asOf: null, audience: 'owner' });
const page = `entries/${path.slice(path.lastIndexOf('/') + 1).replace(/\.md$/, '.html')}`;
const text = readFileSync(join(root, path), 'utf8');

const entry: number[] = [];
const home: number[] = [];
for (let edit = 1; edit <= EDITS; edit++) {
  // A reading and the prose change: its page, its system's, the readings and the first page with them.
  const reading = `measurements:\n  - what: made up while it was measured\n    value: ${edit} mm\n`;
  writeFileSync(
    join(root, path),
    text.replace('measurements:\n', reading).concat(`\nLooked ${edit} times.\n`),
  );
  const began = performance.now();
  await site.refresh();
  const fresh = await site.get(page);
  entry.push(performance.now() - began);
  await site.get('index.html');
  home.push(performance.now() - began);
  if (fresh === null || !fresh.body.toString().includes(`Looked ${edit} times`))
    throw new Error(`${page} is stale`);
}
writeFileSync(join(root, path), text);
const live: Live = { entry: median(entry), home: median(home), slowest: Math.max(...entry) };
process.stdout.write(JSON.stringify(live));
