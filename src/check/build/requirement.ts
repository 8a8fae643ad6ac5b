import { type Kind, parseQuantity, parseRequirement } from '../../quantity/index.js';
import type { Place, Point, Requirement } from '../model.js';
import type { Report } from '../problem.js';
import { saidOf } from './values.js';

const COMPARISON = /^\s*(?:[<>=≤≥]|between\b)/;

/**
 * Reads what a test requires of one of its readings. A comparison takes its kind from the point of the same
 * name, else from the unit of its first value; anything that is no comparison is a text that has to be found.
 */
export function requirementOf(
  name: string,
  written: string,
  point: Point | null,
  path: Place['path'],
  report: Report,
): Requirement | null {
  if (!COMPARISON.test(written)) return { type: 'text', name, text: written, written };
  const kind = point?.kind ?? kindOfFirst(written);
  if (kind === null) {
    report(
      {
        code: 'bad-requirement',
        message: `No value with a unit can be read in “${written}”.`,
        hint: 'Write it as `>= 320 Ah`, or as `between 13.8 V and 14.4 V`.',
      },
      path,
    );
    return null;
  }
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

function kindOfFirst(written: string): Kind | null {
  const value = written.replace(/^\s*(?:[<>=≤≥]+|between\b)\s*/, '').split(/\s+and\b/)[0] ?? '';
  const result = parseQuantity(value);
  return result.ok ? result.quantity.kind : null;
}
