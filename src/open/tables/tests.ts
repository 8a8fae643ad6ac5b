import type { TestRun } from '../../check/model.js';
import type { Reckoning, RequirementResult, TestResult, TestState } from '../../reckon/model.js';
import { type Column, type Table, tableOf } from '../table.js';
import { takenColumns, valueColumns } from './words.js';

interface Row {
  readonly test: TestState['test'];
  readonly run: TestRun;
  readonly whole: TestResult['outcome'];
  readonly one: RequirementResult;
}

const COLUMNS: readonly Column<Row>[] = [
  { name: 'date', type: 'date', about: 'Day of the test.', of: ({ run }) => run.date },
  { name: 'system', type: 'text', about: 'System that was tested.', of: ({ test }) => test.system },
  { name: 'test', type: 'text', about: 'The test, as system.name.', of: ({ test }) => test.ref },
  { name: 'title', type: 'text', about: 'The test in words.', of: ({ test }) => test.title },
  {
    name: 'test_outcome',
    type: 'text',
    about: 'How the whole test came out: pass, fail or undecided.',
    of: ({ whole }) => whole,
  },
  { name: 'requirement', type: 'text', about: 'What had to be read.', of: ({ one }) => one.name },
  { name: 'required', type: 'text', about: 'What it had to be.', of: ({ one }) => one.required },
  ...valueColumns<Row>(({ one: { value, uncertainty } }) => (value === null ? null : { value, uncertainty })),
  {
    name: 'outcome',
    type: 'text',
    about: 'How this requirement came out: pass, fail or undecided.',
    of: ({ one }) => one.outcome,
  },
  ...takenColumns<Row>(({ run }) => run),
];

/** Every requirement of every test that was run, oldest run first. */
export function testsTable({ tests }: Reckoning): Table {
  const rows = [...tests.values()]
    .flatMap(({ test, results }) =>
      results.flatMap(({ run, outcome, results: each }) =>
        each.map((one): Row => ({ test, run, whole: outcome, one })),
      ),
    )
    .sort((a, b) => (a.run.date === b.run.date ? 0 : a.run.date < b.run.date ? -1 : 1));
  const about = 'One row for each requirement of each test that was run.';
  return tableOf({ name: 'tests', title: 'Tests', about }, COLUMNS, rows);
}
