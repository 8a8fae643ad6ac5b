import { describe, expect, it } from 'vitest';
import { together } from '../../src/reckon/tests.js';
import { entry, reckoned, system } from './book.js';

const SYSTEM = system(
  's',
  `points:
  cap: { quantity: charge, unit: Ah, at-least: 320 Ah }
  volts: { quantity: voltage, unit: V, at-least: 12.4 V, at-most: 14.4 V }
  free: { quantity: voltage, unit: V }
  gravity: { quantity: voltage, unit: V, compare-at: { ambient: 20 °C within 5 K, current: 16 A within 10 % } }
specs:
  claimed: { value: 400 Ah, within: 5 %, basis: told, point: cap }
tests:
  run:
    requires: { cap: ">= 320 Ah", end: between 10.4 V and 10.7 V, colour: grey }
  other: { requires: { end: "> 10 V" } }`,
);

const run = (readings: string, date = '2026-01-10') =>
  entry(date, `tests:\n  - { test: s.run, readings: { ${readings} } }`);

describe('the outcome of a test', () => {
  it.each([
    ['cap: 330 ± 6 Ah, end: 10.5 V, colour: grey', 'pass', ['pass', 'pass', 'pass']],
    ['cap: 330 ± 6 Ah, end: 10.5 V, colour: " Grey "', 'pass', ['pass', 'pass', 'pass']],
    ['cap: 318 ± 6 Ah, end: 10.5 V, colour: grey', 'undecided', ['undecided', 'pass', 'pass']],
    ['cap: 300 ± 6 Ah, end: 10.5 V, colour: grey', 'fail', ['fail', 'pass', 'pass']],
    ['cap: 318 ± 6 Ah, end: 10.9 V, colour: grey', 'fail', ['undecided', 'fail', 'pass']],
    ['cap: 330 Ah, end: 10.5 V, colour: brown', 'fail', ['pass', 'pass', 'fail']],
    ['cap: 320 Ah, end: 10.7 V, colour: grey', 'pass', ['pass', 'pass', 'pass']],
  ])('%s: %s', async (readings, outcome, each) => {
    const { tests } = await reckoned('2026-12-31', SYSTEM, run(readings));
    const last = tests.get('s.run')?.last;
    expect(last?.outcome).toBe(outcome);
    expect(last?.results.map((result) => result.outcome)).toEqual(each);
  });

  it('is none where the test was never done', async () => {
    const { tests } = await reckoned('2026-12-31', SYSTEM, run('cap: 1 Ah, end: 1 V, colour: grey'));
    expect(tests.get('s.other')).toMatchObject({ results: [], last: null });
  });

  it('is that of the newest run first', async () => {
    const { tests } = await reckoned(
      '2026-12-31',
      SYSTEM,
      run('cap: 300 Ah, end: 10.5 V, colour: grey', '2026-02-01'),
      run('cap: 330 Ah, end: 10.5 V, colour: grey', '2026-01-01'),
    );
    expect(tests.get('s.run')?.results.map(({ outcome }) => outcome)).toEqual(['fail', 'pass']);
    expect(tests.get('s.run')?.last?.run.date).toBe('2026-02-01');
  });

  it('is undecided where a reading is missing', () => {
    expect(together(['pass', 'undecided'])).toBe('undecided');
    expect(together(['undecided', 'fail', 'pass'])).toBe('fail');
    expect(together(['pass', 'pass'])).toBe('pass');
  });
});

const read = (date: string, ...lines: readonly string[]) =>
  entry(date, `measurements:\n${lines.map((line) => `  - ${line}\n`).join('')}`);

describe('a point over time', () => {
  it.each([
    ['s.cap: 330 ± 6 Ah', 's.cap', 'inside'],
    ['s.cap: 320 Ah', 's.cap', 'inside'],
    ['s.cap: 318 ± 6 Ah', 's.cap', 'undecided'],
    ['s.cap: 300 ± 6 Ah', 's.cap', 'outside'],
    ['s.volts: 12.3 V', 's.volts', 'outside'],
    ['s.volts: 14.6 ± 0.1 V', 's.volts', 'outside'],
    ['s.volts: 14.35 ± 0.1 V', 's.volts', 'undecided'],
    ['s.volts: 13 ± 0.1 V', 's.volts', 'inside'],
    ['s.free: 99 V', 's.free', 'no-limit'],
  ])('%s lies %s %s', async (line, ref, limit) => {
    const { timelines } = await reckoned('2026-12-31', SYSTEM, read('2026-01-10', line));
    expect(timelines.get(ref)?.last?.limit).toBe(limit);
  });

  it('runs from the oldest to the newest and names its specs', async () => {
    const { timelines } = await reckoned(
      '2026-12-31',
      SYSTEM,
      read('2026-02-01', 's.cap: 2 Ah'),
      read('2026-01-01', 's.cap: 1 Ah'),
      run('cap: 3 Ah, end: 10.5 V, colour: grey', '2026-03-01'),
    );
    const line = timelines.get('s.cap');
    expect(line?.readings.map(({ reading }) => reading.quantity.value)).toEqual([1, 2, 3]);
    expect(line?.last?.reading).toMatchObject({ date: '2026-03-01', test: 's.run' });
    expect(line?.specs).toEqual(['s.claimed']);
  });

  it('is empty where nobody has read it', async () => {
    const { timelines } = await reckoned('2026-12-31', SYSTEM);
    expect(timelines.get('s.cap')).toMatchObject({ readings: [], last: null });
  });

  it('counts a value once that is given as a reading and in a test', async () => {
    const both = entry(
      '2026-01-10',
      `measurements: [{ s.cap: 330 Ah }]
tests:
  - { test: s.run, readings: { cap: 330 Ah, end: 10.5 V, colour: grey } }`,
    );
    expect((await reckoned('2026-12-31', SYSTEM, both)).timelines.get('s.cap')?.readings).toHaveLength(1);
  });

  it.each([
    ['both near', 'ambient: 24 °C, current: 15 A', true],
    ['on the edge', 'ambient: 25 °C, current: 16 A', true],
    ['in another unit', 'ambient: 68 °F, current: 16 A', true],
    ['too warm', 'ambient: 26 °C, current: 16 A', false],
    ['one not noted', 'ambient: 20 °C', false],
    ['of another kind', 'ambient: 20 °C, current: 16 V', false],
    ['in words', 'ambient: mild, current: 16 A', false],
  ])('compares only like with like: %s', async (_why, under, comparable) => {
    const line = `{ point: s.gravity, value: 12.6 V, under: { ${under} } }`;
    const { timelines } = await reckoned('2026-12-31', SYSTEM, read('2026-01-10', line));
    expect(timelines.get('s.gravity')?.last?.comparable).toBe(comparable);
  });
});
