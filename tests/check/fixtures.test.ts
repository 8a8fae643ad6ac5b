import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ALL_CODES } from '../../src/check/codes.js';
import type { Diagnostic } from '../../src/check/diagnostic.js';
import { reportText } from '../../src/check/report/text.js';
import { type Case, checkWith, parseFixture } from './fixtures.js';

/**
 * Every problem that the checker can find, in a book that has it. What a case expects is part of its file;
 * where that is still empty, the report is written into it, for somebody to read and to keep. In CI nothing
 * is written: a missing expectation fails there.
 */

const FOLDER = join(import.meta.dirname, 'codes');
const fixtures = readdirSync(FOLDER)
  .sort()
  .map((name) => {
    const path = join(FOLDER, name);
    return { code: basename(name, '.md'), path, cases: parseFixture(readFileSync(path, 'utf8')) };
  });

function placesOf(diagnostics: readonly Diagnostic[]): string[] {
  return diagnostics.map(({ file, span }) => `${file}@${span.offset}+${span.length}`).sort();
}

function marksOf({ marks }: Case): string[] {
  return marks.map(({ file, offset, length }) => `${file}@${offset}+${length}`).sort();
}

/** Writes the report into the fixture behind the case's `== expected ==`. */
function writeExpected(path: string, title: string, report: string): void {
  const text = readFileSync(path, 'utf8');
  const start = text.indexOf('== expected ==\n', text.indexOf(`=== ${title} ===`));
  const head = start + '== expected ==\n'.length;
  const next = text.indexOf('\n=== ', head - 1);
  const rest = next < 0 ? '' : text.slice(next);
  writeFileSync(path, `${text.slice(0, head)}${report}\n${rest}`);
}

describe('the fixtures', () => {
  it('have one for every code, and none for anything else', () => {
    expect(fixtures.map(({ code }) => code)).toEqual([...ALL_CODES].sort());
  });

  it('begin from a base book that is without a problem', async () => {
    const { checked } = await checkWith(new Map());
    expect(checked.diagnostics).toEqual([]);
    expect(checked.book?.entries).toHaveLength(1);
    expect(checked.book?.systems.size).toBe(2);
  });

  it('tell their cases apart by title', () => {
    for (const { code, cases } of fixtures) {
      expect(cases.length, code).toBeGreaterThan(0);
      expect(new Set(cases.map(({ title }) => title)).size, code).toBe(cases.length);
    }
  });
});

describe.each(fixtures)('$code', ({ code, path, cases }) => {
  it.each(cases)('$title', async (one) => {
    const { checked } = await checkWith(one.files);
    const report = reportText(checked.diagnostics).trimEnd();
    if (one.expected === '' && report !== '' && process.env['CI'] === undefined)
      writeExpected(path, one.title, report);
    else expect(report).toBe(one.expected);
    expect(placesOf(checked.diagnostics), report).toEqual(marksOf(one));
    // A case without a mark shows where the line is drawn: nothing is wrong there.
    if (one.marks.length > 0) expect(checked.diagnostics.map((found) => found.code)).toContain(code);
  });
});
