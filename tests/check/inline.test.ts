import { describe, expect, it } from 'vitest';
import { checkBook } from '../../src/check/check.js';
import { isInline } from '../../src/check/inline.js';
import { look } from '../../src/check/parse.js';
import { readFolder } from '../../src/read/folder.js';
import { NO_CACHE, parseMemory } from '../../src/write/cache.js';
import { checkWith, TODAY, takeMarks, withBook } from './fixtures.js';

const LOOK = 'entries/2026/2026-03-01-look.md';
const HEAD = '---\ndate: 2026-03-01\ntitle: Look\nsystems: [house-dc, engine]\n---\n';

/** What is found in an entry with this prose, and the stretches that are marked in it. */
async function found(prose: string, head = HEAD) {
  const { text, marks } = takeMarks(head + prose);
  const { checked } = await checkWith(new Map([[LOOK, text]]));
  const { diagnostics, book } = checked;
  return {
    codes: diagnostics.map(({ code }) => code),
    places: diagnostics.map(({ span }) => [span.offset, span.length]),
    marks: marks.map(({ offset, length }) => [offset, length]),
    readings: book?.entries.find(({ file }) => file === LOOK)?.readings ?? [],
  };
}

/** Prose with its mark, and the problem that is due there: each is one that front matter knows too. */
const WRONG: readonly (readonly [code: string, prose: string])[] = [
  ['no-unit', 'It gave :reading[⟦318⟧]{point="house-dc.capacity"}.'],
  ['wrong-kind', 'It gave :reading[318 ⟦A⟧]{point="house-dc.capacity"}.'],
  ['bad-number', 'It gave :reading[⟦1,318⟧ Ah]{point="house-dc.capacity"}.'],
  ['unknown-point', 'It gave :reading[318 Ah]{point="⟦house-dc.capacty⟧"}.'],
  ['unknown-system', 'It gave :reading[318 Ah]{point=⟦house⟧.capacity}.'],
  ['unknown-instrument', '- It gave\n  :reading[318 Ah]{point="house-dc.capacity" with=\'⟦clmp⟧\'}.'],
  ['unknown-person', 'It gave :reading[318 Ah]{by="⟦nobody⟧" point="house-dc.capacity"}.'],
  ['unknown-key', 'It gave :reading[318 Ah]{⟦pont⟧="x" point="house-dc.capacity"}.'],
  ['unknown-key', 'It gave :reading[318 Ah]{⟦.big⟧ point="house-dc.capacity"}.'],
  ['unknown-key', 'It gave :reading[318 Ah]{⟦__proto__⟧="x" point="house-dc.capacity"}.'],
  ['duplicate-key', 'It gave :reading[318 Ah]{point="house-dc.capacity" ⟦point⟧="house-dc.capacity"}.'],
  ['duplicate-key', 'It gave :reading[318 Ah]{⟦value⟧="3 Ah" point="house-dc.capacity"}.'],
  ['bad-form', 'It gave :reading[318 Ah]{point="⟦capacity⟧"}.'],
  ['empty-value', 'It gave ⟦:reading⟧[]{point="house-dc.capacity"}.'],
  ['not-allowed', 'It gave :reading[318 Ah]{point="house-dc.capacity" basis="⟦guessed⟧"}.'],
  ['missing-field', 'It gave ⟦:reading⟧[318 Ah].'],
  ['bad-form', 'It gave :reading[318 Ah]{point="house-dc.capacity" ⟦under-Big⟧="3 K"}.'],
  ['reading-implausible', 'It gave :reading[⟦3180 Ah⟧]{point="house-dc.capacity"}.'],
  ['see-not-listed', 'It gave :reading[318 Ah]{point="house-dc.capacity" see="⟦x.jpg⟧"}.'],
  [
    'clash-of-readings',
    'First :reading[318 Ah]{point="house-dc.capacity"}, then :reading[⟦319 Ah⟧]{point="house-dc.capacity"}.',
  ],
  ['not-a-quantity', '| what |\n|-|\n| :reading[⟦lots⟧]{what="box"} |'],
  ['unknown-unit', 'A value in two\nlines: :reading[⟦318\nAhh⟧]{what="box"}.'],
];

describe('readings told in the prose', () => {
  it.each(WRONG)('have %s told of at its place: %s', async (code, prose) => {
    const { codes, places, marks } = await found(prose);
    expect(codes).toEqual([code]);
    expect(places).toEqual(marks);
  });

  it('count as those of front matter do', async () => {
    const { codes, readings } = await found(
      'At :reading[318 ± 6 Ah]{point="house-dc.capacity" under-ambient="19 °C" note="cold hands" by=owner}.',
      HEAD.replace('---\n\n', '').replace(
        'systems: [house-dc, engine]\n',
        'systems: [house-dc, engine]\nmeasurements:\n  - house-dc.rest-voltage: 12.7 V\n',
      ),
    );
    const base = await found(
      '',
      HEAD.replace(
        'systems: [house-dc, engine]\n',
        'systems: [house-dc, engine]\nmeasurements:\n  - house-dc.rest-voltage: 12.7 V\n  - { point: house-dc.capacity, value: 318 ± 6 Ah, under: { ambient: 19 °C }, note: cold hands, by: owner }\n',
      ),
    );
    expect(codes).toEqual(base.codes);
    expect(readings.map(isInline)).toEqual([false, true]);
    const plain = (list: typeof readings) => list.map(({ place: _place, ...reading }) => reading);
    expect(plain(readings)).toEqual(plain(base.readings));
  });

  it('do not hide what is wrong in front matter, nor it them', async () => {
    const { codes } = await found(
      'It gave :reading[318]{pint="x"}.',
      HEAD.replace('title: Look', 'titel: Look'),
    );
    // What lacks because it is misspelt is told once.
    expect([...codes].sort()).toEqual(['unknown-key', 'unknown-key']);
  });

  it('are remembered with their file, and found again where they stand', async () => {
    const text = `${HEAD}It gave\n:reading[318 A]{point="house-dc.capacity"}.\n`;
    await withBook(new Map([[LOOK, text]]), async (root) => {
      const folder = readFolder(root);
      const memory = parseMemory(NO_CACHE);
      const cold = await checkBook(folder, TODAY, memory);
      const warm = await checkBook(folder, TODAY, memory);
      expect(cold.diagnostics.map(({ code, span }) => [code, span.line, span.column])).toEqual([
        ['wrong-kind', 7, 14],
      ]);
      expect(warm).toEqual(cold);
    });
  });

  it('have their line found for an export', async () => {
    const { text } = takeMarks(`${HEAD}It gave\n\n:reading[⟦318 Ah⟧]{point="house-dc.capacity"}.\n`);
    const { folder, checked } = await checkWith(new Map([[LOOK, text]]));
    const reading = checked.book?.entries.flatMap(({ readings }) => readings).find(isInline);
    const source = folder.files.find(({ path }) => path === LOOK);
    if (reading === undefined || source === undefined) throw new Error('the reading is lost');
    const { locate } = await look(source);
    expect(locate(reading.place.path, 'value').offset).toBe(text.indexOf('318 Ah'));
  });
});
