/** Which unit a user means, given what kind is due; and if none, what to tell him. */
import { aKind, type Kind, kindRow } from './kinds.js';
import { type Failure, fail, orList, quoted, type Span } from './problem.js';
import { ambiguityOf, knownUnit, nearestUnits, type Unit, unitKey, unitsFor, unitsSpelt } from './units.js';

/** A unit with the kind it stands for. */
export interface ResolvedUnit {
  readonly ok: true;
  readonly unit: Unit;
  readonly kind: Kind;
}

/**
 * Finds the unit of a text. Without a kind, a unit that fits several kinds stands for its first, but a
 * pressure must say which of the pressures it is.
 */
export function resolveUnit(text: string, span: Span, kind: Kind | undefined): ResolvedUnit | Failure {
  if (text === '') return bareNumber(span, kind);
  const ambiguity = ambiguityOf(text, kind);
  if (ambiguity) return ambiguous(text, span, kind, ambiguity);
  const spelt = unitsSpelt(text);
  const first = spelt[0];
  if (first === undefined) return unknown(text, span, kind);
  if (kind === undefined) return withoutKind(text, span, first);
  const fitting = spelt.find((unit) => unit.kinds.includes(kind));
  return fitting ? { ok: true, unit: fitting, kind } : wrongKind(text, span, kind, first);
}

function withoutKind(text: string, span: Span, unit: Unit): ResolvedUnit | Failure {
  const kind = unit.kinds[0];
  if (unit.kinds.length < 2 || kind !== 'gauge-pressure') return { ok: true, unit, kind };
  const choices = unitsFor('gauge-pressure').includes(`${unit.symbol}(g)`)
    ? [`${unit.symbol}(g)`, `${unit.symbol}(a)`]
    : ['bar(g)', 'bar(a)', 'psig', 'psia'];
  return fail(
    'ambiguous-unit',
    span,
    `${quoted(text)} does not say whether the pressure is gauge or absolute.`,
    {
      hint: `Write ${orList(choices)}.`,
      choices,
    },
  );
}

function bareNumber(span: Span, kind: Kind | undefined): ResolvedUnit | Failure {
  if (kind === undefined) {
    return fail('no-unit', span, 'The number has no unit.', {
      hint: 'Write the unit after it; for a number of things write pcs, for a share write %.',
      choices: ['pcs', '%'],
    });
  }
  const bare = kindRow(kind).bare;
  if (bare !== undefined) return { ok: true, unit: knownUnit(bare), kind };
  const choices = unitsFor(kind).slice(0, 8);
  return fail('no-unit', span, `The number has no unit, and ${aKind(kind)} needs one.`, {
    hint: `Units that fit: ${choices.join(', ')}.`,
    choices,
  });
}

function ambiguous(
  text: string,
  span: Span,
  kind: Kind | undefined,
  { why, choices }: { readonly why: string; readonly choices: readonly string[] },
): Failure {
  const fitting = choices.filter(
    (choice) => kind !== undefined && unitsSpelt(choice)[0]?.kinds.includes(kind),
  );
  const offered = fitting.length > 0 ? fitting : choices;
  return fail('ambiguous-unit', span, `${quoted(text)} can be read in several ways: ${why}.`, {
    hint: `Write ${orList(offered)}.`,
    choices: offered,
  });
}

function unknown(text: string, span: Span, kind: Kind | undefined): Failure {
  const choices = nearestUnits(text, kind);
  const fit =
    choices.length > 0
      ? { hint: `Units that fit: ${choices.join(', ')}.` }
      : kind === undefined
        ? { hint: 'Write a unit of the reference; for a number of things write `pcs`.' }
        : {};
  return fail('unknown-unit', span, `${quoted(text)} is not a unit that is known here.`, { ...fit, choices });
}

function wrongKind(text: string, span: Span, kind: Kind, unit: Unit): Failure {
  const given = unit.kinds[0];
  const near = nearestUnits(unitKey(text), kind);
  const choices = [...new Set([...near, ...unitsFor(kind).slice(0, 6)])];
  const message = `This is ${aKind(given)}, given in ${unit.symbol}, and ${aKind(kind)} is due.`;
  return fail('wrong-kind', span, message, { hint: hintBetween(given, kind, choices), choices });
}

/** A hint for pairs of kinds that people mix up, else the units that fit. */
function hintBetween(given: Kind, due: Kind, choices: readonly string[]): string {
  const known = CONFUSED.get(`${given} ${due}`);
  const fit = `Units that fit: ${choices.slice(0, 6).join(', ')}.`;
  return known === undefined ? fit : `${known} ${fit}`;
}

const CONFUSED: ReadonlyMap<string, string> = new Map([
  ['mass force', 'A force is not a mass: pounds of force are lbf, kilograms of force kgf.'],
  ['force mass', 'A mass is not a force: a mass is in kg or lb.'],
  ['power apparent-power', 'Watts and volt-amperes differ by the power factor.'],
  ['apparent-power power', 'Volt-amperes and watts differ by the power factor.'],
  ['torque energy', 'A torque is not an energy, though both come in newton metres.'],
  ['energy torque', 'An energy is not a torque, though both come in newton metres.'],
  ['gauge-pressure absolute-pressure', 'A gauge pressure leaves out the pressure of the air.'],
  ['absolute-pressure gauge-pressure', 'An absolute pressure includes the pressure of the air.'],
  ['frequency rotational-speed', 'A speed of rotation is in rpm.'],
  ['rotational-speed frequency', 'A frequency is in Hz.'],
  ['current charge', 'A battery holds ampere hours: Ah.'],
  ['charge current', 'Ampere hours are a charge; a current is in A.'],
  ['charge temperature', 'Degrees Celsius are written °C.'],
  ['power energy', 'A power over a time is an energy: Wh or kWh.'],
  ['energy power', 'An energy is not a power: a power is in W or kW.'],
  ['ratio moisture', 'Moisture content is in %.'],
]);
