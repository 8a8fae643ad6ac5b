import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Ask } from '../../src/cli/effects.js';
import { quickFrontMatter } from '../../src/read/front-matter.js';
import { type Answer, HALF_SAID, person } from './person.js';
import { SPENT } from './spent.js';
import { BOOK, book, run, TODAY } from './support.js';

/** The book of these tests, with a test to do, upkeep and conditions. */
const MORE = {
  'systems/house-dc.md': (BOOK['systems/house-dc.md'] as string)
    .replace('rest-voltage: { ', 'rest-voltage: { compare-at: { ambient: 20 °C within 5 K }, ')
    .replace(
      '---\nIsolator',
      'upkeep:\n  terminals: { every: 6 months, what: Clean the terminals }\n---\nIsolator',
    ),
  'entries/2026/2026-04-18-capacity-test.md':
    '---\ndate: 2026-04-18\ntitle: Capacity\nsystems: [house-dc]\nmeasurements:\n  - house-dc.capacity: 318 ± 6 Ah\n---\n',
};

const SOME: readonly (readonly [string, ...Answer[]])[] = [
  ['What is the entry about?', 'Batteries'],
  ['Which systems?', ['house-dc']],
  ['Bank at rest, in V', '127', '12,69'],
  ['read with what?', 'clamp'],
  ['ambient at that time', '19 °C'],
  ['Which tests were done?', ['house-dc.capacity-test']],
  ['in Ah (required', '331 ± 6'],
  ['What is done with it?', ['test-bank']],
  ['Which upkeep was done?', ['house-dc.terminals']],
  ['How long did you work', '3,5'],
  ['What is left to do?', 'Order a new bank'],
  ['In your own words', 'All day in the box.'],
];

const SOME_TEXT = `---
date: ${TODAY}
title: Batteries
systems: [house-dc]
hours:
  - { by: owner, spent: 3.5 h }
measurements:
  - { point: house-dc.rest-voltage, value: 12.69 V, with: clamp, under: { ambient: 19 °C } }
tests:
  - { test: house-dc.capacity-test, readings: { capacity: 331 ± 6 Ah } }
opens:
  - { item: order-a-new-bank, what: Order a new bank }
closes:
  - test-bank
done:
  - house-dc.terminals
---

All day in the box.
`;

/** The last question. */
const WRITE = 'Write it so? Or choose what to change';

function draftsIn(root: string): readonly string[] {
  const folder = join(root, '.ribband/drafts');
  return existsSync(folder) ? readdirSync(folder) : [];
}

describe('ribband new, asking', () => {
  it('leads through an entry and writes what was said', async () => {
    const cwd = book(MORE);
    const { ask, asked, left } = person(SOME);
    const ran = await run(['new'], { cwd, ask, terminal: true });
    expect(ran).toMatchObject({ code: 0, out: `entries/2026/${TODAY}-batteries.md\n` });
    expect(left()).toEqual([]);
    expect(readFileSync(join(cwd, ran.out.trim()), 'utf8')).toBe(SOME_TEXT);
    expect(draftsIn(cwd)).toEqual([]);
    expect(await run(['check'], { cwd })).toMatchObject({ code: 0 });
    const choices = (question: string) =>
      asked.find((one) => one.question.includes(question))?.choices.map(({ value }) => value);
    expect(choices('Which systems?'), 'worked on last first').toEqual(['house-dc', 'engine']);
    expect(choices('What is done with it?')).toEqual(['test-bank']);
  });

  it('shows the last value and the unit, and asks about a slip of the pen', async () => {
    const { ask, asked } = person(SOME);
    await run(['new'], { cwd: book(MORE), ask });
    const voltage = asked.find(({ question }) => question.startsWith('Bank at rest, in V'));
    expect(voltage?.question).toBe('Bank at rest, in V (last 12.71 V on 2026-03-01)');
    expect(voltage?.refused).toEqual(['Last time 12.71 V; 127 V? Enter once more if it is right.']);
    expect(
      asked.some(({ question }) => question.startsWith('Capacity, in Ah (last 318 ± 6 Ah on 2026-04-18)')),
    ).toBe(true);
  });

  it('takes a doubtful value that is given twice, and asks why', async () => {
    const cwd = book(MORE);
    const { ask } = person([
      ...SOME.filter(([question]) => question !== 'Bank at rest, in V' && question !== 'read with what?'),
      ['read with what?', '-'],
      ['Bank at rest, in V', '2.1', '2.1'],
      ['a word on why', 'left the lights on'],
    ]);
    const { out } = await run(['new'], { cwd, ask });
    expect(quickFrontMatter(readFileSync(join(cwd, out.trim()), 'utf8'))?.data).toHaveProperty(
      'measurements',
      [
        {
          point: 'house-dc.rest-voltage',
          value: '2.1 V',
          under: { ambient: '19 °C' },
          note: 'left the lights on',
        },
      ],
    );
  });

  it('says the cautions before a test, and that others come first', async () => {
    const told: string[] = [];
    const { ask } = person(SOME);
    const watched: Ask = {
      ...ask,
      one: (question, choices) => {
        told.push(question);
        return ask.one(question, choices);
      },
    };
    const ran = await run(['new'], { cwd: book(MORE), ask: watched });
    expect(told.some((question) => question.includes('the cautions are read'))).toBe(true);
    expect(ran.err).toMatch(/Batteries and direct current:\n {2}- .*hydrogen/);
    expect(ran.err).toContain('Local codes and licensed people come first.');
  });

  it('leaves a test out that was not done after all', async () => {
    const cwd = book(MORE);
    const { ask } = person([...SOME, ['the cautions are read', 'no']]);
    const { out } = await run(['new'], { cwd, ask });
    expect(readFileSync(join(cwd, out.trim()), 'utf8')).not.toContain('tests:');
  });

  it('gives what can be filled in where nothing more was said', async () => {
    const cwd = book(MORE);
    const { ask } = person(SOME.slice(0, 2));
    const { out } = await run(['new'], { cwd, ask });
    expect(readFileSync(join(cwd, out.trim()), 'utf8')).toContain(
      '# measurements:\n#   - house-dc.capacity:',
    );
  });

  it('asks nothing where title and systems are given', async () => {
    const { ask, asked } = person([]);
    const ran = await run(['new', '--title', 'T', '--system', 'engine'], { cwd: book(), ask });
    expect(ran.code).toBe(0);
    expect(asked).toEqual([]);
  });

  it('asks only what the options leave open', async () => {
    const cwd = book(MORE);
    const { ask, asked } = person(SOME);
    const options = [
      '--system',
      'house-dc',
      '--reading',
      'house-dc.rest-voltage=12.7 V',
      '--close',
      'test-bank',
    ];
    const ran = await run(['new', ...options, '--hours', 'owner=2 h', '--text', 'x'], { cwd, ask });
    expect(ran.code).toBe(0);
    const questions = asked.map(({ question }) => question).join('\n');
    for (const known of ['Which systems', 'Bank at rest, in V', 'What is done', 'did you work', 'own words'])
      expect(questions).not.toContain(known);
    expect(questions).toContain('What is the entry about?');
  });

  it('keeps or writes what is wrong for no single answer, as the person likes', async () => {
    const later = '---\ndate: 2026-04-20\ntitle: Z\nsystems: [house-dc]\ncloses: [test-bank]\n---\n';
    for (const choice of ['keep', 'write']) {
      const cwd = book(MORE);
      const stopped = person([...SOME.slice(0, -1), ['In your own words', null]]);
      await run(['new'], { cwd, ask: stopped.ask });
      writeFileSync(join(cwd, 'entries/2026/2026-04-20-z.md'), later);
      const { ask } = person([
        ['In your own words', 'All day in the box.'],
        ['What shall become of it?', choice],
      ]);
      const ran = await run(['new', '--resume'], { cwd, ask });
      expect(ran.err).toContain('entries/2026/2026-04-20-z.md');
      expect([ran.code, draftsIn(cwd).length]).toEqual(choice === 'keep' ? [1, 1] : [0, 0]);
      if (choice === 'write') expect(readFileSync(join(cwd, ran.out.trim()), 'utf8')).toBe(SOME_TEXT);
    }
  });

  it('asks again for what the checker refuses, and keeps the rest', async () => {
    // The draft comes from before the item was closed by somebody else.
    const cwd = book(MORE);
    const stopped = person([...SOME.slice(0, -1), ['In your own words', null]]);
    expect((await run(['new'], { cwd, ask: stopped.ask })).code).toBe(1);
    const other = ['--title', 'A first one', '--system', 'house-dc', '--close', 'test-bank'];
    expect((await run(['new', ...other], { cwd })).code).toBe(0);
    const { ask, asked } = person([['In your own words', 'All day in the box.']]);
    const ran = await run(['new', '--resume'], { cwd, ask });
    expect(ran.code).toBe(0);
    expect(ran.err).toContain('`test-bank` is not open any more');
    // Nothing else is open that could be done: only whether it is right so is asked again.
    expect(asked.map(({ question }) => question)).toEqual([
      'In your own words: what did you do and see? (Tab, then Enter, ends it)',
      WRITE,
      WRITE,
    ]);
    expect(readFileSync(join(cwd, ran.out.trim()), 'utf8')).toBe(
      SOME_TEXT.replace('closes:\n  - test-bank\n', ''),
    );
  });
});

/** Every question of an entry, in turn. */
async function countQuestions(): Promise<number> {
  const { ask, asked } = person(SOME);
  await run(['new'], { cwd: book(MORE), ask });
  return asked.length;
}

describe('stopping halfway', () => {
  it('in the middle of the words keeps those that stand there', async () => {
    const cwd = book(MORE);
    const stopped = person([...SOME.slice(0, -1), ['In your own words', null]]);
    expect((await run(['new'], { cwd, ask: stopped.ask })).code).toBe(1);
    const { ask, asked } = person([]);
    expect((await run(['new', '--resume'], { cwd, ask })).code).toBe(0);
    expect(asked).toMatchObject([{ initial: HALF_SAID }, { question: WRITE }]);
  });

  it('at any question loses nothing: going on gives the same entry', async () => {
    const questions = await countQuestions();
    expect(questions).toBeGreaterThan(12);
    // The first question is of the day; that it is today is nothing to keep.
    for (let stop = 2; stop < questions; stop += 1) {
      const cwd = book(MORE);
      // One person, who stops at one of the questions and answers it the next time.
      const { ask } = person(SOME);
      let asked = 0;
      const stopping = <T>(question: () => Promise<T>): Promise<T | null> => {
        asked += 1;
        return asked === stop + 1 ? Promise.resolve(null) : question();
      };
      const tired: Ask = {
        text: (question, asking) => stopping(() => ask.text(question, asking)),
        long: (question, asking) => stopping(() => ask.long(question, asking)),
        one: (question, choices) => stopping(() => ask.one(question, choices)),
        several: (question, choices, required) => stopping(() => ask.several(question, choices, required)),
      };
      const first = await run(['new'], { cwd, ask: tired });
      expect([first.code, first.out, first.err.split('\n').at(-2)]).toEqual([
        1,
        '',
        'Nothing is lost: what you have said is kept, and `ribband new --resume` goes on with it.',
      ]);
      const second = await run(['new', '--resume'], { cwd, ask });
      expect(second.code, second.err).toBe(0);
      expect(readFileSync(join(cwd, second.out.trim()), 'utf8'), `stopped at ${stop}`).toBe(SOME_TEXT);
      expect(draftsIn(cwd)).toEqual([]);
    }
  });

  it('at the first question keeps nothing', async () => {
    const cwd = book(MORE);
    const ran = await run(['new'], { cwd, ask: person([['What is the entry about?', null]]).ask });
    expect(ran).toEqual({ code: 1, out: '', err: 'Nothing was written.\n' });
    expect(draftsIn(cwd)).toEqual([]);
  });

  it('a program that is killed leaves the answers so far, whole', async () => {
    const cwd = book(MORE);
    const { ask } = person(SOME);
    let asked = 0;
    const killed = new Error('killed');
    const dying: Ask = {
      ...ask,
      text: (question, asking) => {
        asked += 1;
        return asked > 4 ? Promise.reject(killed) : ask.text(question, asking);
      },
    };
    await run(['new'], { cwd, ask: dying });
    const [name] = draftsIn(cwd);
    const kept = JSON.parse(readFileSync(join(cwd, '.ribband/drafts', name as string), 'utf8')) as {
      draft: { title: string; measurements: unknown[] };
    };
    expect(kept.draft.title).toBe('Batteries');
    expect(kept.draft.measurements).toEqual([
      { point: 'house-dc.rest-voltage', value: '12.69 V', with: 'clamp' },
    ]);
  });

  it('does not stand in the way of another entry, which says that there is one', async () => {
    const cwd = book(MORE);
    await run(['new'], { cwd, ask: person([...SOME.slice(0, 1), ['Which systems?', null]]).ask });
    const { ask } = person([
      ['What is the entry about?', 'Another'],
      ['Which systems?', ['engine']],
    ]);
    const ran = await run(['new'], { cwd, ask });
    expect(ran.err).toContain('“Batteries” of 2026-04-20 is not finished; `--resume` goes on with it.\n');
    expect(ran.out).toContain('another.md');
    expect(draftsIn(cwd)).toEqual(['draft-1.json']);
  });

  it.each([
    [{}, [], /There is no draft to go on with\./],
    [{ '.ribband/drafts/draft-1.json': 'not even JSON' }, [], /There is no draft to go on with\./],
    [
      { '.ribband/drafts/draft-1.json': '{"draft":{"date":"2026-04-20"}}' },
      ['--title', 'T'],
      /`--title` is for a new one/,
    ],
  ])('--resume is refused where there is nothing to go on with (%j %j)', async (files, options, message) => {
    const ran = await run(['new', '--resume', ...options], { cwd: book(files), ask: person([]).ask });
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(message);
  });

  it('--resume needs somebody to ask', async () => {
    const cwd = book({ '.ribband/drafts/draft-1.json': '{"draft":{"date":"2026-04-20"}}' });
    expect((await run(['new', '--resume'], { cwd })).err).toContain('there is no terminal to ask at');
  });

  it('never writes over an entry that came meanwhile', async () => {
    const cwd = book(MORE);
    await run(['new'], { cwd, ask: person([...SOME.slice(0, -1), ['In your own words', null]]).ask });
    const path = join(cwd, `entries/2026/${TODAY}-batteries.md`);
    writeFileSync(path, `---\ndate: ${TODAY}\ntitle: Batteries\nsystems: [engine]\n---\n`);
    const { out } = await run(['new', '--resume'], { cwd, ask: person([]).ask });
    expect(out).toBe(`entries/2026/${TODAY}-batteries-2.md\n`);
    expect(readFileSync(path, 'utf8')).toContain('systems: [engine]');
  });
});

const SPENT_TEXT = `---
date: ${TODAY}
title: Ordered a second bank
systems: [house-dc]
parts:
  - { part: second-bank, move: ordered, what: second bank, cost: 1480 EUR, rests-on: [house-dc.bank-capacity, house-dc.rest-voltage] }
decisions:
  - { decision: one-bank-or-two, question: "One bank or two?", chose: two, because: One does not last the night., rests-on: [house-dc.bank-model] }
opens:
  - { item: fit-the-second-bank, what: Fit the second bank, size: 6 h, rests-on: [house-dc.bank-model] }
---

So be it.
`;

describe('what it rests on', () => {
  it('is chosen with its standing in sight, and unchecked ground is told of and stops nothing', async () => {
    const cwd = book(MORE);
    const { ask, asked, left } = person(SPENT);
    const ran = await run(['new'], { cwd, ask });
    expect(ran.code, ran.err).toBe(0);
    expect(left()).toEqual([]);
    expect(readFileSync(join(cwd, ran.out.trim()), 'utf8')).toBe(SPENT_TEXT);
    const grounds = asked.find(({ question }) => question.includes('chosen by?'))?.choices;
    expect(grounds?.map(({ label }) => label)).toEqual([
      'Bank capacity: 400 Ah, contradicted by a measurement',
      'Bank model: TL-400, only told',
      'Capacity: 318 ± 6 Ah, read on 2026-04-18',
      'Bank at rest: 12.71 V, read on 2026-03-01',
    ]);
    expect(ran.err).toContain(
      '`second-bank` is ordered, but rests on `house-dc.bank-capacity`, which is contradicted. Decide anew whether it is still the right part.',
    );
    expect(ran.err).toContain('This decision rests on `house-dc.bank-model`, which is unverified.');
    expect(ran.err).toContain('This job rests on `house-dc.bank-model`, which is unverified.');
  });

  it('is asked only where money or time is spent', async () => {
    const { ask, asked } = person([
      ...SPENT.slice(0, 4),
      ['second bank: what happened to it?', 'scrapped'],
      ['What is left to do?', 'Look at it'],
    ]);
    await run(['new'], { cwd: book(MORE), ask });
    expect(asked.filter(({ question }) => question.includes('which of these'))).toEqual([]);
  });
});

describe('the day', () => {
  it.each([
    ['', TODAY],
    ['yesterday', '2026-04-19'],
    ['12 March 2026', '2026-03-12'],
    ['2026-03-12', '2026-03-12'],
  ])('%j is %s', async (typed, date) => {
    const { ask } = person([['Which day was it? (Enter for today;', typed], ...SOME.slice(0, 2)]);
    const ran = await run(['new'], { cwd: book(MORE), ask });
    expect(ran.out).toBe(`entries/2026/${date}-batteries.md\n`);
  });

  it('is refused where it is none or still to come, and not asked where it is given', async () => {
    const days = ['Which day was it?', 'someday', '31 April 2026', 'tomorrow', '2026-04-21', ''] as const;
    const { ask, asked } = person([days, ...SOME.slice(0, 2)]);
    await run(['new'], { cwd: book(MORE), ask });
    expect(asked[0]?.refused).toHaveLength(4);
    expect(asked[0]?.refused[3]).toContain('2026-04-21');
    const given = person(SOME.slice(0, 2));
    await run(['new', '--date', 'yesterday'], { cwd: book(MORE), ask: given.ask });
    expect(given.asked[0]?.question).toBe('What is the entry about?');
  });

  it('of an earlier day shows what was read last before it', async () => {
    const { ask, asked } = person([['Which day was it?', '2026-02-01'], ...SOME.slice(0, 2)]);
    await run(['new'], { cwd: book(MORE), ask });
    expect(asked.some(({ question }) => question === 'Bank at rest, in V (never read yet)')).toBe(true);
  });
});

describe('the list of what was said, at the end', () => {
  /** The number of the row that says it, as the list is told before it is chosen from. */
  async function changing(
    answers: readonly (readonly [string, ...Answer[]])[],
    rows: readonly (string | readonly [string, string])[],
    cwd: string,
  ) {
    const { ask, asked } = person(answers);
    const wanted = rows.flat();
    const choosing: Ask = {
      ...ask,
      one: async (question, choices) => {
        const label = question === WRITE || question === 'What was passed over?' ? wanted.shift() : undefined;
        if (label === undefined) return ask.one(question, choices);
        const row = choices.find((one) => one.label.startsWith(label));
        expect(row, `${label} in ${choices.map((one) => one.label).join('; ')}`).toBeDefined();
        return row?.value ?? null;
      },
    };
    const ran = await run(['new'], { cwd, ask: choosing });
    expect(ran.code, ran.err).toBe(0);
    return { text: readFileSync(join(cwd, ran.out.trim()), 'utf8'), asked };
  }

  it('any of it can be said anew', async () => {
    const twice = SOME.map(([question, ...given]): readonly [string, ...Answer[]] => {
      const more: Readonly<Record<string, Answer>> = {
        'What is the entry about?': 'The batteries',
        'Bank at rest, in V': '12.7',
        'How long did you work': '4',
        'In your own words': 'Half a day.',
      };
      const again = more[question];
      return again === undefined ? [question, ...given] : [question, ...given, again];
    });
    const rows = ['day', 'about', 'Bank at rest', 'hours', 'your words'];
    const days = ['Which day was it?', '', 'yesterday'] as const;
    const { text } = await changing([days, ...twice], rows, book(MORE));
    expect(text).toBe(
      SOME_TEXT.replace(TODAY, '2026-04-19')
        .replace('Batteries', 'The batteries')
        .replace('12.69 V, with: clamp, under: { ambient: 19 °C }', '12.7 V, with: clamp')
        .replace('3.5 h', '4 h')
        .replace('All day in the box.', 'Half a day.'),
    );
  });

  it('a job, a part and a decision can be said anew, with what they rest on', async () => {
    const rows = ['part: second bank', 'decided', 'left to do'];
    const { text } = await changing(
      [...SPENT.slice(0, 3), ['A part ordered, come', ''], ...SPENT.slice(3), ...SPENT.slice(2, 14)],
      rows,
      book(MORE),
    );
    expect(text).toBe(SPENT_TEXT);
  });

  it('what was passed over can be added', async () => {
    const over = (what: string) => ['add something', what] as const;
    const { text } = await changing(
      [...SPENT.slice(0, 2), ['Bank at rest, in V', '', '12.7'], ['What is left to do?', '', 'Look again']],
      [over('Bank at rest'), over('work that is left')],
      book(MORE),
    );
    expect(text).toContain(
      'value: 12.7 V, with: clamp }\nopens:\n  - { item: look-again, what: Look again }',
    );
  });

  it('stopping in the middle of a change keeps what was said before', async () => {
    const cwd = book(MORE);
    const { ask } = person([...SOME, ['What is the entry about?', null], [WRITE, '1']]);
    expect((await run(['new'], { cwd, ask })).code).toBe(1);
    const ran = await run(['new', '--resume'], { cwd, ask: person([]).ask });
    expect(readFileSync(join(cwd, ran.out.trim()), 'utf8')).toBe(SOME_TEXT);
  });
});
