import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { CompletionItem, Location, WorkspaceEdit } from 'vscode-languageserver-protocol/node';
import { checkFolder } from '../../src/cli/pipeline.js';
import { hasErrors } from '../../src/cli/reckon-book.js';
import {
  bookOf,
  CAPABILITIES,
  demoBook,
  type Editor,
  edited,
  editor,
  inRange,
  put,
  ROOT,
  TODAY,
  words,
} from './client.js';

const ENTRY = 'entries/2026/2026-11-19-try.md';

/** An entry of the demo book with these fields. */
function entry(fields: string, prose = 'Prose.\n'): string {
  return `---\ndate: 2026-11-19\ntitle: Try\nsystems: [house-dc]\n${fields}---\n${prose}`;
}

/** An editor of its own, with an entry that is not on disk. */
async function typing(fields: string, prose?: string): Promise<Editor> {
  const at = await editor(demoBook());
  at.open(ENTRY, entry(fields, prose));
  return at;
}

let shared: { readonly root: string; readonly at: Promise<Editor> } | null = null;

/** An editor for questions that change nothing, with these fields in its entry. */
async function asking(fields: string, prose?: string): Promise<Editor> {
  if (shared === null) {
    const root = demoBook();
    shared = { root, at: typingIn(root) };
  }
  const at = await shared.at;
  at.replace(ENTRY, entry(fields, prose));
  return at;
}

async function typingIn(root: string): Promise<Editor> {
  const at = await editor(root);
  at.open(ENTRY, entry(''));
  return at;
}

const labels = (items: readonly CompletionItem[]) => items.map(({ label }) => label);
const labelled = (items: readonly CompletionItem[], label: string) =>
  items.find((item) => item.label === label);

/** The text after an item has been chosen. */
function chosen(text: string, item: CompletionItem | undefined): string {
  return item?.textEdit === undefined || !('range' in item.textEdit) ? '' : edited(text, [item.textEdit]);
}

/** Where places lie, and what stands there. */
function shown(root: string, places: readonly Location[]): readonly string[] {
  return places.map(({ uri, range }) => {
    const file = fileURLToPath(uri);
    return `${file.slice(root.length + 1)}:${range.start.line + 1} ${inRange(readFileSync(file, 'utf8'), range)}`;
  });
}

/** Writes the edits to disk. @returns the files that changed. */
function write(root: string, edit: WorkspaceEdit | null): readonly string[] {
  return Object.entries(edit?.changes ?? {})
    .map(([uri, edits]) => {
      const file = fileURLToPath(uri);
      writeFileSync(file, edited(readFileSync(file, 'utf8'), edits));
      return file.slice(root.length + 1);
    })
    .sort();
}

const HOUSE = 'systems/house-dc.md';

describe('what is told of', () => {
  it('is a slip at its exact place, taken back when it is mended', async () => {
    const at = await typing('measurements:\n  - house-dc.rest-voltage: 12.71 Vlt\n');
    const [told] = await at.until(ENTRY, (all) => all.length > 0);
    expect(told).toMatchObject({ code: 'unknown-unit', source: 'ribband', severity: 1 });
    expect(told?.message).toMatch(/Vlt.*\n\S/);
    expect(inRange(at.text(ENTRY), told?.range as never)).toBe('Vlt');
    at.type(ENTRY, 'Vlt', 'V');
    expect(await at.until(ENTRY, (all) => all.length === 0)).toEqual([]);
  });

  it('has its place in UTF-16 units, also behind line ends of two letters', async () => {
    const root = demoBook();
    const at = await editor(root);
    const text = entry('hours: [{ on: 𝟚𝟚, wiht: 1, by: owner, spent: 1 h }, { by: ovner, spent: 1 h }]\n');
    at.open(ENTRY, text.replaceAll('\n', '\r\n'));
    const told = await at.until(ENTRY, (all) => all.length > 0);
    const slip = told.find(({ code }) => code === 'unknown-key');
    expect(slip?.range).toEqual({ start: { line: 4, character: 20 }, end: { line: 4, character: 24 } });
    at.type(ENTRY, 'on: 𝟚𝟚, wiht: 1', 'on: house-dc');
    const [next] = await at.until(ENTRY, (all) => all[0]?.code === 'unknown-person');
    expect(inRange(at.text(ENTRY), next?.range as never)).toBe('ovner');
  });

  it('counts a mark of byte order where the editor does', async () => {
    const root = bookOf({ 'book.yaml': 'book: b\nsubject: { name: B }\n' });
    const at = await editor(root);
    at.open('book.yaml', '\ufeffbok: b\nsubject: { name: B }\n');
    const told = await at.until('book.yaml', (all) => all.length > 0);
    const slip = told.find(({ code }) => code === 'unknown-key');
    expect(inRange(at.text('book.yaml'), slip?.range as never)).toBe('bok');
  });

  it('counts texts of other files that are open and not saved', async () => {
    const at = await typing('measurements:\n  - house-dc.hum: 52 %\n');
    await at.until(ENTRY, (all) => all.length > 0);
    at.open(HOUSE);
    at.type(HOUSE, 'points:\n', 'points:\n  hum: { quantity: relative-humidity }\n');
    await at.until(ENTRY, (all) => !all.some(({ code }) => code === 'unknown-point'));
    at.type(HOUSE, '  hum: { quantity: relative-humidity }\n', '');
    const [told] = await at.until(ENTRY, (all) => all.length > 0);
    expect(inRange(at.text(ENTRY), told?.range as never)).toBe('house-dc.hum');
    at.close(HOUSE);
    expect((await at.until(ENTRY, (all) => all.length > 0)).map(({ code }) => code)).toEqual([told?.code]);
  });

  it('is told of every file of the book, open or not, and forgotten with its last file', async () => {
    const root = demoBook();
    put(
      root,
      'entries/2026/2026-11-18-off.md',
      '---\ndate: 2026-11-18\ntitle: Off\nsystems: [hous-dc]\n---\n',
    );
    const at = await editor(root);
    at.open('book.yaml');
    await at.until('entries/2026/2026-11-18-off.md', (all) => all.length > 0);
    at.close('book.yaml');
    expect(await at.until('entries/2026/2026-11-18-off.md', (all) => all.length === 0)).toEqual([]);
  });

  it('is nothing for a file of no book, nor for notes inside one', async () => {
    const root = demoBook();
    const at = await editor(root);
    at.open('notes.md', '---\ndate: [[[\n---\n');
    at.open('../other.md', '---\nbad: [\n---\n');
    at.open(ENTRY, entry('hours: [{ by: ovner, spent: 1 h }]\n'));
    await at.until(ENTRY, (all) => all.length > 0);
    expect([at.told('notes.md'), at.told('../other.md')]).toEqual([undefined, undefined]);
    expect(await at.complete('notes.md', 'dat‸e')).toEqual([]);
    expect(await at.hover('../other.md', 'ba‸d')).toBeNull();
  });

  it('keeps two books apart', async () => {
    const [one, other] = [demoBook(), demoBook()];
    const at = await editor('/');
    const bad = entry('hours: [{ by: ovner, spent: 1 h }]\n');
    at.open(join(one, ENTRY).slice(1), bad);
    at.open(join(other, ENTRY).slice(1), bad.replace('ovner', 'owner'));
    at.open(join(other, HOUSE).slice(1));
    await at.until(join(one, ENTRY).slice(1), (all) => all.length > 0);
    const points = await at.complete(join(other, ENTRY).slice(1), 'sys‸tems');
    expect(at.told(join(other, ENTRY).slice(1)) ?? []).toEqual([]);
    expect(points.length).toBeGreaterThan(0);
  });

  it('is mended by the fix that the checker has for it', async () => {
    const at = await typing('parts: [{ part: p, move: Ordered }]\n');
    const [told] = await at.until(ENTRY, (all) => all.length > 0);
    const [action, ...more] = await at.mends(ENTRY, told?.range as never);
    expect(more).toEqual([]);
    expect(action).toMatchObject({ title: 'Write `ordered`', kind: 'quickfix', isPreferred: true });
    expect(action?.diagnostics?.[0]?.range).toEqual(told?.range);
    const edits = action?.edit?.changes?.[at.uri(ENTRY)] ?? [];
    at.replace(ENTRY, edited(at.text(ENTRY), edits));
    expect(at.text(ENTRY)).toContain('move: ordered }');
    await at.until(ENTRY, (all) => all.every(({ severity }) => severity !== 1));
    expect(
      await at.mends(ENTRY, { start: { line: 0, character: 0 }, end: { line: 0, character: 3 } }),
    ).toEqual([]);
  });

  it('is told of a large file without falling over', async () => {
    const at = await typing('');
    const many = Array.from({ length: 400 }, (_, n) => `  - { what: "n ${n}", value: ${n} mm }\n`).join('');
    at.replace(
      ENTRY,
      entry(`measurements:\n${many}  - { what: last, value: 1 mmm }\n`, 'word '.repeat(400_000)),
    );
    const [slip] = await at.until(ENTRY, (all) => all.length > 0);
    expect(inRange(at.text(ENTRY), slip?.range as never)).toBe('mmm');
    at.replace(ENTRY, entry(`note: ${'x'.repeat(5_000_000)}\n`));
    await at.until(ENTRY, (all) => all[0]?.code === 'file-too-large');
  });
});

describe('completion', () => {
  it('offers the points of this book with their last values, those of the entry first', async () => {
    const at = await asking('measurements:\n  - { point: house-dc.re }\n');
    const items = await at.complete(ENTRY, 'house-dc.re‸');
    const point = labelled(items, 'house-dc.rest-voltage');
    expect(point?.detail).toMatch(/^1[0-9.]+ V on 2026-\d\d-\d\d$/);
    const sorted = [...items].sort((a, b) => ((a.sortText ?? '') < (b.sortText ?? '') ? -1 : 1));
    expect(labels(sorted)[0]).toMatch(/^house-dc\./);
    expect(labels(items)).toContain('engine.compression-1');
    expect(chosen(at.text(ENTRY), point)).toContain('- { point: house-dc.rest-voltage }');
    const { documentation } = await at.resolve(point as CompletionItem);
    expect(JSON.stringify(documentation)).toMatch(/Bank at rest.*Last: /);
  });

  it('offers points in the short form, and their fields, behind the hyphen of a list', async () => {
    const at = await asking('measurements:\n  - \n');
    const items = await at.complete(ENTRY, 'measurements:\n  - ‸');
    expect(labels(items)).toEqual(expect.arrayContaining(['point', 'what', 'value', 'house-dc.capacity']));
    expect(chosen(at.text(ENTRY), labelled(items, 'house-dc.capacity'))).toContain(
      '\n  - house-dc.capacity: \n',
    );
    at.type(ENTRY, '  - \n', '  - house-dc.cap\n');
    const more = await at.complete(ENTRY, 'house-dc.cap‸');
    expect(chosen(at.text(ENTRY), labelled(more, 'house-dc.capacity'))).toContain(
      '  - house-dc.capacity: \n',
    );
  });

  it('offers the fields that are not there yet, with what they mean', async () => {
    const at = await asking('ti\n');
    const items = await at.complete(ENTRY, '\nti‸\n');
    expect(labels(items)).toContain('measurements');
    expect(labels(items)).not.toContain('date');
    const { documentation } = await at.resolve(labelled(items, 'place') as CompletionItem);
    expect(JSON.stringify(documentation)).toContain('Where the work was done');
    at.type(ENTRY, 'ti\n', 'parts: [{ part: x, mo }]\n');
    const part = await at.complete(ENTRY, ', mo‸ ');
    expect(labels(part)).toContain('move');
    expect(labels(part)).not.toContain('part');
    expect(chosen(at.text(ENTRY), labelled(part, 'move'))).toContain('[{ part: x, move:  }]');
  });

  it.each([
    ['measurements: [{ point: house-dc.rest-voltage, value: 12.7‸ }]\n', 'V', '12.7 V'],
    ['measurements: [{ point: house-dc.rest-voltage, value: 12.7 ‸ }]\n', 'mV', '12.7 mV'],
    ['measurements:\n  - house-dc.capacity: 318 ± 6 A‸\n', 'Ah', '318 ± 6 Ah'],
    ['hours: [{ by: owner, spent: 2 ‸ }]\n', 'h', '2 h'],
    ['tests: [{ test: house-dc.capacity-test, readings: { end-voltage: 10.5 ‸ } }]\n', 'V', '10.5 V'],
    ['statements: [{ spec: house-dc.main-fuse, says: 200 ‸, basis: marked }]\n', 'A', '200 A'],
    ['parts: [{ part: p, move: ordered, cost: 12.50 ‸ }]\n', 'EUR', '12.50 EUR'],
    ['parts: [{ part: p, move: ordered, at: [1 ‸] }]\n', 'm', '1 m'],
    ['hours: [{ by: ‸ }]\n', 'owner', 'by: owner'],
    ['hours: [{ by: "o‸" }]\n', 'owner', 'by: "owner"'],
    ['hours:\n  - by: ‸\n', 'owner', 'by: owner'],
    ['closes: [ri‸]\n', 'ring-pellow', '[ring-pellow]'],
    ['closes:\n  ‸\n', 'ring-pellow', '  - ring-pellow'],
    ['closes:\n  - ‸\n', 'ring-pellow', '  - ring-pellow'],
    ['done: [house-dc.‸]\n', 'house-dc.terminals', '[house-dc.terminals]'],
    ['tests: [{ test: ho‸ }]\n', 'house-dc.capacity-test', 'test: house-dc.capacity-test'],
    ['tests: [{ test: house-dc.capacity-test, readings: { end‸ } }]\n', 'end-voltage', '{ end-voltage:  }'],
    ['meters: [{ meter: e‸ }]\n', 'engine.hours', 'meter: engine.hours'],
    ['statements: [{ spec: ‸ }]\n', 'house-dc.bank-year', 'spec: house-dc.bank-year'],
    ['statements: [{ spec: house-dc.bank-year, basis: ‸ }]\n', 'marked', 'basis: marked'],
    ['measurements: [{ point: house-dc.rest-voltage, value: 1 V, with: ‸ }]\n', 'dmm', 'with: dmm'],
    ['parts: [{ part: oil‸ }]\n', 'oil-drum-2026', 'part: oil-drum-2026'],
    ['parts: [{ part: p, move: ‸ }]\n', 'scrapped', 'move: scrapped'],
    ['opens: [{ item: i, what: w, safety: ‸ }]\n', 'true', 'safety: true'],
    ['opens: [{ item: i, what: w, waits-on: [‸] }]\n', 'part oil-drum-2026', '[part oil-drum-2026]'],
    ['opens: [{ item: i, what: w, waits-on: [part oi‸] }]\n', 'part oil-drum-2026', '[part oil-drum-2026]'],
    ['opens: [{ item: i, what: w, rests-on: [‸] }]\n', 'house-dc.usable', '[house-dc.usable]'],
    [
      'decisions: [{ decision: d, holds-while: house-dc.cap‸ >= 3 Ah }]\n',
      'house-dc.capacity',
      'house-dc.capacity >= 3 Ah',
    ],
    ['decisions: [{ decision: d, options: [{ option: "a, b" }], chose: ‸ }]\n', 'a, b', 'chose: "a, b"'],
    ['photos: [{ file: ph‸ }]\n', null, ''],
    ['title: Tr‸\n', null, ''],
    ['# closes: [ri‸]\n', null, ''],
  ])('fits the place: %s', async (marked, label, result) => {
    const at = await asking(marked.replace('‸', ''));
    const items = await at.complete(ENTRY, marked);
    if (label === null) expect(items.filter(({ kind }) => kind !== 20)).toEqual([]);
    else expect(chosen(at.text(ENTRY), labelled(items, label))).toContain(result);
  });

  it.each([
    ['points:\n  x: { quantity: vol‸ }\n', 'voltage', 'quantity: voltage'],
    ['points:\n  x: { quantity: voltage, unit: ‸ }\n', 'mV', 'unit: mV'],
    ['points:\n  x: { quantity: voltage, at-least: 12 ‸ }\n', 'V', 'at-least: 12 V'],
    ['hazards: [dc-battery, ‸]\n', 'lifting', '[dc-battery, lifting]'],
    ['specs:\n  s: { value: 1 V, point: ‸ }\n', 'rest-voltage', 'point: rest-voltage'],
    ['derived:\n  d: { from: 0.5 * cap‸, quantity: charge }\n', 'capacity', 'from: 0.5 * capacity, quantity'],
    [
      'derived:\n  d: { from: engine.‸, quantity: time }\n',
      'engine.alternator-rating',
      'from: engine.alternator-rating,',
    ],
    ['tests:\n  t: { requires: { ca‸ } }\n', 'capacity', '{ capacity:  }'],
    ['upkeep:\n  u: { every: 6 ‸, what: w }\n', 'months', 'every: 6 months'],
  ])('fits the place in a system: %s', async (marked, label, result) => {
    const at = await asking('');
    const whole = readFileSync(join(ROOT, 'log', HOUSE), 'utf8');
    at.open(HOUSE, whole);
    // What completion knows of the book is what it said before somebody began to type in this file.
    await at.hover(HOUSE, 'syst‸em: ');
    at.replace(HOUSE, `---\nsystem: house-dc\ntitle: T\n${marked.replace('‸', '')}---\n`);
    const items = await at.complete(HOUSE, marked);
    expect(chosen(at.text(HOUSE), labelled(items, label))).toContain(result);
    at.replace(HOUSE, whole);
    await at.hover(HOUSE, 'syst‸em: ');
    at.close(HOUSE);
  });

  it('works in a plan, in book.yaml, and while the front matter has no end yet', async () => {
    const at = await editor(demoBook());
    at.open('plans/power.yaml');
    at.type(
      'plans/power.yaml',
      'fills: [house-bank]\n    efficiency: 85 %',
      'fills: []\n    efficiency: 85 %',
    );
    expect(labels(await at.complete('plans/power.yaml', 'fills: [‸]'))).toContain('house-bank');
    at.open('book.yaml');
    at.type('book.yaml', 'people:\n', 'people:\n  x: { name: X, ro }\n');
    expect(labels(await at.complete('book.yaml', 'name: X, ro‸ '))).toContain('role');
    at.open(ENTRY, '---\ndate: 2026-11-19\ntitle: Try\nsystems: [house-dc]\nhours:\n  - { by: ');
    expect(labels(await at.complete(ENTRY, '- { by: ‸'))).toContain('owner');
  });

  it('offers pictures, and files of readings, that lie in the book', async () => {
    const at = await editor(
      bookOf({
        'book.yaml': 'book: b\nsubject: { name: B }\n',
        'systems/dc.md': '---\nsystem: dc\ntitle: DC\npoints: { v: { quantity: voltage, series:  } }\n---\n',
        'series/volts.csv': 'time,value (V)\n',
        'photos/2026/bank.jpg': '',
      }),
    );
    at.open('systems/dc.md');
    expect(labels(await at.complete('systems/dc.md', 'series: ‸'))).toEqual(['series/volts.csv']);
    at.open(ENTRY, '---\nphotos: [{ file:  }]\n---\n');
    expect(labels(await at.complete(ENTRY, 'file: ‸'))).toEqual(['photos/2026/bank.jpg']);
  });

  it('works in readings that the prose tells', async () => {
    const at = await asking(
      '',
      'It was :reading[12.7 ]{point="house-dc.rest-voltage" with=""} today, and :rea\n',
    );
    expect(labels(await at.complete(ENTRY, 'with="‸"'))).toContain('dmm');
    expect(labels(await at.complete(ENTRY, '[12.7 ‸]'))).toContain('V');
    expect(labels(await at.complete(ENTRY, '" ‸with'))).toEqual(expect.arrayContaining(['with', 'note']));
    expect(labels(await at.complete(ENTRY, 'point="‸'))).toContain('house-dc.capacity');
    const [start] = await at.complete(ENTRY, ':rea‸\n');
    expect(start).toMatchObject({ label: ':reading', insertTextFormat: 2 });
    expect(chosen(at.text(ENTRY), start)).toContain('and :reading[$1]{point="$2"}\n');
    expect(await at.complete(ENTRY, 'It wa‸s')).toEqual([]);
  });

  it('gives plain texts to an editor without snippets and Markdown', async () => {
    const at = await editor(demoBook(), {});
    at.open(ENTRY, entry('place: here\n', 'and :rea\n'));
    const [start] = await at.complete(ENTRY, ':rea‸\n');
    expect(start).toMatchObject({ insertTextFormat: 1 });
    expect(chosen(at.text(ENTRY), start)).toContain('and :reading[]{point=""}\n');
    expect((await at.hover(ENTRY, 'pla‸ce'))?.contents).toMatchObject({ kind: 'plaintext' });
  });
});

describe('hovering', () => {
  it.each([
    [
      'measurements: [{ point: house-dc.rest-vo‸ltage, value: 1 V }]\n',
      /\*\*Bank at rest\*\* `house-dc.rest-voltage`[\s\S]*in V[\s\S]*At least 12.4 V[\s\S]*Last: 1 V on 2026-11-19, out of limits/,
    ],
    [
      'measurements:\n  - house-dc.capa‸city: 314 ± 6 Ah\n',
      /Last: 314 ± 6 Ah on 2026-11-19[\s\S]*Before: \d+ ± \d+ Ah on 2026-[\s\S]*(Falling|Rising|No trend|No drift)/,
    ],
    [
      'statements: [{ spec: house-dc.bank-capa‸city }]\n',
      /Told \(the seller's list\): 440 Ah, within 10 %[\s\S]*Contradicted: /,
    ],
    [
      'closes: [ring-pel‸low]\n',
      /Ring Pellow again[\s\S]*Done on 2026-11-19[\s\S]*Opened on 2026-11-14, to be done by 2026-11-20/,
    ],
    ['closes: [launch-2026‸]\n', /Done on 2026-05-09/],
    [
      'opens: [{ item: i, what: w, waits-on: [item engine-oil‸-2026] }]\n',
      /Waiting.[\s\S]*Waits on oil-drum-2026./,
    ],
    [
      'opens: [{ item: i, what: w, waits-on: [part oil-drum‸-2026] }]\n',
      /engine oil 20 L[\s\S]*On order since 2026-11-08, due 2026-11-18, late/,
    ],
    [
      'tests: [{ test: house-dc.capacity-t‸est }]\n',
      /20-hour capacity test[\s\S]*Requires: capacity[\s\S]*Last done on 20/,
    ],
    [
      'tests: [{ test: house-dc.capacity-test, readings: { end-vol‸tage: 1 V } }]\n',
      /Required by house-dc.capacity-test: between/,
    ],
    [
      'tests: [{ test: house-dc.capacity-test, readings: { cap‸acity: 1 Ah } }]\n',
      /Capacity at the 20 h rate/,
    ],
    ['done: [house-dc.term‸inals]\n', /Clean and re-torque the terminals[\s\S]*Every 6 months/],
    ['meters: [{ meter: engine.ho‸urs, reads: 1 h }]\n', /Last: [\d.]+ h on 2026/],
    ['hours: [{ by: own‸er, spent: 1 h }]\n', /`owner`/],
    ['decisions: [{ undoes: no-gas-for‸-now }]\n', /Chosen on 20[\s\S]*Taken back by/],
    [
      'decisions: [{ holds-while: house-dc.usa‸ble > 1 Ah }]\n',
      /Usable capacity[\s\S]*Worked out: 0.5 \\\* capacity[\s\S]*Now: \d/,
    ],
    [
      'parts: [{ part: p, mov‸e: ordered }]\n',
      /\*\*move\*\*[\s\S]*What happened to it.[\s\S]*Such as: ordered[\s\S]*One of: ordered, arrived/,
    ],
    ['hours: [{ by: owner, sp‸ent: 1 h }]\n', /Working time.[\s\S]*Unit: time/],
    ['opens: [{ item: i, what: w, size: 6‸ h }]\n', /How long it will take/],
  ])('tells of %s', async (marked, told) => {
    const at = await asking(marked.replace('‸', ''));
    expect(words(await at.hover(ENTRY, marked))).toMatch(told);
  });

  it('marks what it is about, and tells in the prose too', async () => {
    const at = await asking('', 'At :reading[12.7 V]{point="house-dc.rest-voltage" with="dmm"} then.\n');
    const hover = await at.hover(ENTRY, 'house-dc.‸rest');
    expect(inRange(at.text(ENTRY), hover?.range as never)).toBe('house-dc.rest-voltage');
    expect(words(hover)).toContain('Bank at rest');
    expect(await at.hover(ENTRY, '} th‸en')).toBeNull();
  });

  it('lets no text of a book be Markdown', async () => {
    const at = await asking('opens: [{ item: odd, what: "<b>![x](y)</b> *z*" }]\ncloses: [odd]\n');
    expect(words(await at.hover(ENTRY, 'item: o‸dd'))).toContain('**\\<b\\>\\!\\[x\\](y)\\</b\\> \\*z\\***');
  });
});

describe('going to', () => {
  it.each([
    ['closes: [ring-pel‸low]\n', ['entries/2026/2026-11-14-chasing-the-shaft.md:16 ring-pellow']],
    [
      'parts: [{ part: heater-ht‸40, move: moved }]\n',
      ['entries/2025/2025-11-22-heater-decided.md:21 heater-ht40'],
    ],
    ['done: [house-dc.term‸inals]\n', [new RegExp(`^${HOUSE}:\\d+ terminals$`)]],
    ['hours: [{ by: own‸er, spent: 1 h }]\n', [/^book.yaml:\d+ owner$/]],
    [
      'opens: [{ item: i, what: w, waits-on: [decision no-gas-for‸-now] }]\n',
      [/^entries\/.*no-gas-for-now$/],
    ],
    ['decisions: [{ holds-while: house-dc.usa‸ble > 1 Ah }]\n', [new RegExp(`^${HOUSE}:\\d+ usable$`)]],
    [
      'tests: [{ test: house-dc.drain-test, readings: { standing-‸drain: 1 mA } }]\n',
      [new RegExp(`^${HOUSE}:\\d+ standing-drain$`)],
    ],
  ])('finds where it begins: %s', async (marked, due) => {
    const at = await asking(marked.replace('‸', ''));
    const found = shown(shared?.root ?? '', await at.define(ENTRY, marked));
    expect(found).toHaveLength(due.length);
    for (const [index, place] of due.entries())
      if (typeof place === 'string') expect(found[index]).toBe(place);
      else expect(found[index]).toMatch(place);
  });

  it('finds the file of a system', async () => {
    const root = demoBook();
    const at = await editor(root);
    at.open(ENTRY, entry(''));
    expect(shown(root, await at.define(ENTRY, '[house-‸dc]'))).toEqual([`${HOUSE}:2 house-dc`]);
  });

  it('finds all that names a point: readings, limits, formulas, tests, plans', async () => {
    const root = demoBook();
    const at = await editor(root);
    at.open(HOUSE);
    const found = shown(root, await at.refer(HOUSE, '  capa‸city: { title'));
    const written = new Set(found.map((one) => one.slice(one.indexOf(' ') + 1)));
    expect(written).toEqual(new Set(['capacity', 'house-dc.capacity']));
    expect(found.filter((one) => one.startsWith('plans/power.yaml'))).not.toEqual([]);
    expect(found.length).toBeGreaterThan(15);
  });
});

describe('renaming', () => {
  it.each([
    ['a point', HOUSE, '  capa‸city: { title', 'capacity-20h', 10],
    ['a point, in full', HOUSE, '  rest-vol‸tage: {', 'house-dc.bank-at-rest', 5],
    ['a spec', HOUSE, '  bank-capa‸city: {', 'bank-said', 4],
    ['a derived value', HOUSE, '  usa‸ble: {', 'to-use', 1],
    ['a test', HOUSE, '  capacity-te‸st:', 'bank-test', 3],
    ['what a test requires', HOUSE, ', end-volt‸age: between', 'volts-at-end', 3],
    ['upkeep', HOUSE, '  termi‸nals: {', 'tighten', 3],
    ['a meter', 'systems/engine.md', '  hou‸rs: {', 'run', 10],
    ['a part', 'entries/2026/2026-01-17-order.md', 'part: heater-ht‸40', 'heater', 2],
    ['an item', 'entries/2026/2026-11-08-engine-laid-up.md', 'item: engine-oil‸-2026', 'oil', 2],
    ['a decision', 'entries/2026/2026-04-03-gas.md', 'undoes: no-gas-for‸-now', 'gas-later', 2],
    ['a person', 'book.yaml', '  own‸er: {', 'skipper', 60],
    ['a name that would be a number', HOUSE, '  rest-vol‸tage: {', '2026', 5],
  ])('%s, the book is as sound as before', async (_what, file, marked, name, atLeast) => {
    const root = demoBook();
    const path = file.includes('2026-01-17') ? january(root) : file;
    const before = await checkFolder(root, TODAY);
    expect(hasErrors(before.diagnostics)).toBe(false);
    const at = await editor(root);
    at.open(path);
    const changed = write(root, await at.rename(path, marked, name));
    expect(changed.length).toBeGreaterThanOrEqual(atLeast);
    const after = await checkFolder(root, TODAY);
    expect(after.diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(after.diagnostics.length).toBe(before.diagnostics.length);
    expect(after.reckoning?.readings.length).toBe(before.reckoning?.readings.length);
    const standings = (of: typeof after) =>
      [...(of.reckoning?.specs.values() ?? [])].map(({ standing }) => standing);
    expect(standings(after)).toEqual(standings(before));
  });

  it('takes the prose, the plans and texts that are not saved along', async () => {
    const root = demoBook();
    const at = await editor(root);
    at.open(
      ENTRY,
      entry('', 'It has :reading[340 Ah]{point="house-dc.capacity" under-ambient="20 °C"} left.\n'),
    );
    at.open('plans/power.yaml');
    const edit = await at.rename(ENTRY, 'point="house-dc.ca‸pacity"', 'holds');
    expect(edited(at.text(ENTRY), edit?.changes?.[at.uri(ENTRY)] ?? [])).toContain(
      '{point="house-dc.holds" under',
    );
    expect(
      edited(at.text('plans/power.yaml'), edit?.changes?.[at.uri('plans/power.yaml')] ?? []),
    ).not.toContain('house-dc.capacity');
  });

  it('names the versions that its edits are for, to an editor that asks for that', async () => {
    const at = await editor(demoBook(), {
      ...CAPABILITIES,
      workspace: { workspaceEdit: { documentChanges: true } },
    });
    at.open(ENTRY, entry('closes: [ring-pellow]\n'));
    at.type(ENTRY, 'Prose.', 'Prose!');
    const edit = await at.rename(ENTRY, 'ring-pel‸low', 'ring-up');
    const versions = (edit?.documentChanges ?? []).map((change) =>
      'textDocument' in change
        ? [change.textDocument.uri === at.uri(ENTRY), change.textDocument.version]
        : [],
    );
    expect(versions.sort()).toEqual([
      [false, null],
      [true, 2],
    ]);
  });

  it.each([
    ['closes: [ring-pel‸low]\n', 'Ring Pellow', /small letters, digits and single hyphens/],
    ['closes: [ring-pel‸low]\n', 'launch-2026', /There is an item `launch-2026` already/],
    ['done: [house-dc.term‸inals]\n', 'capacity', /already/],
    ['done: [house-dc.term‸inals]\n', 'engine.terminals', /stays in its system/],
    [
      'measurements:\n  - house-dc.rest-vol‸tage: 12.7 V\n',
      'end-voltage',
      /requires a reading `end-voltage` already/,
    ],
    ['title: T‸ry again\n', 'x', /no name here/],
  ])('refuses, and says why: %s to %s', async (marked, name, why) => {
    const at = await typing(marked.replace('‸', ''));
    await expect(at.rename(ENTRY, marked, name)).rejects.toThrow(why);
  });

  it('refuses for a system, and while a file cannot be read', async () => {
    const at = await typing('closes: [ring-pellow]\n');
    await expect(at.prepare(ENTRY, '[house-‸dc]')).rejects.toThrow(/named by its file/);
    expect(await at.prepare(ENTRY, 'ring-pel‸low')).toMatchObject({ placeholder: 'ring-pellow' });
    at.open('book.yaml');
    at.type('book.yaml', 'people:', 'peo ple');
    await expect(at.rename(ENTRY, 'ring-pel‸low', 'ring')).rejects.toThrow(
      /book.yaml has to be put right first/,
    );
  });
});

/** The entry in which the heater arrives. */
function january(root: string): string {
  const path = 'entries/2026/';
  const found = readdirSync(join(root, path)).find((name) => name.startsWith('2026-01-17'));
  return `${path}${found}`;
}
