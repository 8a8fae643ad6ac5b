import { describe, expect, it } from 'vitest';
import { NO_MEMORY } from '../../src/check/check.js';
import { placeProblems } from '../../src/check/placing.js';
import { readFolder } from '../../src/read/folder.js';
import { adviceOn } from '../../src/reckon/advice.js';
import { reckon } from '../../src/reckon/reckon.js';
import { bookOf, entry, type Files, system, withFolder, writeFiles } from './book.js';

const SYSTEM = system(
  's',
  `points:
  cap: { quantity: charge, unit: Ah }
specs:
  bank: { value: 400 Ah, basis: told, within: 5 %, point: cap, check-by: Discharge it. }
  year: { value: "2021", basis: told }
derived:
  usable: { from: 0.5 * bank, quantity: charge }
  of-point: { from: 2 * cap, quantity: charge }`,
);

/** What is said, and the line it points at. */
async function advice(asOf: string, ...files: readonly Files[]) {
  const book = await bookOf(SYSTEM, ...files);
  const problems = adviceOn(reckon(book, asOf));
  const placed = await withFolder((root) => {
    writeFiles(root, Object.assign({}, ...files) as Files);
    const sources = new Map(readFolder(root).files.map((file) => [file.path, file]));
    return placeProblems(problems, [], sources, NO_MEMORY);
  });
  return placed.map(({ code, severity, file, message, hint, excerpt, span }) => ({
    code,
    severity,
    file,
    message,
    hint,
    marked: excerpt.slice(span.column - 1, span.endColumn - 1),
    line: excerpt.trim(),
  }));
}

const moves = (date: string, ...lines: readonly string[]): Files =>
  entry(date, `parts:\n${lines.map((line) => `  - { ${line} }`).join('\n')}`, 'parts');

describe('money spent on what is not checked', () => {
  it('is told of at the line where it happens', async () => {
    const told = await advice(
      '2026-06-01',
      moves(
        '2026-01-01',
        'part: hose, move: ordered',
        'part: tray, move: ordered, rests-on: [s.year, s.bank]',
      ),
    );
    expect(told).toEqual([
      {
        code: 'spent-on-unchecked',
        severity: 'warning',
        file: 'entries/2026/2026-01-01-parts.md',
        message: '`tray` is ordered, but rests on `s.year`, which is unverified.',
        hint: 'Check it before more is spent on it.',
        marked: 's.year',
        line: '- { part: tray, move: ordered, rests-on: [s.year, s.bank] }',
      },
      expect.objectContaining({
        message: '`tray` is ordered, but rests on `s.bank`, which is unverified.',
        hint: 'Discharge it.',
        marked: 's.bank',
      }),
    ]);
  });

  it('is told of again where the part is fitted, at its name', async () => {
    const told = await advice(
      '2026-06-01',
      moves('2026-01-01', 'part: tray, move: ordered, rests-on: [s.bank]'),
      moves('2026-02-01', 'part: tray, move: arrived'),
      moves('2026-03-01', 'part: tray, move: fitted'),
    );
    expect(told.map(({ file, marked }) => [file.slice(-19), marked])).toEqual([
      ['2026-01-01-parts.md', 's.bank'],
      ['2026-03-01-parts.md', 'tray'],
    ]);
  });

  it('says what to do once the claim is contradicted', async () => {
    const told = await advice(
      '2026-06-01',
      moves('2026-01-01', 'part: tray, move: ordered, rests-on: [s.bank]'),
      entry('2026-02-01', 'measurements: [{ s.cap: 318 ± 6 Ah }]'),
    );
    expect(told).toMatchObject([
      { message: '`tray` is ordered, but rests on `s.bank`, which is contradicted.' },
    ]);
    expect(told[0]?.hint).toContain('Decide anew');
  });

  it('looks through derived values, and through points that nobody has read', async () => {
    for (const ref of ['s.usable', 's.cap', 's.of-point']) {
      const told = await advice(
        '2026-06-01',
        moves('2026-01-01', `part: tray, move: ordered, rests-on: [${ref}]`),
      );
      expect(told).toMatchObject([{ marked: ref, message: expect.stringContaining('`s.bank`') as string }]);
    }
  });

  it('tells of a spec once at a line, by however many names it comes in', async () => {
    const line = 'part: tray, move: ordered, rests-on: [s.usable, s.bank, s.cap]';
    expect(await advice('2026-06-01', moves('2026-01-01', line))).toHaveLength(1);
  });

  it('has nothing to say of what is verified, was read, went back, or rests on nothing', async () => {
    const ok = entry('2026-01-02', 'measurements: [{ s.cap: 398 Ah }]');
    const onSpec = moves('2026-01-01', 'part: tray, move: ordered, rests-on: [s.bank]');
    expect(await advice('2026-06-01', onSpec, ok)).toEqual([]);
    const onPoint = moves('2026-01-01', 'part: tray, move: ordered, rests-on: [s.cap]');
    const low = entry('2026-01-02', 'measurements: [{ s.cap: 318 Ah }]');
    expect(await advice('2026-06-01', onPoint, low)).toEqual([]);
    const back = moves('2026-01-03', 'part: tray, move: returned');
    expect(await advice('2026-06-01', onSpec, back)).toEqual([]);
    expect(await advice('2026-06-01', moves('2026-01-01', 'part: tray, move: ordered'))).toEqual([]);
  });
});
