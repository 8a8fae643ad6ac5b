import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { beforeAll, describe, expect, it } from 'vitest';
import { type ExportDocument, exportSchema } from '../../schemas/export.js';
import { JSON_FOLDER } from '../../schemas/generate.js';
import { BOOK, BROKEN, book, run } from './support.js';

const schema = JSON.parse(readFileSync(join(JSON_FOLDER, 'export.schema.json'), 'utf8')) as object;
const validate = new Ajv2020({ strict: false, allErrors: true }).compile(schema);
const DEMO = join(import.meta.dirname, '../../log');

async function exported(cwd: string, ...options: string[]): Promise<ExportDocument> {
  const { code, out, err } = await run(['export', ...options], { cwd });
  expect([code, err.includes('error')]).toEqual([0, false]);
  return JSON.parse(out) as ExportDocument;
}

/** The line of a file on which a text first stands. */
function lineOf(text: string, what: string): number {
  return text.slice(0, text.indexOf(what)).split('\n').length;
}

describe('ribband export', () => {
  let whole: ExportDocument;

  beforeAll(async () => {
    whole = await exported(book());
  });

  it('is one document of the shape that its schema gives', () => {
    expect(validate(whole), JSON.stringify(validate.errors)).toBe(true);
    expect(exportSchema.parse(whole)).toEqual(whole);
    expect(whole).toMatchObject({ format: 'ribband-export', version: 1, asOf: '2026-04-20' });
  });

  it('the schema refuses what it does not name, and what is missing', () => {
    expect(validate({ ...whole, extra: [] })).toBe(false);
    const { readings, ...rest } = whole;
    expect(validate({ ...rest, readings: readings.map((reading) => ({ ...reading, extra: 1 })) })).toBe(
      false,
    );
    expect(validate(rest)).toBe(false);
  });

  it('has readings with their values as written, in their unit and in SI, and their place', () => {
    const looked = BOOK['entries/2026/2026-03-01-looked.md'] as string;
    expect(whole.readings).toHaveLength(3);
    expect(whole.readings[0]).toMatchObject({
      date: '2026-03-01',
      system: 'house-dc',
      point: 'house-dc.rest-voltage',
      what: null,
      written: '12.71 V',
      value: 12.71,
      unit: 'V',
      ucum: 'V',
      kind: 'voltage',
      si: 12.71,
      siUnit: 'V',
      uncertainty: 0.05,
      uncertaintyFrom: 'instrument',
      with: 'clamp',
      entry: '2026-03-01-looked',
      line: lineOf(looked, 'house-dc.rest-voltage'),
    });
    expect(whole.readings[1]).toMatchObject({
      point: null,
      what: 'box, inside length',
      written: '27 1/2 in',
      value: 27.5,
      si: 0.6985,
      siUnit: 'm',
      uncertainty: null,
      uncertaintyFrom: 'unknown',
      line: lineOf(looked, 'what: "box'),
    });
  });

  it('has the readings of tests too, with their uncertainty in the unit as written', () => {
    const text = BOOK['entries/2026/2026-04-18-capacity-test.md'] as string;
    expect(whole.readings[2]).toMatchObject({
      point: 'house-dc.capacity',
      written: '318 ± 6 Ah',
      value: 318,
      si: 318 * 3600,
      siUnit: 'C',
      uncertainty: 6,
      uncertaintyFrom: 'written',
      test: 'house-dc.capacity-test',
      line: lineOf(text, 'test: house-dc.capacity-test'),
    });
  });

  it('has specs with their standing and the evidence for it', () => {
    const [capacity, model] = whole.specs;
    expect(capacity).toMatchObject({
      id: 'house-dc.bank-capacity',
      value: '400 Ah',
      quantity: { value: 400, unit: 'Ah', si: 1_440_000 },
      basis: 'told',
      needs: 'measured',
      standing: 'contradicted',
      holds: '318 ± 6 Ah',
      evidence: [
        {
          date: '2026-04-18',
          basis: 'measured',
          value: '318 ± 6 Ah',
          agreement: 'does-not-conform',
          entry: '2026-04-18-capacity-test',
        },
      ],
      file: 'systems/house-dc.md',
      line: lineOf(BOOK['systems/house-dc.md'] as string, '{ value: 400 Ah'),
    });
    expect(model).toMatchObject({
      value: 'TL-400',
      quantity: null,
      needs: 'marked',
      standing: 'unverified',
      evidence: [],
    });
  });

  it('has everything else that the entries tell of', () => {
    expect(whole.entries.map(({ id }) => id)).toEqual(['2026-03-01-looked', '2026-04-18-capacity-test']);
    expect(whole.entries[1]).toMatchObject({ closes: ['test-bank'], body: 'Fourteen hours.\n' });
    expect(whole.entries[0]?.meters).toMatchObject([{ meter: 'engine.hours', reads: { value: 1243.6 } }]);
    expect(whole.systems.map(({ id }) => id)).toEqual(['engine', 'house-dc']);
    expect(whole.points.map(({ id, readings }) => [id, readings])).toEqual([
      ['house-dc.capacity', 1],
      ['house-dc.rest-voltage', 1],
    ]);
    expect(whole.points[0]?.last).toMatchObject({ written: '318 ± 6 Ah', limit: 'undecided' });
    expect(whole.tests).toMatchObject([
      { id: 'house-dc.capacity-test', outcome: 'undecided', runs: [{ outcome: 'undecided' }] },
    ]);
    expect(whole.parts).toMatchObject([
      {
        id: 'new-bank',
        now: 'ordered',
        costs: [{ amount: 1480, currency: 'EUR' }],
        restsOn: ['house-dc.bank-capacity'],
        moves: [{ move: 'ordered', line: 10 }],
      },
    ]);
    expect(whole.items.map(({ id, status }) => [id, status])).toEqual([
      ['test-bank', 'done'],
      ['change-oil', 'ready'],
    ]);
    expect(whole.items[0]?.closed).toEqual({ date: '2026-04-18', entry: '2026-04-18-capacity-test' });
    expect(whole.decisions).toMatchObject([
      { id: 'size', restsOn: [{ ref: 'house-dc.bank-capacity', standing: 'contradicted' }] },
    ]);
    expect(whole.hours).toMatchObject([
      { date: '2026-04-18', by: 'owner', hours: 3.5, system: null, line: 6 },
    ]);
  });

  it('shows the book as it was on an earlier day', async () => {
    const before = await exported(book(), '--as-of', '2026-04-01');
    expect(before.asOf).toBe('2026-04-01');
    expect(before.entries).toHaveLength(1);
    expect(before.specs[0]).toMatchObject({ standing: 'unverified', holds: '400 Ah', evidence: [] });
    expect(before.items[0]).toMatchObject({ id: 'test-bank', status: 'ready', closed: null });
    expect(validate(before)).toBe(true);
  });

  it('counts lines in a file with a byte order mark and CRLF as an editor does', async () => {
    const path = 'entries/2026/2026-03-01-looked.md';
    const text = BOOK[path] as string;
    const other = await exported(book({ [path]: `\uFEFF${text.replaceAll('\n', '\r\n')}` }));
    expect(other.readings.map(({ line }) => line)).toEqual(whole.readings.map(({ line }) => line));
  });

  it('prints nothing on stdout where the book has an error, and tells it on stderr', async () => {
    const { code, out, err } = await run(['export'], { cwd: book(BROKEN) });
    expect([code, out]).toEqual([1, '']);
    expect(err).toContain('entries/2026/2026-04-19-broken.md:6:33 error unknown-unit\n');
  });

  it('of the demo book fits the schema, and every reading stands on its line', async () => {
    const { code, out, err } = await run(['export', DEMO], {
      cwd: DEMO,
      env: { RIBBAND_TODAY: '2026-11-25' },
    });
    expect([code, err]).toEqual([0, expect.not.stringContaining('error')]);
    const demo = JSON.parse(out) as ExportDocument;
    expect(validate(demo), JSON.stringify(validate.errors?.slice(0, 3))).toBe(true);
    expect(demo.readings.length).toBeGreaterThan(400);
    const lines = new Map(
      demo.entries.map(({ id, file }) => [id, readFileSync(join(DEMO, file), 'utf8').split('\n')]),
    );
    const astray = demo.readings.filter(({ entry, line, written, test }) => {
      const there = lines.get(entry)?.[(line ?? 0) - 1] ?? '';
      return test === null && !there.includes(written);
    });
    expect(astray.map(({ entry, line, written }) => [entry, line, written])).toEqual([]);
  });
});
