import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BASES } from '../../schemas/common.js';
import type { Basis, Reading, Statement } from '../../src/check/model.js';
import type { Standing } from '../../src/reckon/model.js';
import { reaches, sameText, standingOf } from '../../src/reckon/standing.js';
import { entry, quantity, readingOf, reckoned, type Stated, specOf, statementOf, system } from './book.js';

/** One piece of evidence: `BASIS DATE VALUE`; statements begin with `says`. */
function evidenceFrom(lines: readonly string[]): { readings: Reading[]; statements: Statement[] } {
  const readings: Reading[] = [];
  const statements: Statement[] = [];
  for (const line of lines) {
    const [, says, basis = '', date = '', value = ''] =
      /^(says )?(\w+) (\d{4}-\d\d-\d\d) (.+)$/.exec(line) ?? [];
    const told = { date, value, basis: basis as Basis };
    if (says === undefined) readings.push(readingOf(told));
    else statements.push(statementOf(told));
  }
  return { readings, statements };
}

function standing(stated: Stated, lines: readonly string[], asOf = '2026-06-01') {
  const { readings, statements } = evidenceFrom(lines);
  return standingOf(specOf(stated), readings, statements, asOf);
}

type Row = readonly [why: string, stated: Stated, evidence: readonly string[], due: Standing, asOf?: string];

const ABOUT: Stated = { value: '400 Ah', within: '5 %' };
const LEAST: Stated = { value: '400 Ah', within: '5 %', means: 'at-least' };
const MOST: Stated = { value: '400 Ah', within: '5 %', means: 'at-most' };
const TEXT: Stated = { value: '"TL-400"' };
const YEARLY: Stated = { ...ABOUT, againEvery: '12 months' };

const ROWS: readonly Row[] = [
  // About a value, 380 to 420 Ah.
  ['no evidence', ABOUT, [], 'unverified'],
  ['the whole interval inside', ABOUT, ['measured 2026-01-10 401 ± 6 Ah'], 'verified'],
  ['the whole interval below', ABOUT, ['measured 2026-01-10 318 ± 6 Ah'], 'contradicted'],
  ['the whole interval above', ABOUT, ['measured 2026-01-10 460 ± 6 Ah'], 'contradicted'],
  ['across the lower limit', ABOUT, ['measured 2026-01-10 382 ± 6 Ah'], 'undecided'],
  ['across the upper limit', ABOUT, ['measured 2026-01-10 419 ± 6 Ah'], 'undecided'],
  ['wider than the whole band', ABOUT, ['measured 2026-01-10 400 ± 60 Ah'], 'undecided'],
  ['value outside, interval reaching in', ABOUT, ['measured 2026-01-10 377 ± 6 Ah'], 'undecided'],
  ['interval just touching the limit from inside', ABOUT, ['measured 2026-01-10 386 ± 6 Ah'], 'verified'],
  ['on the limit, nothing known of its ±', ABOUT, ['measured 2026-01-10 380 Ah'], 'verified'],
  ['just off the limit, nothing known of its ±', ABOUT, ['measured 2026-01-10 379 Ah'], 'contradicted'],
  ['the claim’s own ± as the band', { value: '400 ± 10 Ah' }, ['measured 2026-01-10 409 Ah'], 'verified'],
  ['outside the claim’s own ±', { value: '400 ± 10 Ah' }, ['measured 2026-01-10 411 Ah'], 'contradicted'],
  ['in another unit', { value: '10 mm', within: '0.5 mm' }, ['measured 2026-01-10 3/8 in'], 'verified'],
  // One-sided.
  ['at least: far above', LEAST, ['measured 2026-01-10 900 ± 6 Ah'], 'verified'],
  ['at least: below', LEAST, ['measured 2026-01-10 370 ± 6 Ah'], 'contradicted'],
  ['at least: across', LEAST, ['measured 2026-01-10 380 ± 6 Ah'], 'undecided'],
  ['at most: far below', MOST, ['measured 2026-01-10 10 ± 6 Ah'], 'verified'],
  ['at most: above', MOST, ['measured 2026-01-10 430 ± 6 Ah'], 'contradicted'],
  ['at most: across', MOST, ['measured 2026-01-10 420 ± 6 Ah'], 'undecided'],
  // Texts.
  ['the same text', TEXT, ['says marked 2026-01-10 "TL-400"'], 'verified'],
  ['case and blanks apart', TEXT, ['says marked 2026-01-10 "  tl-400 "'], 'verified'],
  ['another text', TEXT, ['says marked 2026-01-10 "TL-200 x 2"'], 'contradicted'],
  ['too weak to prove a text', TEXT, ['says printed 2026-01-10 "TL-400"'], 'unverified'],
  ['too weak to prove, strong enough to deny', TEXT, ['says printed 2026-01-10 "TL-200"'], 'contradicted'],
  // Basis.
  ['no stronger than the claim', ABOUT, ['says told 2026-01-10 318 Ah'], 'unverified'],
  ['a paper that agrees', ABOUT, ['says printed 2026-01-10 400 Ah'], 'unverified'],
  ['a paper that does not', ABOUT, ['says printed 2026-01-10 200 Ah'], 'contradicted'],
  [
    'a paper against a claim that was read off',
    { ...ABOUT, basis: 'marked' },
    ['says printed 2026-01-10 200 Ah'],
    'unverified',
  ],
  [
    'measured where a third party is needed, and agrees',
    { ...ABOUT, needs: 'witnessed' },
    ['measured 2026-01-10 401 Ah'],
    'unverified',
  ],
  [
    'measured where a third party is needed, and does not agree',
    { ...ABOUT, needs: 'witnessed' },
    ['measured 2026-01-10 318 Ah'],
    'contradicted',
  ],
  ['more than is needed', ABOUT, ['witnessed 2026-01-10 401 Ah'], 'verified'],
  ['a reading marked on the item is no measurement', ABOUT, ['marked 2026-01-10 400 Ah'], 'unverified'],
  [
    'a statement of something measured counts as such',
    ABOUT,
    ['says measured 2026-01-10 400 Ah'],
    'verified',
  ],
  [
    'a claim that was measured, measured again otherwise',
    { ...ABOUT, basis: 'measured' },
    ['measured 2026-01-10 318 Ah'],
    'contradicted',
  ],
  [
    'a claim that was measured, measured again alike',
    { ...ABOUT, basis: 'measured' },
    ['measured 2026-01-10 402 Ah'],
    'verified',
  ],
  [
    'the owner’s measurement against a survey',
    { ...ABOUT, basis: 'witnessed' },
    ['measured 2026-01-10 318 Ah'],
    'unverified',
  ],
  [
    'the owner’s measurement agrees with a survey',
    { ...ABOUT, basis: 'witnessed' },
    ['measured 2026-01-10 401 Ah'],
    'verified',
  ],
  [
    'a second survey outweighs a newer measurement of one’s own',
    { ...ABOUT, basis: 'witnessed' },
    ['witnessed 2025-01-10 318 Ah', 'measured 2026-01-10 401 Ah'],
    'contradicted',
  ],
  // Several pieces.
  [
    'the newest measurement decides, for the worse',
    ABOUT,
    ['measured 2025-01-10 401 Ah', 'measured 2026-01-10 318 Ah'],
    'contradicted',
  ],
  [
    'the newest measurement decides, for the better',
    ABOUT,
    ['measured 2026-01-10 401 Ah', 'measured 2025-01-10 318 Ah'],
    'verified',
  ],
  [
    'a newer label does not outweigh a measurement that agrees',
    ABOUT,
    ['measured 2025-01-10 401 Ah', 'says marked 2026-01-10 200 Ah'],
    'verified',
  ],
  [
    'a newer label does not outweigh a measurement that does not',
    ABOUT,
    ['measured 2025-01-10 318 Ah', 'says marked 2026-01-10 400 Ah'],
    'contradicted',
  ],
  [
    'an older survey does not outweigh a newer measurement',
    ABOUT,
    ['witnessed 2024-01-10 401 Ah', 'measured 2026-01-10 318 Ah'],
    'contradicted',
  ],
  [
    'told once more after it was contradicted',
    ABOUT,
    ['measured 2025-01-10 318 Ah', 'says told 2026-01-10 400 Ah'],
    'contradicted',
  ],
  [
    'of one day the stronger counts',
    ABOUT,
    ['measured 2026-01-10 318 Ah', 'witnessed 2026-01-10 401 Ah'],
    'verified',
  ],
  [
    'a doubtful measurement after a clear one',
    ABOUT,
    ['measured 2025-01-10 401 ± 2 Ah', 'measured 2026-01-10 381 ± 6 Ah'],
    'undecided',
  ],
  // Time.
  ['on the last day', YEARLY, ['measured 2025-06-01 401 Ah'], 'verified', '2026-06-01'],
  ['a day too late', YEARLY, ['measured 2025-06-01 401 Ah'], 'lapsed', '2026-06-02'],
  ['no longer true does not lapse', YEARLY, ['measured 2020-06-01 318 Ah'], 'contradicted'],
  ['in doubt does not lapse', YEARLY, ['measured 2020-06-01 381 ± 6 Ah'], 'undecided'],
  ['too weak does not lapse', YEARLY, ['says marked 2020-06-01 400 Ah'], 'unverified'],
  [
    'what has lapsed is checked again',
    YEARLY,
    ['measured 2024-06-01 401 Ah', 'measured 2026-05-01 399 Ah'],
    'verified',
  ],
  [
    'month end to month end: the last day',
    { ...ABOUT, againEvery: '1 month' },
    ['measured 2026-01-31 401 Ah'],
    'verified',
    '2026-02-28',
  ],
  [
    'month end to month end: the day after',
    { ...ABOUT, againEvery: '1 month' },
    ['measured 2026-01-31 401 Ah'],
    'lapsed',
    '2026-03-01',
  ],
  [
    'a leap day and a year',
    { ...ABOUT, againEvery: '1 year' },
    ['measured 2024-02-29 401 Ah'],
    'lapsed',
    '2025-03-01',
  ],
  // What came before the claim was made was about something else.
  [
    'read before it was stated',
    { ...ABOUT, since: '2026-02-01' },
    ['measured 2026-01-10 318 Ah'],
    'unverified',
  ],
  [
    'read on the day on which it was stated',
    { ...ABOUT, since: '2026-02-01' },
    ['measured 2026-02-01 318 Ah'],
    'contradicted',
  ],
  [
    'said of what was there before',
    { ...TEXT, since: '2026-02-01' },
    ['says marked 2026-01-10 "TL-200"'],
    'unverified',
  ],
];

describe('the standing of a spec', () => {
  it.each(ROWS.map((row) => ({ why: row[0], row })))('$why', ({ row: [, stated, evidence, due, asOf] }) => {
    expect(standing(stated, evidence, asOf).standing).toBe(due);
  });

  it('reaches every standing by these rows', () => {
    expect(new Set(ROWS.map(([, , , due]) => due)).size).toBe(5);
  });

  it('takes the value of the evidence once it is contradicted, and only then', () => {
    const found = standing(ABOUT, ['measured 2026-01-10 318 ± 6 Ah']);
    expect(found.holds).toMatchObject({ quantity: { written: '318 ± 6 Ah' } });
    expect(standing(ABOUT, ['measured 2026-01-10 401 Ah']).holds).toMatchObject({
      quantity: { written: '400 Ah' },
    });
    expect(standing(ABOUT, ['measured 2026-01-10 381 ± 6 Ah']).holds).toMatchObject({
      quantity: { written: '400 Ah' },
    });
    expect(standing(TEXT, ['says marked 2026-01-10 "TL-200"']).holds).toEqual({
      type: 'text',
      text: 'TL-200',
    });
  });

  it('says until when a check holds, and nothing of the kind where none does', () => {
    expect(standing(YEARLY, ['measured 2026-01-31 401 Ah']).lapsesOn).toBe('2027-01-31');
    expect(standing(YEARLY, ['measured 2026-01-31 318 Ah']).lapsesOn).toBeNull();
    expect(standing(ABOUT, ['measured 2026-01-31 401 Ah']).lapsesOn).toBeNull();
  });

  it('lists the evidence by basis, newest first in each', () => {
    const { evidence } = standing(ABOUT, [
      'says told 2026-03-01 400 Ah',
      'measured 2024-01-10 401 Ah',
      'says marked 2026-02-01 400 Ah',
      'measured 2025-01-10 402 Ah',
    ]);
    expect(evidence.map(({ basis, date }) => `${basis} ${date}`)).toEqual([
      'measured 2025-01-10',
      'measured 2024-01-10',
      'marked 2026-02-01',
      'told 2026-03-01',
    ]);
  });

  it('lets the last of several readings of one entry decide, as it is the value of the point', () => {
    const [first, last] = ['318 Ah', '401 Ah'].map((value) => readingOf({ date: '2026-01-10', value }));
    const readings = [first as Reading, last as Reading];
    expect(standingOf(specOf(ABOUT), readings, [], '2026-06-01').standing).toBe('verified');
    expect(standingOf(specOf(ABOUT), readings.reverse(), [], '2026-06-01').standing).toBe('contradicted');
  });

  it('lets the later entry of one day decide', () => {
    const readings = ['b', 'a'].map((name) =>
      readingOf({
        date: '2026-01-10',
        value: name === 'a' ? '401 Ah' : '318 Ah',
        entry: `2026-01-10-${name}`,
      }),
    );
    expect(standingOf(specOf(ABOUT), readings, [], '2026-06-01').deciding?.entry).toBe('2026-01-10-b');
  });
});

const SENTENCES: readonly (readonly [stated: Stated, evidence: readonly string[], due: RegExp])[] = [
  [ABOUT, [], /^It was only told; nobody has measured it\.$/],
  [TEXT, [], /^It was only told; nobody has read it off the item\.$/],
  [{ ...ABOUT, needs: 'witnessed', basis: 'measured' }, [], /^It was measured; no third party/],
  [
    ABOUT,
    ['says marked 2026-01-10 400 Ah'],
    /^Agrees so far \(marked on 2026-01-10\), but nobody has measured it/,
  ],
  [
    { ...ABOUT, basis: 'witnessed' },
    ['measured 2026-01-10 318 Ah'],
    /^Does not agree \(measured on 2026-01-10\), but the claim was witnessed, which is stronger\.$/,
  ],
  [ABOUT, ['measured 2026-01-10 401 Ah'], /^Agrees: measured on 2026-01-10\.$/],
  [YEARLY, ['measured 2026-01-10 401 Ah'], /^Agrees: measured on 2026-01-10; holds until 2027-01-10\.$/],
  [ABOUT, ['measured 2026-01-10 318 Ah'], /^Does not agree: measured on 2026-01-10\.$/],
  [ABOUT, ['measured 2026-01-10 381 ± 6 Ah'], /^Cannot be decided: measured on 2026-01-10/],
  [YEARLY, ['measured 2020-01-10 401 Ah'], /^Agreed when measured on 2020-01-10, but .*every 12 months\.$/],
];

describe('the sentence that says why', () => {
  it.each(SENTENCES)('%j with %j', (stated, evidence, due) => {
    expect(standing(stated, evidence).because).toMatch(due);
  });
});

describe('texts that say the same', () => {
  it.each([
    ['TL-200 x 2', ' tl-200  X 2\n', true],
    ['Ø 12', 'ø 12', true],
    ['ﬁt', 'fit', true],
    ['café', 'cafe\u0301', true],
    ['TL-200', 'TL200', false],
    ['', 'a', false],
  ])('%j and %j: %s', (a, b, same) => {
    expect(sameText(a, b)).toBe(same);
  });
});

const basisOf = fc.constantFrom<Basis>(...BASES);
const day = fc
  .integer({ min: 0, max: 1500 })
  .map((n) => new Date(Date.UTC(2022, 0, 1 + n)).toISOString().slice(0, 10));
const told = fc.record({
  date: day,
  basis: basisOf,
  value: fc.integer({ min: 300, max: 500 }),
  half: fc.option(fc.integer({ min: 1, max: 40 })),
  entry: fc.nat({ max: 1e6 }),
});
const stated = fc.record({
  basis: basisOf,
  needs: basisOf,
  means: fc.constantFrom<'about' | 'at-least' | 'at-most'>('about', 'at-least', 'at-most'),
  lapses: fc.boolean(),
});
type Told = typeof told extends fc.Arbitrary<infer T> ? T : never;

const written = ({ value, half }: Told, unit: string, times: number) =>
  `${value * times}${half === null ? '' : ` ± ${half * times}`} ${unit}`;
const statements = (all: readonly Told[], unit = 'Ah', times = 1) =>
  all.map((one) =>
    statementOf({ ...one, value: written(one, unit, times), entry: `${one.date}-${one.entry}` }),
  );
const specFrom = (
  of: { basis: Basis; needs: Basis; means: Stated['means']; lapses: boolean },
  value = '400 Ah',
) =>
  specOf({
    value,
    within: '5 %',
    basis: of.basis,
    needs: of.needs,
    ...(of.means === undefined ? {} : { means: of.means }),
    ...(of.lapses ? { againEvery: '12 months' } : {}),
  });
const distinct = fc.uniqueArray(told, { maxLength: 8, selector: ({ date, entry: id }) => `${date}-${id}` });

describe('whatever the evidence', () => {
  it('what is weaker than the claim and than what is needed never changes the standing', () => {
    fc.assert(
      fc.property(stated, distinct, told, (of, all, extra) => {
        fc.pre(!reaches(extra.basis, of.basis) && !reaches(extra.basis, of.needs));
        const spec = specFrom(of);
        const before = standingOf(spec, [], statements(all), '2026-06-01');
        const after = standingOf(spec, [], statements([...all, extra]), '2026-06-01');
        expect(after.standing).toBe(before.standing);
        expect(after.holds).toEqual(before.holds);
        expect(after.evidence).toHaveLength(before.evidence.length + 1);
      }),
    );
  });

  it('the order in which it is given does not matter', () => {
    const shuffled = distinct.chain((all) =>
      fc.tuple(fc.constant(all), fc.shuffledSubarray(all, { minLength: all.length, maxLength: all.length })),
    );
    fc.assert(
      fc.property(stated, shuffled, (of, [all, mixed]) => {
        const spec = specFrom(of);
        expect(standingOf(spec, [], statements(mixed), '2026-06-01')).toEqual(
          standingOf(spec, [], statements(all), '2026-06-01'),
        );
      }),
    );
  });

  it('the unit in which it is written does not matter', () => {
    fc.assert(
      fc.property(stated, distinct, (of, all) => {
        const plain = standingOf(specFrom(of), [], statements(all), '2026-06-01');
        const small = standingOf(specFrom(of, '400000 mAh'), [], statements(all, 'mAh', 1000), '2026-06-01');
        expect(small.standing).toBe(plain.standing);
        expect(small.because).toBe(plain.because);
      }),
    );
  });

  it('contradicted means that something no weaker than the claim speaks against it', () => {
    fc.assert(
      fc.property(stated, distinct, (of, all) => {
        const {
          standing: now,
          deciding,
          holds,
        } = standingOf(specFrom(of), [], statements(all), '2026-06-01');
        if (now !== 'contradicted') return;
        expect(deciding?.agreement).toBe('does-not-conform');
        expect(holds).toEqual(deciding?.value);
        expect(reaches(deciding?.basis ?? 'told', of.basis)).toBe(true);
      }),
    );
  });

  it('what is weaker than the claim never contradicts it, nor clears it', () => {
    fc.assert(
      fc.property(stated, distinct, told, (of, all, extra) => {
        fc.pre(!reaches(extra.basis, of.basis));
        const before = standingOf(specFrom(of), [], statements(all), '2026-06-01').standing;
        const after = standingOf(specFrom(of), [], statements([...all, extra]), '2026-06-01').standing;
        expect(after === 'contradicted').toBe(before === 'contradicted');
      }),
    );
  });

  it('verified means that something as strong as needed agrees and is young enough', () => {
    fc.assert(
      fc.property(stated, distinct, (of, all) => {
        const state = standingOf(specFrom(of), [], statements(all), '2026-06-01');
        const proves = state.evidence.some(
          ({ basis, agreement, date }) =>
            agreement === 'conforms' && reaches(basis, of.needs) && (!of.lapses || date >= '2025-06-01'),
        );
        if (state.standing === 'verified') expect(proves).toBe(true);
      }),
    );
  });
});

const SPECS = `points:
  current: { quantity: current, unit: A }
  volts: { quantity: voltage, unit: V }
specs:
  draw: { value: 20 A, within: 1 A, basis: told, point: current, needs: NEEDS }`;

describe('the standing of a spec, from files', () => {
  const of = async (needs: string, measurement: string) =>
    (
      await reckoned(
        '2026-06-01',
        system('s', SPECS.replace('NEEDS', needs)),
        entry('2026-01-10', `measurements:\n  - ${measurement}`),
      )
    ).specs.get('s.draw');

  it('takes the accuracy of the instrument where no ± is written', async () => {
    const state = await of('measured', '{ point: s.current, value: 20.8 A, with: clamp }');
    expect(state?.deciding?.uncertainty.from).toBe('instrument');
    expect(state?.deciding?.uncertainty.si).toBeCloseTo(0.416, 12);
    expect(state?.standing).toBe('undecided');
  });

  it('lets a ± that is written win over the instrument', async () => {
    const state = await of('measured', '{ point: s.current, value: 20.8 ± 0.1 A, with: clamp }');
    expect(state?.deciding?.uncertainty).toEqual({ si: 0.1, from: 'written' });
    expect(state?.standing).toBe('verified');
  });

  it('judges a value of unknown uncertainty alone, and says that it is unknown', async () => {
    const state = await of('measured', 's.current: 20.8 A');
    expect(state?.deciding?.uncertainty).toEqual({ si: null, from: 'unknown' });
    expect(state?.standing).toBe('verified');
  });

  it('counts what a third party measured as witnessed', async () => {
    const own = await of('witnessed', '{ point: s.current, value: 20.2 A, by: owner }');
    const other = await of('witnessed', '{ point: s.current, value: 20.2 A, by: surveyor }');
    expect([own?.standing, other?.standing]).toEqual(['unverified', 'verified']);
    expect(other?.evidence[0]).toMatchObject({ basis: 'witnessed', by: 'surveyor', from: 'reading' });
  });

  it('takes readings of a test for evidence of the point of the same name', async () => {
    const { specs } = await reckoned(
      '2026-06-01',
      system(
        's',
        `${SPECS.replace('NEEDS', 'measured')}\ntests:\n  run: { requires: { current: "<= 25 A" } }`,
      ),
      entry('2026-01-10', 'tests:\n  - { test: s.run, readings: { current: 23 A } }'),
    );
    expect(specs.get('s.draw')?.standing).toBe('contradicted');
    expect(specs.get('s.draw')?.holds).toMatchObject({ quantity: { si: quantity('23 A').si } });
  });
});
