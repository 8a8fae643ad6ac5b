import { describe, expect, it } from 'vitest';
import { HAZARDS } from '../../schemas/common.js';
import type { Finding } from '../../src/reckon/findings.js';
import { askedOf, type FittedSince, fittedWords, lackWords } from '../../src/reckon/fitted-since.js';
import { dangersInUse, FINDING_RULES, GRADES, gradeBy, RULE_INFO } from '../../src/reckon/grading.js';
import { reckon } from '../../src/reckon/reckon.js';
import { bookOf, entry, type Files, system } from './book.js';

/** What is found, by which rule, and how pressing it is. */

const ON = '2026-06-01';

async function found(...files: readonly Files[]): Promise<readonly Finding[]> {
  return reckon(await bookOf(...files), ON).findings;
}

/** Findings in short: grade, what decides it, and what else shows it. */
function short(findings: readonly Finding[]): string[] {
  return findings.map(({ grade, grounds }) =>
    [grade, ...grounds.map(({ rule, about }) => `${rule} ${about.id}`)].join(', '),
  );
}

const TEST = 'tests: { blow: { title: Blow test, requires: { drop: "<= 1 mm" } } }';
const POINT = 'points: { drop: { quantity: length, unit: mm, at-most: 1 mm } }';
const FAILED = entry('2026-05-01', 'tests: [{ test: s.blow, readings: { drop: 2 mm } }]');

describe('the grades', () => {
  it('are raised by dangers in use and by nothing else', () => {
    const raising = HAZARDS.filter((hazard) => dangersInUse([hazard]).length > 0);
    expect(raising).toEqual([
      ...['mains-ac', 'dc-battery', 'fuel', 'gas', 'exhaust'],
      ...['flooding', 'steering-loss', 'rig-failure'],
    ]);
    expect(dangersInUse(['gas', 'lifting', 'gas'])).toEqual(['gas']);
  });

  it('never go above what the rule allows, nor below its own grade', () => {
    for (const rule of FINDING_RULES) {
      const { grade, raisedTo } = RULE_INFO[rule];
      expect(gradeBy(rule, []), rule).toBe(grade);
      expect(gradeBy(rule, ['gas'], true), rule).toBe(raisedTo);
      expect(GRADES.indexOf(raisedTo), rule).toBeLessThanOrEqual(GRADES.indexOf(grade));
    }
    expect(gradeBy('false-claim', [], true)).toBe('soon');
  });
});

describe('a test that failed', () => {
  it('is settled soon, before use where its system has a danger in use', async () => {
    expect(short(await found(system('s', TEST), FAILED))).toEqual(['soon, failed-test s.blow']);
    const [finding] = await found(system('s', `hazards: [gas, lifting]\n${TEST}`), FAILED);
    expect(finding).toMatchObject({ grade: 'before-use', system: 's' });
    expect(finding?.grounds[0]).toEqual({
      rule: 'failed-test',
      grade: 'before-use',
      about: { sort: 'test', id: 's.blow' },
      title: 'Blow test',
      says: 'Failed on 2026-05-01: drop 2 mm, required ≤ 1 mm.',
      date: '2026-05-01',
      entry: '2026-05-01-work',
      raisedBy: ['gas'],
      fittedSince: null,
    });
  });

  it('is told with the ± by which it was judged, and with what is against the instrument', async () => {
    const book: Files = {
      'book.yaml': `book: skiff
subject: { name: Skiff }
instruments:
  gauge: { name: dial gauge, measures: { length: { accuracy: 0.1 mm } }, checked: 2024-01-10, again-every: 1 year }
`,
    };
    const run = 'tests: [{ test: s.blow, with: gauge, readings: { drop: 2.0 mm } }]';
    const said = async (...files: Files[]) =>
      (await found(book, ...files)).flatMap(({ grounds }) => grounds.map(({ says }) => says));
    expect(await said(system('s', TEST), entry('2026-05-01', run))).toEqual([
      'Failed on 2026-05-01: drop 2.0 ± 0.1 mm, required ≤ 1 mm, by an instrument whose own check was overdue since 2025-01-10: dial gauge.',
    ]);
    expect(await said(system('s', TEST), entry('2025-01-10', run))).toEqual([
      'Failed on 2025-01-10: drop 2.0 ± 0.1 mm, required ≤ 1 mm.',
    ]);
    const specs =
      'specs: { size: { value: 1 mm, basis: told, within: 0.1 mm, point: drop, quantity: length } }';
    const reading = 'measurements: [{ point: s.drop, value: 2.0 mm, with: gauge }]';
    expect(await said(system('s', `${POINT}\n${specs}`), entry('2026-05-01', reading))).toEqual([
      '2.0 ± 0.1 mm on 2026-05-01, by an instrument whose own check was overdue since 2025-01-10: dial gauge; it should be at most 1 mm.',
      'Stated 1 mm; measured on 2026-05-01: 2.0 ± 0.1 mm, by an instrument whose own check was overdue since 2025-01-10: dial gauge.',
    ]);
  });

  it('is none once it has passed, and one again when it fails later', async () => {
    const run = (date: string, value: string) =>
      entry(date, `tests: [{ test: s.blow, readings: { drop: ${value} } }]`);
    expect(await found(system('s', TEST), FAILED, run('2026-05-02', '0.5 mm'))).toEqual([]);
    expect((await found(system('s', TEST), run('2026-04-01', '0.5 mm'), FAILED)).length).toBe(1);
  });

  it('is one finding with the limit that it crosses and the spec that it contradicts', async () => {
    const specs =
      'specs: { least: { value: 1 mm, quantity: length, means: at-most, basis: told, point: drop, needs: measured } }';
    const findings = await found(system('s', `${POINT}\n${TEST}\n${specs}`), FAILED);
    expect(short(findings)).toEqual(['soon, failed-test s.blow, limit-crossed s.drop, false-limit s.least']);
  });

  it('stays apart from what another point shows', async () => {
    const points =
      'points: { drop: { quantity: length, unit: mm, at-most: 1 mm }, heat: { quantity: temperature, unit: °C, at-most: 40 °C } }';
    const hot = entry('2026-05-03', 'measurements: [{ s.heat: 50 ± 1 °C }]', 'hot');
    expect(short(await found(system('s', `${points}\n${TEST}`), FAILED, hot))).toEqual([
      'soon, limit-crossed s.heat',
      'soon, failed-test s.blow, limit-crossed s.drop',
    ]);
  });
});

describe('a limit', () => {
  it('is crossed only by the last reading, and only where the whole of it lies outside', async () => {
    const read = (date: string, value: string) => entry(date, `measurements: [{ s.drop: ${value} }]`);
    const of = async (...files: readonly Files[]) => short(await found(system('s', POINT), ...files));
    expect(await of(read('2026-05-01', '2 mm'))).toEqual(['soon, limit-crossed s.drop']);
    expect(await of(read('2026-05-01', '2 mm'), read('2026-05-02', '0.5 mm'))).toEqual([]);
    expect(await of(read('2026-05-01', '1.1 ± 0.3 mm'))).toEqual([]);
  });
});

describe('a claim that is contradicted', () => {
  const claim = 'specs: { size: { value: 10 mm, basis: told, within: 1 mm, needs: measured } }';
  const size = entry('2026-05-01', 'statements: [{ spec: s.size, says: 8 mm, basis: measured }]');

  it('is settled when convenient; sooner where something rests on it, or where it is dangerous', async () => {
    expect(short(await found(system('s', claim), size))).toEqual(['when-convenient, false-claim s.size']);
    const part = entry('2026-05-02', 'parts: [{ part: bolt, move: ordered, rests-on: [s.size] }]', 'order');
    expect(short(await found(system('s', claim), size, part))).toEqual(['soon, false-claim s.size']);
    const [dangerous] = await found(system('s', `hazards: [exhaust]\n${claim}`), size, part);
    expect(dangerous?.grade).toBe('soon');
  });

  it('has nothing resting on it once the part is gone and the work is done', async () => {
    const part = entry('2026-04-02', 'parts: [{ part: bolt, move: ordered, rests-on: [s.size] }]', 'order');
    const back = entry('2026-05-03', 'parts: [{ part: bolt, move: returned }]', 'back');
    expect(short(await found(system('s', claim), size, part, back))).toEqual([
      'when-convenient, false-claim s.size',
    ]);
  });

  it('is a limit where it states a least or a most', async () => {
    const least = claim.replace('within: 1 mm', 'means: at-least');
    expect(short(await found(system('s', least), size))).toEqual(['soon, false-limit s.size']);
  });
});

describe('upkeep', () => {
  const upkeep = (more: string) =>
    `in-service: 2024-01-01\nupkeep: { look: { every: 12 months, what: Look at it${more} } }`;

  it('is found where it is overdue and safety hangs on it, also where it was never done', async () => {
    const [finding] = await found(system('s', upkeep(', safety: true')));
    expect(finding?.grade).toBe('before-use');
    expect(finding?.grounds[0]).toMatchObject({ rule: 'safety-upkeep', date: null, entry: null });
    const done = entry('2026-05-01', 'done: [s.look]');
    expect(await found(system('s', upkeep(', safety: true')), done)).toEqual([]);
    expect(await found(system('s', upkeep('')))).toEqual([]);
  });
});

describe('open work', () => {
  const open = (more: string) => entry('2026-05-01', `opens: [{ item: job, what: Mend it${more} }]`);

  it('is found where it is about safety or a defect, or past its day', async () => {
    const of = async (more: string, head = 'points: {}') => short(await found(system('s', head), open(more)));
    expect(await of('')).toEqual([]);
    expect(await of(', by: 2026-05-20')).toEqual(['when-convenient, overdue-item job']);
    expect(await of(', by: 2026-07-20')).toEqual([]);
    expect(await of(', defect: true')).toEqual(['soon, defect job']);
    expect(await of(', defect: true', 'hazards: [gas]')).toEqual(['before-use, defect job']);
    expect(await of(', safety: true')).toEqual(['before-use, safety-item job']);
  });

  it('is found no more once it is closed', async () => {
    const closed = entry('2026-05-02', 'closes: [job]', 'closed');
    expect(await found(system('s', 'points: {}'), open(', safety: true'), closed)).toEqual([]);
  });

  it('is told with what it is to mend, and does not make one of two things', async () => {
    const points =
      'points: { a: { quantity: length, unit: mm, at-most: 1 mm }, b: { quantity: length, unit: mm, at-most: 1 mm } }';
    const read = entry('2026-04-01', 'measurements: [{ s.a: 2 mm }, { s.b: 2 mm }]', 'read');
    const findings = await found(system('s', points), read, open(', safety: true, rests-on: [s.a, s.b]'));
    expect(short(findings)).toEqual([
      'before-use, safety-item job, limit-crossed s.a',
      'soon, limit-crossed s.b',
    ]);
  });
});

describe('a check out of date', () => {
  const spec =
    'specs: { size: { value: 10 mm, basis: told, within: 1 mm, needs: measured, again-every: 6 months } }';
  const checked = entry('2025-01-01', 'statements: [{ spec: s.size, says: 10 mm, basis: measured }]');
  const test = `tests: { blow: { title: Blow test, requires: { drop: "<= 1 mm" }, again-every: 6 months } }`;
  const passed = entry('2025-02-01', 'tests: [{ test: s.blow, readings: { drop: 0.5 mm } }]', 'blow');

  it('is found in a dangerous system and nowhere else', async () => {
    expect(await found(system('s', `${spec}\n${test}`), checked, passed)).toEqual([]);
    expect(short(await found(system('s', `hazards: [gas]\n${spec}\n${test}`), checked, passed))).toEqual([
      'soon, lapsed s.blow',
      'soon, lapsed s.size',
    ]);
  });
});

describe('the list', () => {
  it('has the most pressing first, then the systems in their order', async () => {
    const two = entry(
      '2026-05-01',
      'opens: [{ item: a, what: A, system: t, safety: true }, { item: b, what: B, system: s, defect: true }, { item: c, what: C, system: s, safety: true }]',
      'work',
      ['s', 't'],
    );
    expect(short(await found(system('s', 'points: {}'), system('t', 'points: {}'), two))).toEqual([
      'before-use, safety-item c',
      'before-use, safety-item a',
      'soon, defect b',
    ]);
  });
});

describe('a part that was fitted after the evidence', () => {
  const DECLARED = system(
    's',
    `points: { drop: { title: Drop of the valve, quantity: length, unit: mm, at-most: 1 mm } }
specs: { size: { title: Valve as sold, value: 1 mm, basis: told, within: 0.1 mm, needs: measured, point: drop } }
tests: { blow: { title: Blow test of the valve, requires: { leak: "<= 1 mm" } } }`,
  );
  const EVIDENCE = entry(
    '2026-05-01',
    'measurements: [{ s.drop: 2 ± 0.1 mm }]\ntests: [{ test: s.blow, readings: { leak: 2 mm } }]',
  );
  const fits = (date: string, part: string, more = '', in_ = ['s']) =>
    entry(date, `parts: [{ part: ${part}, move: fitted${more} }]`, part, in_);
  const since = async (...files: readonly Files[]) =>
    (await found(DECLARED, EVIDENCE, ...files)).flatMap(({ grounds }) =>
      grounds.map(({ rule, fittedSince }) => [
        rule,
        fittedSince?.lacks ?? null,
        fittedSince?.parts.map(({ part, date }) => `${part} ${date}`) ?? [],
      ]),
    );
  const NOTHING = [
    ['limit-crossed', null, []],
    ['false-claim', null, []],
    ['failed-test', null, []],
  ];

  it('is told with the finding, which keeps its grade', async () => {
    const valve = fits('2026-05-02', 'new-valve', ', what: "valves, bronze"');
    expect(new Set(await since(valve))).toEqual(
      new Set([
        ['limit-crossed', 'measured', ['new-valve 2026-05-02']],
        ['false-claim', 'measured', ['new-valve 2026-05-02']],
        ['failed-test', 'tested', ['new-valve 2026-05-02']],
      ]),
    );
    const grades = async (...files: readonly Files[]) =>
      (await found(DECLARED, EVIDENCE, ...files)).map(({ grade }) => grade);
    expect(await grades(valve)).toEqual(await grades());
  });

  it('is none where it is older, of that day, of another system, gone again or another thing', async () => {
    const other = system('other', 'in-service: 2024-01-01');
    for (const files of [
      [fits('2026-04-30', 'valve')],
      [fits('2026-05-01', 'valve')],
      [other, fits('2026-05-02', 'valve', '', ['other'])],
      [fits('2026-05-02', 'valve'), entry('2026-05-03', 'parts: [{ part: valve, move: removed }]', 'off')],
      [fits('2026-05-02', 'hose', ', what: hose to the valve')],
    ])
      expect(new Set(await since(...files))).toEqual(new Set(NOTHING));
  });

  it('is asked about in words, up to three of them by name', () => {
    const one = { part: 'bank', what: 'new bank', date: '2026-05-02' };
    const asked = (since: FittedSince) =>
      `${fittedWords(since, (day) => day)}, after this: ${askedOf(since)}`;
    expect(asked({ parts: [one], lacks: 'measured' })).toBe(
      'new bank was fitted on 2026-05-02, after this: measure again, or write `since: 2026-05-02` where it is another thing now',
    );
    expect(asked({ parts: [one, one, one, one], lacks: 'looked-at' })).toBe(
      'new bank was fitted on 2026-05-02, new bank on 2026-05-02, new bank on 2026-05-02 and 1 more, after this: look at it again, or write `since` with the day where it is another thing now',
    );
    expect(askedOf({ parts: [one], lacks: 'tested' })).toBe('test again');
    expect(lackWords({ parts: [one], lacks: 'looked-at' })).toBe('no entry has looked at it since');
  });
});
