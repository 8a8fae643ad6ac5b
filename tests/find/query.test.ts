import { describe, expect, it } from 'vitest';
import { atOnce, leftOut, NO_QUERY, planOf, type Query, run, whyNothing } from '../../src/find/index.js';
import { ambient, reading, record, tableOf } from './made.js';

/** What words and limits find, on a few records whose every answer can be seen. */

const RECORDS = [
  reading('12.71 V', 'voltage', {
    point: 'house-dc.rest-voltage',
    date: '2025-12-31',
    entry: '2025-12-31-c',
    under: [ambient('4 °C')],
  }),
  reading('0.8 ± 0.3 MΩ', 'resistance', {
    point: 'house-dc.insulation',
    date: '2025-12-31',
    limit: 'outside',
  }),
  reading('1.2 ± 0.3 MΩ', 'resistance', {
    point: 'house-dc.insulation',
    date: '2025-06-14',
    under: [ambient('19 °C')],
  }),
  reading('900 kΩ', 'resistance', {
    point: 'house-dc.insulation',
    date: '2024-05-01',
    entry: '2024-05-01-a',
  }),
  reading('1 1/4 in', 'length', { point: 'steering.play', date: '2025-06-14' }),
  reading('34 mm', 'length', { title: 'seacock, inside', system: 'steering', note: 'fitted with new bolts' }),
  reading('34 mm', 'length', {
    title: 'keel bolt',
    system: 'hull',
    date: '2024-05-01',
    entry: '2024-05-01-a',
  }),
  reading('2.2 bar', 'gauge-pressure', { title: 'cut-out pressure', date: '2024-05-01' }),
  record({
    sort: 'part',
    title: 'two house batteries',
    says: 'fitted, 2 pieces',
    ref: 'house-bank',
    state: 'fitted',
  }),
  record({ sort: 'test', title: 'Hose test', outcome: 'fail', date: '2024-05-01' }),
  record({ sort: 'test', title: 'Capacity test', outcome: 'pass' }),
  record({
    sort: 'statement',
    title: 'Metal of the seacocks',
    says: 'bronze',
    standing: 'contradicted',
    date: null,
    entry: null,
  }),
  record({ sort: 'item', title: 'Renew the hose', state: 'ready' }),
  record({ sort: 'decision', title: 'Which size of bank?', says: 'chosen: like for like' }),
];
const table = tableOf(RECORDS);

const query = (parts: Partial<Query>): Query => ({ ...NO_QUERY, ...parts });
const rows = (parts: Partial<Query>): number[] => [
  ...atOnce(run(table, planOf(query(parts), table.head))).rows,
];
const problems = (parts: Partial<Query>) => planOf(query(parts), table.head).problems;
const found = (parts: Partial<Query>) => atOnce(run(table, planOf(query(parts), table.head)));
const why = (parts: Partial<Query>) => atOnce(whyNothing(table, planOf(query(parts), table.head)));

const bare = tableOf([...RECORDS, reading('0.5', 'ratio', { title: 'share' })]);
const whyBare = (parts: Partial<Query>) => atOnce(whyNothing(bare, planOf(query(parts), bare.head)));

describe('words', () => {
  it.each([
    ['seacock', [5, 11]],
    ['SEACOCKS', [5, 11]],
    ['seac', [5, 11]],
    ['hose test', [9]],
    ['test hose', [9]],
    ['battery', [8, 0, 1, 2, 3]],
    ['fitting', [5, 8]],
    ['tests', [9, 10]],
    ['failed', [9]],
    ['contradicted', [11]],
    ['bronze', [11]],
    ['rudder', [1, 2, 4, 5, 7, 8, 9, 10, 12, 13]],
    ['resistance', [1, 2, 3]],
    ['rest-voltage', [0]],
  ])('%s', (words, expected) => {
    expect(new Set(rows({ words }))).toEqual(new Set(expected));
  });

  it.each([
    ['seacok', 'seacock'],
    ['saecock', 'seacock'],
    ['insulaton', 'insulation'],
    ['batetries', 'batteries'],
  ])('%s is taken for %s, and that is said', (words, meant) => {
    const { rows: hits, slips } = found({ words });
    expect(hits.length).toBeGreaterThan(0);
    expect(slips.flatMap(({ as }) => as)).toContain(meant);
  });

  it('a word that is there is never taken for another', () => {
    expect(found({ words: 'hose' }).slips).toEqual([]);
    expect(rows({ words: 'hose' })).toEqual([9, 12]);
  });

  it('short words and numbers have no slips', () => {
    expect(rows({ words: 'kex' })).toEqual([]);
    expect(rows({ words: '37' })).toEqual([]);
  });

  it('a number is a value too, and a value with its unit is one to its last digit', () => {
    expect(rows({ words: '12.71' })).toEqual([0]);
    expect(rows({ words: '34 mm' })).toEqual([5, 6]);
    expect(rows({ words: '32 mm' })).toEqual([4]);
    expect(rows({ words: '1 1/4 in' })).toEqual([4]);
  });

  it('that are nowhere are left out where another word is there, and that is said', () => {
    expect(rows({ words: 'zzzzzz hose' })).toEqual([9, 12]);
    expect(leftOut(found({ words: 'zzzzzz hose' }))).toBe('`zzzzzz` is nowhere in this book, and left out.');
    expect(leftOut(found({ words: 'hose' }))).toBeNull();
    expect(rows({ words: 'zzzzzz hose since 2025' })).toEqual([12]);
    expect(why({ words: 'zzzzzz hose since 2030' })).toEqual([
      '`zzzzzz` is nowhere in this book.',
      'Without `since 2030` there is 1 item, 1 test.',
    ]);
  });

  it('a number of a part that is nowhere is never left out, and neither is the only word', () => {
    expect(rows({ words: 'hose TX-884' })).toEqual([]);
    expect(why({ words: 'hose TX-884' })).toEqual(['`tx` and `884` are nowhere in this book.']);
    expect(why({ words: 'zzzzzz' })).toEqual(['`zzzzzz` is nowhere in this book.']);
    expect(why({ words: 'zzzzzz qqqqqq' })).toEqual(['`zzzzzz` and `qqqqqq` are nowhere in this book.']);
  });

  it.each([
    ['What is the seacock’s metal?', [11]],
    ["what are the house batteries' makers", [8, 0, 1, 2, 3]],
    ['when did we renew the hose?', [12]],
    ['which size of bank do we have', [13]],
    ['how much is the insulation, please?', [1, 2, 3]],
  ])('a question finds what it asks for: %s', (words, expected) => {
    expect(rows({ words }).toSorted()).toEqual(expected.toSorted());
  });
});

describe('numbers', () => {
  it.each([
    [{ below: '1 MΩ' }, [1, 3]],
    [{ below: '1000 kΩ' }, [1, 3]],
    [{ words: 'insulation resistance below 1 MΩ' }, [1, 3]],
    [{ words: 'insulation < 1 MΩ' }, [1, 3]],
    [{ words: 'insulation <1MΩ' }, [1, 3]],
    [{ words: 'less than 1 MΩ' }, [1, 3]],
    [{ above: '1 MΩ' }, [2]],
    [{ below: '900 kΩ' }, [1]],
    [{ words: 'at most 900 kΩ' }, [1, 3]],
    [{ words: 'at least 34 mm' }, [5, 6]],
    [{ words: 'over 34 mm' }, []],
    [{ words: 'anything between 30 and 35 mm in steering' }, [4, 5]],
    [{ between: '30 and 35 mm' }, [4, 5, 6]],
    [{ between: '3 cm and 35 mm' }, [4, 5, 6]],
    [{ between: '35 mm to 30 mm' }, [4, 5, 6]],
    [{ words: 'between 1 in and 1.3 in' }, [4]],
    [{ words: 'above 2 bar' }, [7]],
    [{ below: '3 bar', quantity: 'gauge pressure' }, [7]],
    [{ above: '1.25', quantity: 'length' }, []],
  ] as const)('%j', (parts, expected) => {
    expect(new Set(rows(parts))).toEqual(new Set(expected));
  });

  it('values at the limit are taken by what they read, and it is said how many might lie on the other side', () => {
    expect(found({ below: '1 MΩ' }).near).toEqual({ inside: 1, outside: 1 });
    expect(found({ words: 'hose' }).near).toBeNull();
  });

  it('a unit that there is not says which there are', () => {
    const [unknown, ...more] = problems({ words: 'below 5 vlt' });
    expect([unknown?.field, unknown?.hint, more]).toEqual(['words', 'Units that fit: V.', []]);
    expect(unknown?.message).toContain('`vlt`');
    expect(problems({ below: '5' })).toMatchObject([{ field: 'below', message: '`5` has no unit.' }]);
    expect(problems({ above: '1.25', quantity: 'length' })[0]?.hint).toContain('mm');
  });

  it('a kind that nothing is of says why nothing can match', () => {
    const [absent] = problems({ below: '5 kg' });
    expect(absent).toMatchObject({
      isAbsent: true,
      message: '`5 kg` is a mass, and nothing in this book is one.',
    });
    expect(absent?.hint).toContain('length');
    expect(problems({ below: '5 V', quantity: 'length' })[0]?.message).toContain('a voltage');
    expect(problems({ quantity: 'mass' })).toMatchObject([{ isAbsent: true }]);
  });

  it('below 5 V among lengths says that these are lengths', () => {
    expect(why({ words: 'bolt below 5 V' })).toEqual([
      '`below 5 V` is a voltage, and what is found without it is length (2).',
    ]);
  });

  it('a number without a unit among values with one says how to ask', () => {
    expect(whyBare({ words: 'play below 12' })).toEqual([
      '`below 12` is a ratio, and what is found without it is length (1). Say the unit: `below 12 in`.',
    ]);
  });

  it('out of reach says how far the values go', () => {
    expect(why({ words: 'insulation below 0.1 MΩ' })[0]).toBe(
      'Nothing is below 0.1 MΩ: the 3 values there go from 0.8 ± 0.3 MΩ (2025-12-31) to 1.2 ± 0.3 MΩ (2025-06-14).',
    );
  });

  it('two values of different kinds are no range', () => {
    expect(problems({ between: '3 V and 35 mm' })[0]?.message).toContain('not of one kind');
    expect(problems({ between: '3 V' })[0]?.message).toContain('no range');
  });
});

describe('limits', () => {
  it.each([
    [{ sort: 'tests' }, [9, 10]],
    [{ sort: 'test', outcome: 'failed' }, [9]],
    [{ system: 'house-dc' }, [0, 1, 2, 3]],
    [{ system: 'House Batteries' }, [0, 1, 2, 3]],
    [{ point: 'insulation' }, [1, 2, 3]],
    [{ point: 'house-dc.insulation', since: '2025' }, [1, 2]],
    [{ words: 'insulation since 2025' }, [1, 2]],
    [{ words: 'insulation until 2025-06' }, [2, 3]],
    [{ words: 'insulation before 2025' }, [3]],
    [{ words: 'insulation 2024' }, [3]],
    [{ words: 'insulation in 2025-12' }, [1]],
    [{ words: 'insulation from 2024-06 to 2025-06-14' }, [2]],
    [{ until: '2024-05-01', sort: 'readings' }, [3, 6, 7]],
    [{ under: 'ambient' }, [0, 2]],
    [{ under: 'ambient below 40 °F' }, [0]],
    [{ under: 'ambient 19 °C' }, [2]],
    [{ standing: 'contradicted' }, [11]],
    [{ entry: '2024-05-01' }, [3, 6]],
    [{ entry: 'entries/2024/2024-05-01-a.md' }, [3, 6]],
    [{ quantity: 'length', system: 'hull' }, [6]],
  ] as const)('%j', (parts, expected) => {
    expect(rows(parts)).toEqual(expected);
  });

  it.each([
    ['anything in May', [3, 6, 7, 9]],
    ['insulation in December', [1]],
    ['insulation in dec 2025', [1]],
    ['insulation in dec 2024', []],
    ['insulation June 2025', [2]],
    ['insulation on 14 june 2025', [2]],
    ['insulation since 1st June 2025', [1, 2]],
    // The newest record is of the last of December 2025: the last June is that year's.
    ['insulation since June', [1, 2]],
    ['insulation before June', [3]],
    ['insulation after june', [1]],
    ['anything over 12 V in December?', [0]],
  ])('months are told by their names: %s', (words, expected) => {
    expect(rows({ words })).toEqual(expected);
  });

  it('a month that is not led in is a word, since it may be one', () => {
    expect(why({ words: 'march' })).toEqual(['`march` is nowhere in this book.']);
    expect(rows({ words: 'insulation 31 february 2025' })).toEqual([]);
  });

  it('what has no day lies in none', () => {
    expect(rows({ words: 'bronze since 1900' })).toEqual([]);
    expect(why({ words: 'bronze', since: '1900' })).toEqual(['Without `since 1900` there is 1 statement.']);
  });

  it.each([
    [{ quantity: 'lenght' }, '`length`'],
    [{ system: 'stering' }, '`steering`'],
    [{ point: 'rest-voltge' }, '`rest-voltage`'],
    [{ sort: 'redings' }, '`readings`'],
    [{ standing: 'verifed' }, '`verified`'],
    [{ outcome: 'undecidd' }, '`undecided`'],
    [{ under: 'ambiant' }, '`ambient`'],
    [{ since: '2025-13' }, '`2025-06`'],
    [{ until: '2025-02-30' }, '`2025-06`'],
    [{ words: 'since 2025-13' }, '`2025-06`'],
  ] as const)('%j is asked back about', (parts, hint) => {
    const [problem, ...more] = problems(parts);
    expect(more).toEqual([]);
    expect(problem?.hint).toContain(hint);
    expect(rows(parts)).toEqual([]);
  });
});
