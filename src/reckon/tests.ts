import type { Requirement, TestProcedure, TestRun } from '../check/model.js';
import { judge } from '../quantity/index.js';
import type { Outcome, RequirementResult, TestResult, TestState } from './model.js';
import { sameText } from './standing.js';

/**
 * Outcomes of tests, by the same rule as standings: a value whose whole interval meets the requirement
 * passes, one whose interval misses it altogether fails, one that straddles it is undecided
 * (JCGM 106:2012, clause 8). A test passes when all its requirements do, and fails when one does.
 *
 * @param runs runs of this test, oldest first.
 */
export function testState(test: TestProcedure, runs: readonly TestRun[]): TestState {
  const results = runs.map((run) => testResult(test, run)).reverse();
  return { test, results, last: results[0] ?? null };
}

function testResult(test: TestProcedure, run: TestRun): TestResult {
  const results = test.requires.map((requirement) => requirementResult(requirement, run));
  return { run, outcome: together(results.map((result) => result.outcome)), results };
}

/** What several outcomes come to: one failure fails the test, one doubt leaves it undecided. */
export function together(outcomes: readonly Outcome[]): Outcome {
  if (outcomes.includes('fail')) return 'fail';
  return outcomes.includes('undecided') ? 'undecided' : 'pass';
}

function requirementResult(requirement: Requirement, run: TestRun): RequirementResult {
  const reading = run.readings.find((one) => one.name === requirement.name);
  const base = { name: requirement.name, required: requirement.written };
  if (reading === undefined)
    return { ...base, value: null, uncertainty: { si: null, from: 'unknown' }, outcome: 'undecided' };
  const { value, uncertainty } = reading;
  return { ...base, value, uncertainty, outcome: outcomeOf(requirement, reading) };
}

function outcomeOf(requirement: Requirement, { value, uncertainty }: TestRun['readings'][number]): Outcome {
  if (requirement.type === 'text')
    return value.type === 'text' && sameText(value.text, requirement.text) ? 'pass' : 'fail';
  if (value.type === 'text') return 'undecided';
  const judged = judge({ si: value.quantity.si, siUncertainty: uncertainty.si }, requirement.band);
  return judged === 'conforms' ? 'pass' : judged === 'fails' ? 'fail' : 'undecided';
}
