import { describe, expect, it } from 'vitest';
import {
  evaluate,
  namesIn,
  parseFormula,
  parseMoney,
  parseQuantity,
  parseRequirement,
} from '../../src/quantity/index.js';
import type { QuantityProblem } from '../../src/quantity/problem.js';
import { book, run } from '../cli/support.js';
import { formula } from '../quantity/helpers.js';
import { AT_MOST, cpuTime } from '../spent.js';
import { isWhole, LOOK_ALIKES, NUMBERS, PROPERTY_NAMES, PUMPED, TEXTS, UNSEEN_TEXTS } from './corpora.js';
import { notPlain, slowOnes, UNSEEN } from './plain.js';

/** Everything that was made to break a reader, read as a formula, a value, a requirement and an amount of money. */

interface Read {
  readonly ok: boolean;
  readonly problem?: QuantityProblem;
}

/** Longest front matter of a file, and so of any formula in it. */
const LONGEST_FIELD = 64_000;

const WAYS: Readonly<Record<string, (text: string) => Read>> = {
  'a formula': (text) => formula(text),
  'the rest of a formula': (text) => formula(`beam + ${text}`),
  'an argument': (text) => formula(`max(beam, ${text})`),
  'a comparison': (text) => formula(`volts > ${text}`, 'truth'),
  'a formula in which every name is a value': (text) => parseFormula(text, () => 'voltage'),
  'a value': (text) => parseQuantity(text),
  'a value of a kind': (text) => parseQuantity(text, 'length'),
  'a requirement': (text) => parseRequirement(text, 'voltage'),
  'an amount of money': (text) => parseMoney(text),
};

/** Sentences that say themselves what is due. */
const SAYS_ITSELF =
  /missing|due here|must be|at most|cannot|whole number|is left out|needs its unit|too large|comma in|may give|gives/;

function faultsOf(text: string, { ok, problem }: Read, isFormula: boolean): string[] {
  if (ok || problem === undefined) return [];
  const { message, hint, choices, offset, length } = problem;
  const fault = notPlain(`${message} ${hint ?? ''}`);
  const mends = hint !== undefined || choices.length > 0 || SAYS_ITSELF.test(message);
  return [
    ...(fault === null ? [] : [fault]),
    ...(offset >= 0 && length > 0 ? [] : [`no place: ${message}`]),
    ...(mends || !isFormula ? [] : [`no way to mend ${text.slice(0, 60)}: ${message}`]),
  ];
}

describe('whatever is written', () => {
  it('comes from many sources', () => {
    expect(TEXTS.length).toBeGreaterThan(1_900);
  });

  it.each(Object.entries(WAYS))(
    'is read as %s, or refused in plain words, at its place, with a way to mend it, and soon',
    (way, read) => {
      let refused = 0;
      const faults: string[] = [];
      const slow = slowOnes(TEXTS, (text) => {
        const result = read(text);
        if (!result.ok) refused += 1;
        faults.push(...faultsOf(text, result, way.includes('formula')));
      });
      expect([slow, faults]).toEqual([[], []]);
      expect(refused).toBeGreaterThan(TEXTS.length / 2);
    },
  );

  it('has its names found soon, however long it is', () => {
    expect(slowOnes(TEXTS, (text) => namesIn(text.slice(0, LONGEST_FIELD), () => false))).toEqual([]);
  });
});

describe('a formula', () => {
  it('reaches nothing of the program by a name', () => {
    for (const name of PROPERTY_NAMES)
      for (const text of [name, `${name}(1)`, `volts.${name}`, `${name}.${name}`, `abs(${name})`])
        expect(formula(text).ok, text).toBe(false);
    expect(Object.prototype).not.toHaveProperty('polluted');
  });

  it('gives a finite number or none, also of what is past all numbers', () => {
    let values = 0;
    for (const text of [...NUMBERS, ...LOOK_ALIKES, ...UNSEEN_TEXTS, ...PUMPED]) {
      const read = parseFormula(text, () => 'voltage');
      if (!read.ok) continue;
      const result = evaluate(read.formula, () => ({ si: 1e300, siUncertainty: 1e300 }));
      if (result.is !== 'value') continue;
      values += 1;
      expect(Number.isFinite(result.si), text).toBe(true);
      expect(Number.isNaN(result.siUncertainty), text).toBe(false);
    }
    expect(values).toBeGreaterThan(10);
  });
});

it('a book whose formulas and values are all of these is checked, each fault told at its place', async () => {
  const written = TEXTS.filter((text) => text.length > 0 && text.length <= 500 && isWhole(text)).filter(
    (_, at) => at % 4 === 0,
  );
  const perSystem = 40;
  const files: Record<string, string> = {};
  for (let from = 0; from < written.length; from += perSystem) {
    const own = written.slice(from, from + perSystem);
    const each = (name: string, of: (text: string) => object) =>
      Object.fromEntries(own.map((text, at) => [`${name}-${at}`, of(text)]));
    const system = {
      system: `s${from}`,
      title: 'S',
      derived: each('d', (text) => ({ from: text, quantity: 'ratio', unit: '1' })),
      specs: each('s', (text) => ({ value: text, quantity: 'length', basis: 'told' })),
    };
    files[`systems/s${from}.md`] = `---\n${JSON.stringify(system)}\n---\n`;
  }
  const systems = Object.keys(files).length;
  const began = cpuTime();
  const { code, out, err } = await run(['check'], { cwd: book(files) });
  expect((cpuTime() - began) / systems).toBeLessThan(AT_MOST);
  expect([code, err]).toEqual([1, '']);
  const lines = out.split('\n');
  const told = lines.filter((line) => /^\S.*:\d+:\d+ (?:error|warning) /.test(line));
  expect(told.length).toBeGreaterThan(systems * 20);
  expect(lines.filter((line) => UNSEEN.test(line) || /^\s+at |node:internal/.test(line))).toEqual([]);
});
