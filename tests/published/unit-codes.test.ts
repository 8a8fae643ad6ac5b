import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { commonCode } from '../../src/quantity/index.js';
import { UNITS } from '../../src/quantity/unit-table.js';

/**
 * Codes of units against UN/CEFACT Recommendation 20, Annex II, as its maintainers published it as a table under
 * the Public Domain Dedication and License 1.0 (edi3/edi3.github.io, specs/edi3-codelists/develop/
 * recommendation-20/data/annexII.csv, commit 2f0c874a23c5). Kept here are its rows of the codes that are used:
 * code, status (empty where in force), name, symbol and conversion factor as printed.
 */
interface Row {
  readonly code: string;
  readonly status: string;
  readonly name: string;
  readonly symbol: string;
  readonly factor: string;
}

const TEXT = readFileSync(join(import.meta.dirname, 'data/unit-codes.csv'), 'utf8');
const ROWS = new Map(parse<Row>(TEXT, { columns: true }).map((row) => [row.code, row]));

const UP = '⁰¹²³⁴⁵⁶⁷⁸⁹';

/** `1,016 047 x 10³ kg` as 1016.047; 1 where only a unit is printed; null where the factor is of another sort. */
function printedFactor(factor: string): number | null {
  const text = factor.replaceAll(/[⁰¹²³⁴⁵⁶⁷⁸⁹]/g, (digit) => String(UP.indexOf(digit))).replaceAll('⁻', '-');
  const fraction = /^(\d+)\/(\d+)/.exec(text);
  if (fraction !== null) return Number(fraction[1]) / Number(fraction[2]);
  const power = /(?:^|[x×] ?)10(-?\d+)(?= |$)/.exec(text.replaceAll('×', 'x'));
  const number = /^(\d[\d ]*(?:,[\d ]*)?)(?=\s*(?:[x×]|[^\d\s,x×]|$))/.exec(text);
  const isPowerAlone = /^10-?\d+ /.test(text);
  const mantissa =
    number === null || isPowerAlone ? 1 : Number((number[1] ?? '').replaceAll(' ', '').replace(',', '.'));
  return mantissa * (power === null ? 1 : 10 ** Number(power[1]));
}

/** Units whose printed factor is no plain number of our SI unit, each with the reason. */
const APART: ReadonlyMap<string, string> = new Map([
  ['rpm', 'printed as turns a second, ours in radians'],
  ['r/s', 'printed as turns a second, ours in radians'],
  ['pH', 'a logarithm'],
  ['pcs', 'no factor is printed'],
  ['m²/L', 'no factor is printed'],
]);

describe('unit codes of UN/CEFACT Recommendation 20', () => {
  const coded = UNITS.flatMap((unit) => {
    const code = commonCode(unit.symbol);
    return code === null ? [] : [{ unit, code }];
  });

  it('are in force, and there are many', () => {
    expect(coded.length).toBeGreaterThan(190);
    expect(coded.filter(({ code }) => ROWS.get(code)?.status !== '')).toEqual([]);
  });

  it('are each of one unit only', () => {
    expect(new Set(coded.map(({ code }) => code)).size).toBe(coded.length);
  });

  it.each(coded)('$unit.symbol is $code', ({ unit, code }) => {
    const row = ROWS.get(code) as Row;
    if (APART.has(unit.symbol)) return expect(row.name).not.toBe('');
    const printed = printedFactor(row.factor) as number;
    // They print six or seven digits, and some of those are cut off instead of rounded.
    expect(Math.abs(printed / unit.factor - 1), `${row.name}: ${row.factor}`).toBeLessThan(5e-5);
  });

  it('are not given where the Recommendation has none', () => {
    for (const symbol of ['psig', 'bar(g)', 'AWG', 'SG', 'nothing']) expect(commonCode(symbol)).toBeNull();
  });
});
