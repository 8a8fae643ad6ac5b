import { describe, expect, it } from 'vitest';
import { COLOURS } from '../../src/cli/colour.js';
import {
  addressOf,
  atOnce,
  NO_QUERY,
  planOf,
  type Query,
  type QueryField,
  run as runPlan,
  START,
  stateFrom,
  whyNothing,
} from '../../src/find/index.js';
import { book, run } from '../cli/support.js';
import { ambient, reading, record, tableOf } from '../find/made.js';
import { isWhole, PROPERTY_NAMES, PUMPED, SPREADSHEET, TEXTS } from './corpora.js';
import { notPlain, slowOnes, UNSEEN } from './plain.js';

/** Everything that was made to break a reader, looked for: in words and in every limit. */

const table = tableOf([
  reading('12.71 V', 'voltage', { point: 'house-dc.rest-voltage', under: [ambient('4 °C')] }),
  reading('0.8 ± 0.3 MΩ', 'resistance', { point: 'house-dc.insulation', limit: 'outside' }),
  reading('34 mm', 'length', { title: 'constructor', note: '__proto__ of all bolts' }),
  record({ sort: 'part', title: 'two house batteries', state: 'ordered', says: '2 × 200 Ah' }),
]);

const FIELDS = Object.keys(NO_QUERY) as readonly QueryField[];

function faultsOf(query: Query): string[] {
  const plan = planOf(query, table.head);
  const found = atOnce(runPlan(table, plan));
  const why = found.rows.length === 0 ? atOnce(whyNothing(table, plan)) : [];
  const said = [...plan.problems.map(({ message, hint }) => `${message} ${hint ?? ''}`), ...why];
  const inRange = found.rows.every((row) => row >= 0 && row < table.rows);
  return [...said.flatMap((text) => notPlain(text) ?? []), ...(inRange ? [] : ['rows that there are not'])];
}

describe('whatever is looked for', () => {
  it.each(FIELDS)('as `%s` is found or not, is told of in plain words, and soon', (field) => {
    const faults: string[] = [];
    const slow = slowOnes(TEXTS, (text) => {
      faults.push(...faultsOf({ ...NO_QUERY, [field]: text }));
    });
    expect([slow, faults]).toEqual([[], []]);
  });

  it('in a sentence with limits in it is told of in plain words, and soon', () => {
    const faults: string[] = [];
    const slow = slowOnes(TEXTS, (text) => {
      for (const words of [
        `below ${text}`,
        `bank between ${text} and ${text}`,
        `since ${text}`,
        `under ${text}`,
      ])
        faults.push(...faultsOf({ ...NO_QUERY, words }));
    });
    expect([slow, faults]).toEqual([[], []]);
  });

  it('is the same again when it comes back from an address', () => {
    for (const words of TEXTS.filter((text) => isWhole(text) && text.length <= 400)) {
      const address = addressOf({ ...START, query: { ...NO_QUERY, words } });
      expect(stateFrom(address)?.query.words.trim()).toBe(words.trim());
    }
    for (const name of PROPERTY_NAMES.filter((one) => !(FIELDS as readonly string[]).includes(one)))
      expect(stateFrom(`#?${encodeURIComponent(name)}=x&words=y`)).toEqual(stateFrom('#?words=y'));
    expect(Object.prototype).not.toHaveProperty('polluted');
  });
});

describe('ribband find', () => {
  it('ends with 0, 1 or 2 and plain words', async () => {
    const cwd = book();
    const asked = [...PROPERTY_NAMES, ...SPREADSHEET, ...PUMPED.filter((text) => text.length < 60_000)];
    const some = asked.filter((_, at) => at % 10 === 0);
    for (const [at, words] of some.entries()) {
      const option = ['--words', '--below', '--under', '--since', '--system', '--point'][at % 6] as string;
      const argv = option === '--words' ? ['find', '--', words] : ['find', `${option}=${words}`];
      const { code, out, err } = await run(argv, { cwd, terminal: true, env: { NO_COLOR: '1' } });
      expect([0, 1, 2]).toContain(code);
      for (const line of [...out.split('\n'), ...err.split('\n')]) {
        expect(UNSEEN.test(line), JSON.stringify(line)).toBe(false);
        expect(line.length, line.slice(0, 200)).toBeLessThan(800);
      }
      if (code === 2) expect(err.split('\n').length, err).toBe(2);
    }
  });

  it('shows a terminal nothing of a book by which the book could move about on it', async () => {
    const cwd = book({
      'entries/2026/2026-04-19-odd.md': `---
date: 2026-04-19
title: "Odd \\e]0;mine\\a"
systems: [engine]
measurements:
  - { what: "odd\\e[2J\\x9b31m\\u202ething", value: 3 mm, note: "\\e[8mhidden\\e[0m" }
---
`,
    });
    const shown = await run(['find', 'odd'], { cwd, terminal: true, env: { FORCE_COLOR: '1' } });
    expect(shown.code).toBe(0);
    expect(shown.out).toContain('hidden');
    expect(shown.out).toContain('\u001b[2m');
    let left = shown.out;
    for (const code of COLOURS) left = left.replaceAll(`\u001b${code}`, '');
    expect(left.split('\n').filter((line) => UNSEEN.test(line))).toEqual([]);
    const piped = await run(['find', 'odd', '--as', 'json'], { cwd });
    expect(JSON.stringify(JSON.parse(piped.out))).toContain('odd\\u001b[2J');
  });
});
