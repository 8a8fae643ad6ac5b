import { CORE_SCHEMA, load } from 'js-yaml';
import { loadFolder } from './built.js';

/** How long js-yaml by itself takes for the front matter of a book's entries; prints JSON. */
const { readFolder } = await loadFolder();
const texts = readFolder(process.argv[2] as string)
  .files.filter(({ role }) => role === 'entry')
  .map(({ text }) => text.slice(4, text.indexOf('\n---\n', 4)));
const began = performance.now();
for (const text of texts) load(text, { schema: CORE_SCHEMA });
process.stdout.write(JSON.stringify({ ms: performance.now() - began }));
