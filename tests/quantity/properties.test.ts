import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  ALL_KINDS,
  convert,
  isKind,
  type Kind,
  kindInfo,
  looksLikeQuantity,
  parseFormula,
  parseInterval,
  parseMoney,
  parseQuantity,
  parseRequirement,
  parseWithin,
  printQuantity,
  unitOf,
  unitsFor,
} from '../../src/quantity/index.js';
import { AT_MOST, cpuTime } from '../spent.js';
import { near, read } from './helpers.js';

/** A kind with one of its units that has numbers (all but AWG). */
const kindAndUnit = fc.constantFrom(...ALL_KINDS).chain((kind) =>
  fc.record({
    kind: fc.constant(kind),
    unit: fc.constantFrom(...unitsFor(kind).filter((unit) => unit !== 'AWG')),
  }),
);

/** A decimal as people write it. */
const decimal = fc
  .record({ whole: fc.integer({ min: -99999, max: 99999 }), places: fc.integer({ min: 0, max: 4 }) })
  .map(({ whole, places }) => (whole / 10 ** places).toFixed(places));

const positive = fc
  .record({ whole: fc.integer({ min: 1, max: 999 }), places: fc.integer({ min: 0, max: 4 }) })
  .map(({ whole, places }) => (whole / 10 ** places).toFixed(places));

const unitText = (unit: string) => (unit === '1' ? '' : ` ${unit}`);

describe('every kind', () => {
  it.each(ALL_KINDS.map((kind) => [kind] as const))(
    '%s is documented and its SI unit has a factor of one',
    (kind) => {
      const info = kindInfo(kind);
      expect(isKind(kind)).toBe(true);
      expect(info.units.length).toBeGreaterThan(0);
      expect(new Set(info.units).size).toBe(info.units.length);
      expect(info.about).toMatch(/\.$/);
      for (const unit of info.units) expect(unitOf(unit)?.kinds).toContain(kind);
      const si = unitOf(info.siUnit);
      if (si?.kinds.includes(kind)) expect([si.factor, si.offset]).toEqual([1, 0]);
    },
  );

  it.each(['__proto__', 'constructor', 'toString', '', 'Length'])('%s is not one', (text) =>
    expect(isKind(text)).toBe(false),
  );

  it('has units whose every spelling leads back to it', () => {
    for (const kind of ALL_KINDS) {
      for (const symbol of unitsFor(kind)) {
        for (const spelling of [symbol, ...(unitOf(symbol)?.spellings ?? [])]) {
          if (symbol === 'AWG' || symbol === '1') continue;
          expect(read(`2 ${spelling}`, kind).unit, spelling).toBe(symbol);
          expect(read(`2 ${spelling.replaceAll('·', ' ')}`, kind).unit, spelling).toBe(symbol);
        }
      }
    }
  });

  it('has counterparts in the other system that fit the same kind', () => {
    for (const kind of ALL_KINDS) {
      for (const symbol of unitsFor(kind)) {
        const unit = unitOf(symbol);
        for (const other of [unit?.metric, unit?.us]) {
          if (other !== undefined && unit?.kinds[0] === kind)
            expect(unitOf(other)?.kinds, symbol).toContain(kind);
        }
      }
    }
  });
});

describe('reading what was printed', () => {
  it('gives the value back that was written, for every kind and unit', () => {
    fc.assert(
      fc.property(kindAndUnit, decimal, ({ kind, unit }, number) => {
        const q = read(`${number}${unitText(unit)}`, kind);
        const again = read(printQuantity(q), kind);
        expect([again.kind, again.unit, again.value, again.resolution]).toEqual([
          q.kind,
          q.unit,
          q.value,
          q.resolution,
        ]);
      }),
      { numRuns: 2000 },
    );
  });

  it('gives value and half-width back to the place that is printed', () => {
    fc.assert(
      fc.property(kindAndUnit, decimal, positive, ({ kind, unit }, number, half) => {
        const q = read(`${number} ± ${half}${unitText(unit)}`, kind);
        const printed = printQuantity(q);
        const again = read(printed, kind);
        const u = q.uncertainty as number;
        // Rounded to two digits of the half-width or to the digits as written, whichever is coarser.
        expect(Math.abs(again.value - q.value)).toBeLessThanOrEqual(Math.max(u, q.resolution) * 0.5 + 1e-12);
        expect(Math.abs((again.uncertainty as number) - u)).toBeLessThanOrEqual(0.08 * u);
        expect(printQuantity(again)).toBe(printed);
      }),
      { numRuns: 2000 },
    );
  });

  it('agrees in every other unit to the place that is printed', () => {
    fc.assert(
      fc.property(kindAndUnit, decimal, fc.nat(), ({ kind, unit }, number, pick) => {
        const q = read(`${number}${unitText(unit)}`, kind);
        const units = unitsFor(kind).filter((symbol) => symbol !== 'AWG');
        const other = convert(q, units[pick % units.length] as string);
        if (other === undefined) throw new Error('no conversion');
        const again = read(printQuantity(other), kind);
        expect(Math.abs(again.value - other.value)).toBeLessThanOrEqual(
          other.resolution * 0.5 + 1e-9 * Math.abs(other.value),
        );
      }),
      { numRuns: 2000 },
    );
  });

  it('keeps fractions of an inch and feet', () => {
    const fraction = fc
      .record({
        feet: fc.integer({ min: 0, max: 40 }),
        inches: fc.integer({ min: 0, max: 11 }),
        over: fc.integer({ min: 1, max: 63 }),
      })
      .map(({ feet, inches, over }) => ({
        text: `${feet} ft ${inches} ${over}/64 in`,
        value: feet * 12 + inches + over / 64,
      }));
    fc.assert(
      fc.property(fraction, ({ text, value }) => {
        const q = read(text);
        expect(q.value).toBe(value);
        expect(read(printQuantity(q))).toEqual(q);
      }),
    );
  });
});

describe('converting there and back', () => {
  it('gives the same value and half-width for every pair of units of every kind', () => {
    for (const kind of ALL_KINDS) {
      const units = unitsFor(kind).filter((unit) => unit !== 'AWG');
      for (const from of units) {
        const q = read(`12.5 ± 0.5${unitText(from)}`, kind);
        for (const to of units) {
          const there = convert(q, to);
          const back = there && convert(there, from);
          expect(near(back?.value ?? Number.NaN, q.value, 1e-12), `${from} to ${to}`).toBe(true);
          expect(near(back?.uncertainty ?? Number.NaN, 0.5, 1e-12), `${from} to ${to}`).toBe(true);
          expect(there?.si).toBe(q.si);
        }
      }
    }
  });
});

describe('the short way and the long way of reading', () => {
  it('agree, problems too', () => {
    const text = fc
      .record({
        number: decimal,
        half: fc.option(positive),
        unit: fc.constantFrom(
          ...ALL_KINDS.flatMap((kind) => [...unitsFor(kind)]),
          'gal',
          'ton',
          'Ahh',
          'C',
          'oz',
        ),
      })
      .map(({ number, half, unit }) => `${number}${half === null ? '' : ` ± ${half}`} ${unit}`);
    fc.assert(
      fc.property(text, fc.option(fc.constantFrom(...ALL_KINDS), { nil: undefined }), (written, kind) => {
        const short = parseQuantity(written, kind);
        // A no-break space keeps the text out of the short way.
        const long = parseQuantity(written.replace(' ', '\u00a0'), kind);
        if (short.ok && long.ok) expect({ ...long.quantity, written }).toEqual(short.quantity);
        else
          expect([short.ok, !short.ok && short.problem.code]).toEqual([
            long.ok,
            !long.ok && long.problem.code,
          ]);
      }),
      { numRuns: 3000 },
    );
  });
});

describe('any text at all', () => {
  const piece = fc.constantFrom(
    '12',
    '.5',
    '1/2',
    '½',
    '±',
    '+/-',
    ' ',
    '-',
    '−',
    '(',
    ')',
    'ft',
    'in',
    "'",
    '"',
    'Ah',
    'gal',
    'AWG',
    'pH',
    '%',
    '/0',
    ',',
    '.',
    'e9',
    '°C',
    '__proto__',
    'constructor',
    '·',
    '/',
    '*',
    '^',
    'and',
    'between',
    '>=',
    '\u0000',
    '\u{1F6F6}',
  );
  const hostile = fc.oneof(
    fc.string({ maxLength: 60, unit: 'binary' }),
    fc.array(piece, { maxLength: 14 }).map((pieces) => pieces.join('')),
  );

  it('never throws, and marks a place within the text', () => {
    fc.assert(
      fc.property(hostile, fc.option(fc.constantFrom(...ALL_KINDS), { nil: undefined }), (text, due) => {
        const kind: Kind = due ?? 'length';
        const names = (name: string) => (name === 'capacity' ? kind : undefined);
        const results = [
          parseQuantity(text, due),
          parseFormula(text, names),
          parseRequirement(text, kind),
          parseWithin(text, kind),
          parseInterval(text),
          parseMoney(text),
        ];
        for (const result of results) {
          if (result.ok) continue;
          expect(result.problem.offset).toBeGreaterThanOrEqual(0);
          expect(result.problem.offset).toBeLessThanOrEqual(text.length);
          expect(result.problem.length).toBeGreaterThanOrEqual(1);
          expect(result.problem.message).toMatch(/\.$/);
        }
        expect(typeof looksLikeQuantity(text)).toBe('boolean');
      }),
      { numRuns: 5000 },
    );
  });

  it.each([
    '9'.repeat(10_000),
    `${'1 '.repeat(5_000)}m`,
    `1 ${'m'.repeat(10_000)}`,
    '('.repeat(10_000),
    '±'.repeat(10_000),
    `${'5 ft '.repeat(2_000)}`,
    ' '.repeat(10_000),
  ])('of ten thousand characters is refused at once', (text) => {
    const start = cpuTime();
    expect(parseQuantity(text).ok).toBe(false);
    expect(parseFormula(text, () => 'length').ok).toBe(false);
    expect(parseRequirement(text, 'length').ok).toBe(false);
    expect(parseWithin(text, 'length').ok).toBe(false);
    expect(parseInterval(text).ok).toBe(false);
    expect(parseMoney(text).ok).toBe(false);
    expect(looksLikeQuantity(text)).toBe(false);
    expect(cpuTime() - start).toBeLessThan(AT_MOST);
  });

  it.each(['__proto__', 'constructor', 'toString', 'hasOwnProperty', 'valueOf'])(
    '5 %s has an unknown unit',
    (word) => {
      expect(parseQuantity(`5 ${word}`)).toMatchObject({ ok: false, problem: { code: 'unknown-unit' } });
      expect(Object.hasOwn(Object.prototype, 'polluted')).toBe(false);
    },
  );
});
