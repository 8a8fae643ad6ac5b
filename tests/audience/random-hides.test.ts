import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse, stringify } from 'yaml';
import { HIDEABLE } from '../../schemas/common.js';
import { redactBook } from '../../src/audience/redact.js';
import { checkBook, NO_MEMORY } from '../../src/check/check.js';
import { type BookFolder, readFolder, type SourceFile } from '../../src/read/folder.js';
import { splitFences } from '../../src/read/front-matter.js';

/** Whatever is hidden of the demo book, what is left is a book without an error. */

const DEMO = readFolder(join(import.meta.dirname, '../../log'));
const TODAY = '2026-11-28';
const SYSTEMS = DEMO.files.flatMap(({ path, role }) =>
  role === 'system' ? [path.replace(/^systems\/|\.md$/g, '')] : [],
);
const ENTRIES = DEMO.files.flatMap(({ path, role }) => (role === 'entry' ? [path] : []));

const hides = fc.uniqueArray(fc.constantFrom(...HIDEABLE.filter((what) => what !== 'entry')), {
  maxLength: 5,
});
const hiding = fc.record({
  hides,
  systems: fc.uniqueArray(fc.constantFrom(...SYSTEMS), { maxLength: 3 }),
  entries: fc.uniqueArray(fc.tuple(fc.constantFrom(...ENTRIES), fc.constantFrom(...HIDEABLE)), {
    maxLength: 12,
    selector: ([path]) => path,
  }),
});

/** The demo book with something hidden from an audience, and something from everybody. */
function withHidden({
  hides,
  systems,
  entries,
}: typeof hiding extends fc.Arbitrary<infer T> ? T : never): BookFolder {
  const own = new Map(entries);
  const files = DEMO.files.map((file): SourceFile => {
    if (file.role === 'book') {
      const book = parse(file.text) as Record<string, unknown>;
      return changed(file, stringify({ ...book, audiences: { other: { hides, 'hides-systems': systems } } }));
    }
    const what = own.get(file.path);
    const fenced = what === undefined ? null : splitFences(file.text);
    if (fenced === null) return file;
    const data = { ...(parse(fenced.yaml) as object), private: [what] };
    return changed(file, `---\n${stringify(data)}---\n${fenced.body}`);
  });
  return { ...DEMO, files };
}

function changed(file: SourceFile, text: string): SourceFile {
  return { ...file, text, hash: `${file.hash} ${text.length}` };
}

describe('whatever is hidden of the demo book', () => {
  it.each(['public', 'buyer', 'surveyor'])(
    '%s gets a book without an error',
    async (audience) => {
      const made = await redactBook(DEMO, audience, TODAY, NO_MEMORY);
      if (!made.ok) throw new Error(`${made.file}: ${made.why}`);
      const { book, diagnostics } = await checkBook(made.redacted.folder, TODAY, NO_MEMORY);
      expect(diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
      expect(book?.entries).toHaveLength(ENTRIES.length);
      expect(book?.copy?.for).toBe(audience);
      const text = made.redacted.folder.files.map((file) => `${file.path} ${file.text}`).join('\n');
      expect(/Sundvall|Cottle/.test(text)).toBe(audience === 'surveyor');
      expect(/Tolland/.test(text)).toBe(audience === 'surveyor');
    },
    60_000,
  );

  it('leaves a book without an error, and none of what is hidden whole', async () => {
    await fc.assert(
      fc.asyncProperty(hiding, async (hidden) => {
        const made = await redactBook(withHidden(hidden), 'other', TODAY, NO_MEMORY);
        if (!made.ok) throw new Error(`${made.file}: ${made.why}`);
        const { folder } = made.redacted;
        const { diagnostics } = await checkBook(folder, TODAY, NO_MEMORY);
        expect(diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
        const paths = new Set(folder.files.map(({ path }) => path));
        for (const system of hidden.systems) expect(paths.has(`systems/${system}.md`)).toBe(false);
        for (const [path, what] of hidden.entries) if (what === 'entry') expect(paths.has(path)).toBe(false);
        if (hidden.hides.includes('photos')) expect(folder.attachments).toEqual([]);
      }),
      { numRuns: 7 },
    );
  }, 300_000);
});
