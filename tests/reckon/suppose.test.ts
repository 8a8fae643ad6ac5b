import { beforeAll, describe, expect, it } from 'vitest';
import { checkBook } from '../../src/check/check.js';
import type { CheckedBook } from '../../src/check/model.js';
import { fromSi, type Quantity } from '../../src/quantity/index.js';
import { readFolder } from '../../src/read/folder.js';
import type { Reckoning } from '../../src/reckon/model.js';
import { reckon } from '../../src/reckon/reckon.js';
import { changesNothing, type Supposition, suppose } from '../../src/reckon/suppose.js';
import { bookOf, entry, type Files, quantity, system } from './book.js';
import { dataOf, deepFrozen } from './data.js';

const ASOF = '2026-06-01';

const SYSTEM = system(
  's',
  `points:
  cap: { quantity: charge, unit: Ah, at-least: 320 Ah }
  volts: { quantity: voltage, unit: V, at-most: 14.4 V }
specs:
  bank: { value: 400 Ah, basis: told, within: 5 %, point: cap }
  least: { value: 380 Ah, basis: told, means: at-least, point: cap }
  charger: { value: 30 A, basis: printed, within: 1 A }
  model: { value: TL-400, basis: told }
derived:
  usable: { from: 0.5 * bank, quantity: charge, unit: Ah }
  spare: { from: bank - cap, quantity: charge, unit: Ah }`,
);

const STORY: readonly Files[] = [
  entry(
    '2026-01-01',
    `parts: [{ part: tray, move: ordered, rests-on: [s.usable] }]
decisions:
  - { decision: size, question: Which?, chose: this, because: so, holds-while: s.usable >= 180 Ah }
  - { decision: wire, question: Which?, chose: thin, because: so, holds-while: s.charger <= 35 A }
opens:
  - { item: fit, what: Fit, waits-on: [part tray] }
  - { item: old, what: Done long ago, rests-on: [s.bank] }`,
    'order',
  ),
  entry('2026-02-01', 'closes: [old]', 'close'),
];

const READ = entry('2026-03-01', 'measurements: [{ s.cap: 318 ± 6 Ah }, { s.volts: 14.1 ± 0.1 V }]', 'read');

const supposing = async (values: Readonly<Record<string, string>>, ...more: readonly Files[]) =>
  suppose(
    await bookOf(SYSTEM, ...STORY, ...more),
    ASOF,
    new Map(Object.entries(values).map(([ref, written]) => [ref, quantity(written)])),
  );

/** What changed, in short. */
const inShort = ({ standings, values, decisions, limits, items, parts }: Supposition) => ({
  standings: standings.map(({ id, from, to }) => `${id}: ${from} > ${to}`),
  values: values.map(({ id, from, to }) => `${id}: ${from?.value ?? '–'} > ${to?.value ?? '–'} ${to?.unit}`),
  decisions: decisions.map(({ id, from, to }) => `${id}: ${from} > ${to}`),
  limits: limits.map(({ id, from, to }) => `${id}: ${from} > ${to}`),
  items: [...items],
  parts: [...parts],
});

describe('supposing', () => {
  it('tells of the decisions, values, items and parts that hang on it, and of nothing else', async () => {
    expect(inShort(await supposing({ 's.bank': '300 Ah' }))).toEqual({
      standings: [],
      values: ['s.usable: 200 > 150 Ah'],
      decisions: ['size: holds > fails'],
      limits: [],
      items: ['fit'],
      parts: ['tray'],
    });
  });

  it('tells what is supposed, and what is known instead', async () => {
    const { supposed } = await supposing({ 's.bank': '300 Ah' });
    expect(supposed).toMatchObject([{ ref: 's.bank', from: { value: 400, unit: 'Ah' }, to: { value: 300 } }]);
  });

  it('holds the evidence against the claim supposed', async () => {
    const found = inShort(await supposing({ 's.bank': '320 Ah' }, READ));
    expect(found.standings).toEqual(['s.bank: contradicted > verified']);
    expect(found.values).toEqual(['s.usable: 159 > 160 Ah', 's.spare: 0 > 2 Ah']);
    expect(found.decisions).toEqual([]);
  });

  it('takes the allowance along on both sides', async () => {
    expect((await supposing({ 's.bank': '290 Ah' }, READ)).standings).toEqual([]);
    expect((await supposing({ 's.bank': '350 Ah' }, READ)).standings).toEqual([]);
    expect((await supposing({ 's.bank': '308 Ah' }, READ)).standings).toEqual([
      { id: 's.bank', from: 'contradicted', to: 'undecided' },
    ]);
  });

  it('moves a limit that is one-sided with its claim', async () => {
    expect((await supposing({ 's.least': '300 Ah' }, READ)).standings).toEqual([
      { id: 's.least', from: 'contradicted', to: 'verified' },
    ]);
    expect((await supposing({ 's.least': '318 Ah' }, READ)).standings).toEqual([]);
  });

  it('can put a contradicted claim back: the evidence still stands, what hangs on it does not', async () => {
    const found = inShort(await supposing({ 's.bank': '400 Ah' }, READ));
    expect(found.standings).toEqual([]);
    expect(found.decisions).toEqual(['size: fails > holds']);
    expect(found.values).toEqual(['s.usable: 159 > 200 Ah', 's.spare: 0 > 82 Ah']);
  });

  it('changes nothing with the value that a contradiction left', async () => {
    const found = await supposing({ 's.bank': '318 Ah' }, READ);
    expect(changesNothing(found)).toBe(true);
    expect(found.supposed).toEqual([]);
  });

  it('takes another ± for another value, and none for the same', async () => {
    expect(changesNothing(await supposing({ 's.cap': '318 ± 6 Ah' }, READ))).toBe(true);
    expect(changesNothing(await supposing({ 's.cap': '318 Ah' }, READ))).toBe(true);
    expect((await supposing({ 's.cap': '318 ± 1 Ah' }, READ)).limits).toEqual([
      { id: 's.cap', from: 'undecided', to: 'outside' },
    ]);
  });

  it('tells which limit a point would cross', async () => {
    expect(inShort(await supposing({ 's.volts': '14.8 V' }, READ)).limits).toEqual([
      's.volts: inside > outside',
    ]);
    expect(inShort(await supposing({ 's.cap': '330 ± 2 Ah' }, READ)).limits).toEqual([
      's.cap: undecided > inside',
    ]);
  });

  it('takes several at once', async () => {
    const found = inShort(await supposing({ 's.bank': '300 Ah', 's.charger': '40 A' }));
    expect(found.decisions).toEqual(['size: holds > fails', 'wire: holds > fails']);
    // One of them as it is already is no supposition.
    const one = await supposing({ 's.bank': '400 Ah', 's.charger': '40 A' });
    expect(one.supposed.map(({ ref }) => ref)).toEqual(['s.charger']);
    expect(inShort(one).decisions).toEqual(['wire: holds > fails']);
  });

  it('is not hindered by the unit', async () => {
    expect(changesNothing(await supposing({ 's.charger': '30000 mA' }))).toBe(true);
  });

  it('leaves the book as it is', async () => {
    const book = deepFrozen(await bookOf(SYSTEM, ...STORY, READ));
    const before = dataOf(reckon(book, ASOF));
    suppose(
      book,
      ASOF,
      new Map([
        ['s.bank', quantity('300 Ah')],
        ['s.cap', quantity('1 Ah')],
      ]),
    );
    expect(dataOf(reckon(book, ASOF))).toEqual(before);
  });
});

describe('supposing what is so already, in the demo book', () => {
  const DAY = '2026-12-01';
  let book: CheckedBook;
  let known: Reckoning;
  /** Every spec and point that has a value, with it. */
  let present: readonly (readonly [ref: string, value: Quantity])[];

  beforeAll(async () => {
    const checked = await checkBook(readFolder(new URL('../../log', import.meta.url).pathname), DAY);
    if (checked.book === null) throw new Error('no demo book');
    book = deepFrozen(checked.book);
    known = reckon(book, DAY);
    present = [...known.specs.keys(), ...known.timelines.keys()].flatMap((ref) => {
      const value = known.values.of(ref);
      return value === undefined ? [] : [[ref, fromSi(value.kind, value)] as const];
    });
  });

  it('has values of every sort to try', () => {
    const standings = new Set(present.map(([ref]) => known.specs.get(ref)?.standing ?? 'point'));
    expect([...standings].sort()).toEqual([
      'contradicted',
      'lapsed',
      'point',
      'undecided',
      'unverified',
      'verified',
    ]);
    expect(present.length).toBeGreaterThan(80);
  });

  it('changes nothing, all of it at once and one by one', () => {
    expect(changesNothing(suppose(book, DAY, new Map(present)))).toBe(true);
    for (const one of present.filter((_, at) => at % 16 === 0))
      expect(changesNothing(suppose(book, DAY, new Map([one]))), one[0]).toBe(true);
  });

  it('changes nothing either where the values are put in place of what is on record', () => {
    // Past the door that lets only other values in: what is reckoned with them is what is reckoned without.
    for (const one of present.filter((_, at) => at % 12 === 0)) {
      const again = reckon(book, DAY, new Map([one]));
      for (const [id, { holding }] of known.decisions)
        expect(again.decisions.get(id)?.holding?.verdict, `${one[0]} ${id}`).toBe(holding?.verdict);
      for (const [ref] of present) expect(again.values.of(ref)?.si, ref).toBe(known.values.of(ref)?.si);
      for (const system of book.systems.values())
        for (const { ref } of system.derived.values())
          expect(again.values.of(ref)?.si, ref).toBe(known.values.of(ref)?.si);
    }
  });

  it('names, for another value, every part and every open item that rests on it', () => {
    const leaned = present.filter(([ref]) => known.affected([ref]).some(({ sort }) => sort === 'part'));
    expect(leaned.length).toBeGreaterThan(3);
    for (const [ref, value] of leaned) {
      const found = suppose(book, DAY, new Map([[ref, { ...value, si: value.si * 1.5 + 1 }]]));
      const on = (sort: string) =>
        known.affected([ref]).flatMap((dependent) => (dependent.sort === sort ? [dependent.id] : []));
      expect(found.parts).toEqual(on('part'));
      expect(found.items).toEqual(on('item').filter((id) => known.items.get(id)?.closed === null));
    }
  });
});
