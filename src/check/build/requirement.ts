import { looksLikeQuantity, parseQuantity, parseRequirement } from '../../quantity/index.js';
import * as m from '../messages.js';
import type { Place, Point, Requirement } from '../model.js';
import type { Report } from '../problem.js';
import { saidOf } from './values.js';

const BARE_NUMBER = /^\s*[-+−]?[\d.,]+\s*$/;
const COMPARISON = /^\s*(?:[<>=≤≥]|between\b)/;

/**
 * Reads what a test requires of one of its readings. A comparison takes its kind from the point of the same
 * name, else from the unit of its first value; anything that is no comparison is a text that has to be found.
 */
export function requirementOf(
  name: string,
  given: string | number,
  point: Point | null,
  path: Place['path'],
  report: Report,
): Requirement | null {
  const written = String(given);
  const first = firstValue(written);
  if (first.text.trim() === '' || BARE_NUMBER.test(written)) {
    report(m.badRequirement(written), path);
    return null;
  }
  if (!COMPARISON.test(written) && !looksLikeQuantity(written))
    return { type: 'text', name, text: written, written };
  const probe = point === null ? parseQuantity(first.text) : null;
  if (probe !== null && !probe.ok) {
    const { offset, length } = probe.problem;
    report(saidOf(probe.problem), path, { slice: { offset: first.offset + offset, length } });
    return null;
  }
  const kind = point?.kind ?? (probe?.ok === true ? probe.quantity.kind : 'ratio');
  const result = parseRequirement(written, kind);
  if (result.ok) {
    const { band } = result.requirement;
    return { type: 'band', name, kind, band, written, point: point?.ref ?? null };
  }
  const { problem } = result;
  report(saidOf(problem, problem.code === 'bad-formula' ? 'bad-requirement' : undefined), path, {
    slice: { offset: problem.offset, length: problem.length },
  });
  return null;
}

/** The first value of a comparison: its unit tells the kind. */
function firstValue(written: string): { readonly text: string; readonly offset: number } {
  const start = /^\s*(?:[<>=≤≥]+|between\b)\s*/.exec(written)?.[0].length ?? 0;
  return { text: written.slice(start).split(/\s+and\b/)[0] ?? '', offset: start };
}
