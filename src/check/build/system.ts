import type { SystemFile } from '../../../schemas/system.js';
import {
  aKind,
  type Kind,
  kindInfo,
  looksLikeQuantity,
  parseQuantity,
  parseWithin,
  type Quantity,
} from '../../quantity/index.js';
import * as m from '../messages.js';
import type {
  Band,
  Claim,
  CompareAt,
  CorrectionName,
  Derived,
  Meter,
  Place,
  Point,
  Spec,
  System,
  TestProcedure,
  Upkeep,
} from '../model.js';
import { nearest } from '../nearest.js';
import type { ParsedFile } from '../parse.js';
import { collector, type Problem, type Report } from '../problem.js';
import { requirementOf } from './requirement.js';
import { dayOf, intervalOf, kindOf, optionalQuantity, quantityOf, titleFrom, withinSaid } from './values.js';

/**
 * Reads a system file. Formulas are read later (`derived.ts`), since they may name what other files declare;
 * until then a derived value has no `uses`.
 */
export function buildSystem(
  file: ParsedFile,
  written: SystemFile,
): { readonly system: System; readonly problems: readonly Problem[] } {
  const { problems, report } = collector(file.source.path);
  const context: Context = { id: written.system, file: file.source.path, report };
  const points = each(written.points, (name, point) => buildPoint(name, point, context));
  const meters = each(written.meters, (name, meter) => buildMeter(name, meter, context));
  reportNames(written, report);
  const inService = dayOf(written['in-service'], ['in-service'], report);
  const stem = file.source.path.replace(/^systems\//, '').replace(/\.md$/, '');
  if (stem !== written.system) report(m.nameNotFile(written.system, stem), ['system']);
  const system: System = {
    id: written.system,
    file: file.source.path,
    title: written.title,
    group: written.group ?? null,
    inService,
    hazards: written.hazards ?? [],
    points,
    meters,
    specs: each(written.specs, (name, spec) => buildSpec(name, spec, points, context)),
    derived: each(written.derived, (name, derived) => buildDerived(name, derived, context)),
    tests: each(written.tests, (name, test) => buildTest(name, test, points, context)),
    upkeep: each(written.upkeep, (name, upkeep) => buildUpkeep(name, upkeep, context)),
    body: file.body,
  };
  return { system, problems };
}

interface Context {
  readonly id: string;
  readonly file: string;
  readonly report: Report;
}

function each<In, Out>(
  written: Readonly<Record<string, In>> | undefined,
  build: (name: string, value: In) => Out | null,
): ReadonlyMap<string, Out> {
  const built = new Map<string, Out>();
  for (const [name, value] of Object.entries(written ?? {})) {
    const out = build(name, value);
    if (out !== null) built.set(name, out);
  }
  return built;
}

const SECTIONS = ['points', 'meters', 'specs', 'derived', 'tests', 'upkeep'] as const;

/** Everything that a system declares shares one set of names, since `system.name` has to mean one thing. */
function reportNames(written: SystemFile, report: Report): void {
  const seen = new Map<string, string>();
  for (const section of SECTIONS) {
    for (const name of Object.keys(written[section] ?? {})) {
      const first = seen.get(name);
      if (first !== undefined) report(m.nameTwice(name, first), [section, name], { part: 'key' });
      else seen.set(name, section);
    }
  }
}

function base(name: string, title: string | undefined, section: string, { id, file }: Context) {
  const place: Place = { file, path: [section, name] };
  return { ref: `${id}.${name}`, system: id, name, title: title ?? titleFrom(name), place };
}

type Written<S extends keyof SystemFile> =
  NonNullable<SystemFile[S]> extends Record<string, infer T> ? T : never;

/** The unit a kind is shown in: the one asked for, where it fits, else the commonest. */
function unitOf(kind: Kind, unit: string | undefined, path: Place['path'], report: Report): string {
  const usual = kindInfo(kind).units[0] ?? '';
  if (unit === undefined) return usual;
  const probe = quantityOf(unit === 'AWG' ? '12 AWG' : `1 ${unit}`, kind, path, (said, at) =>
    report(said, at),
  );
  return probe === null ? usual : probe.unit;
}

function buildPoint(name: string, point: Written<'points'>, context: Context): Point | null {
  const { report } = context;
  const path = ['points', name];
  const kind = kindOf(point.quantity, [...path, 'quantity'], report);
  if (kind === null) return null;
  return {
    ...base(name, point.title, 'points', context),
    kind,
    unit: unitOf(kind, point.unit, [...path, 'unit'], report),
    atLeast: optionalQuantity(point['at-least'], kind, [...path, 'at-least'], report),
    atMost: optionalQuantity(point['at-most'], kind, [...path, 'at-most'], report),
    expect: point.expect ?? null,
    compareAt: buildCompareAt(point['compare-at'], [...path, 'compare-at'], report),
    correct: buildCorrect(point.correct, kind, [...path, 'correct'], report),
    plausible: buildPlausible(point.plausible, kind, [...path, 'plausible'], report),
    where: point.where ?? null,
    since: point.since ?? null,
    until: point.until ?? null,
    series: point.series ?? null,
  };
}

/** A correction is for one kind of quantity, and means nothing for another. */
function buildCorrect(
  correct: CorrectionName | undefined,
  kind: Kind,
  path: Place['path'],
  report: Report,
): CorrectionName | null {
  if (correct === undefined) return null;
  const due: Kind = correct === 'insulation-to-40-c' ? 'resistance' : 'specific-gravity';
  if (kind === due) return correct;
  report(
    m.wrongKind(`\`${correct}\` corrects ${aKind(due)}, and this point is ${aKind(kind)}.`, 'Take it out.'),
    path,
  );
  return null;
}

function buildPlausible(
  written: Written<'points'>['plausible'],
  kind: Kind,
  path: Place['path'],
  report: Report,
): Point['plausible'] {
  if (written === undefined) return null;
  const low = quantityOf(written[0], kind, [...path, 0], report);
  const high = quantityOf(written[1], kind, [...path, 1], report);
  return low === null || high === null ? null : { low, high };
}

/** `20 °C within 5 K`: a value, and how far from it is near enough. */
function buildCompareAt(
  written: Readonly<Record<string, string>> | undefined,
  path: Place['path'],
  report: Report,
): readonly CompareAt[] {
  return Object.entries(written ?? {}).flatMap(([condition, text]) => {
    const at = [...path, condition];
    const [first = '', second] = text.split(/\s+within\s+/);
    if (second === undefined) {
      report(m.compareAtOpen(text), at);
      return [];
    }
    const value = quantityOf(first, null, at, report);
    if (value === null) return [];
    const within = parseWithin(second, value.kind);
    if (!within.ok) {
      report(withinSaid(within.problem, second), at);
      return [];
    }
    return [
      {
        condition,
        value,
        within: within.within.share * Math.abs(value.si) + within.within.amount,
        written: text,
      },
    ];
  });
}

function buildMeter(name: string, meter: Written<'meters'>, context: Context): Meter {
  const path = ['meters', name];
  return {
    ...base(name, meter.title, 'meters', context),
    unit: unitOf('time', meter.unit ?? 'h', [...path, 'unit'], context.report),
    wrapsAt: optionalQuantity(meter['wraps-at'], 'time', [...path, 'wraps-at'], context.report),
  };
}

function buildSpec(
  name: string,
  spec: Written<'specs'>,
  points: ReadonlyMap<string, Point>,
  context: Context,
): Spec | null {
  const { report, id } = context;
  const path = ['specs', name];
  const declared = spec.quantity === undefined ? null : kindOf(spec.quantity, [...path, 'quantity'], report);
  const pointRef =
    spec.point === undefined ? null : spec.point.includes('.') ? spec.point : `${id}.${spec.point}`;
  // A point of another system is looked up later; its kind is then held against the claim's.
  const local =
    pointRef?.startsWith(`${id}.`) === true ? points.get(pointRef.slice(id.length + 1)) : undefined;
  const claim = specClaim(spec, declared ?? local?.kind ?? null, [...path, 'value'], report);
  const againEvery = intervalOf(spec['again-every'], [...path, 'again-every'], report);
  const since = dayOf(spec.since, [...path, 'since'], report);
  if (claim === null) return null;
  const means = spec.means ?? 'about';
  const within = spec.within === undefined ? undefined : String(spec.within);
  return {
    ...base(name, spec.title, 'specs', context),
    claim,
    basis: spec.basis,
    source: spec.source ?? null,
    since,
    ...(claim.type === 'text'
      ? { band: null, allowance: EXACT }
      : bandOf(name, claim.quantity, within, means, path, report)),
    bandWritten: bandInWords(claim, within, means),
    means,
    point: pointRef,
    needs: spec.needs ?? (claim.type === 'text' ? 'marked' : 'measured'),
    againEvery,
    checkBy: spec['check-by'] ?? null,
  };
}

/**
 * Whether a value that may be a number or a text is a text. `2 x TL-200` begins like a number but is none;
 * `400 Ahh` is a slip, since a known unit is near.
 */
function isPlainText(value: string): boolean {
  if (!looksLikeQuantity(value)) return true;
  const result = parseQuantity(value);
  if (result.ok || result.problem.code !== 'unknown-unit') return false;
  const { offset, length, choices } = result.problem;
  return nearest(value.slice(offset, offset + length), choices) === null;
}

/** A spec is a number where anything about it says so; else it is a text. */
function specClaim(
  spec: Written<'specs'>,
  kind: Kind | null,
  path: Place['path'],
  report: Report,
): Claim | null {
  const numeric =
    kind !== null ||
    typeof spec.value === 'number' ||
    spec.within !== undefined ||
    spec.means !== undefined ||
    spec.point !== undefined;
  if (!numeric && typeof spec.value === 'string' && isPlainText(spec.value))
    return { type: 'text', text: spec.value };
  const quantity = quantityOf(spec.value, kind, path, report);
  return quantity === null ? null : { type: 'quantity', quantity };
}

type Allowance = Spec['allowance'];

/** How far a value may lie from the claim: as `within` says, else the claim's own ±; null where neither is given. */
function allowanceOf(
  claim: Quantity,
  within: string | undefined,
  path: Place['path'],
  report: Report,
): Allowance | null | 'wrong' {
  if (within === undefined)
    return claim.siUncertainty === null ? null : { share: 0, amount: claim.siUncertainty };
  const parsed = parseWithin(within, claim.kind);
  if (parsed.ok) return { share: parsed.within.share, amount: parsed.within.amount };
  report(withinSaid(parsed.problem, within), [...path, 'within']);
  return 'wrong';
}

const EXACT: Allowance = { share: 0, amount: 0 };

function bandOf(
  name: string,
  claim: Quantity,
  within: string | undefined,
  means: Spec['means'],
  path: Place['path'],
  report: Report,
): { readonly band: Band | null; readonly allowance: Allowance } {
  const given = allowanceOf(claim, within, path, report);
  if (given === 'wrong') return { band: null, allowance: EXACT };
  if (given === null && means === 'about') {
    report(m.specWithoutBand(name), [...path, 'value']);
    return { band: null, allowance: EXACT };
  }
  const allowance = given ?? EXACT;
  const half = allowance.share * Math.abs(claim.si) + allowance.amount;
  const band: Band = {
    low: means === 'at-most' ? null : claim.si - half,
    high: means === 'at-least' ? null : claim.si + half,
    lowOpen: false,
    highOpen: false,
  };
  return { band, allowance };
}

function bandInWords(claim: Claim, within: string | undefined, means: Spec['means']): string | null {
  if (claim.type === 'text') return null;
  const allowance = within === undefined ? null : `within ${within}`;
  if (means === 'about') return allowance ?? 'within its ±';
  const side = means === 'at-least' ? 'at least' : 'at most';
  return allowance === null ? side : `${side}, ${allowance}`;
}

/** A name that may stand alone inside its own system's file, in full. */
function inFull(name: string, system: string): string {
  return name.includes('.') ? name : `${system}.${name}`;
}

function buildDerived(name: string, derived: Written<'derived'>, context: Context): Derived | null {
  const path = ['derived', name];
  const kind = kindOf(derived.quantity, [...path, 'quantity'], context.report);
  if (kind === null) return null;
  return {
    ...base(name, derived.title, 'derived', context),
    from: derived.from,
    kind,
    unit: unitOf(kind, derived.unit, [...path, 'unit'], context.report),
    formula: null,
    uses: [],
    correlated: (derived.correlated ?? []).map(({ between: [a, b], by }) => ({
      between: [inFull(a, context.id), inFull(b, context.id)] as const,
      by,
    })),
  };
}

function buildTest(
  name: string,
  test: Written<'tests'>,
  points: ReadonlyMap<string, Point>,
  context: Context,
): TestProcedure {
  const path = ['tests', name];
  return {
    ...base(name, test.title, 'tests', context),
    requires: Object.entries(test.requires).flatMap(([reading, written]) => {
      const requirement = requirementOf(
        reading,
        written,
        points.get(reading) ?? null,
        [...path, 'requires', reading],
        context.report,
      );
      return requirement === null ? [] : [requirement];
    }),
    steps: test.steps ?? [],
    hazards: test.hazards ?? [],
    againEvery: intervalOf(test['again-every'], [...path, 'again-every'], context.report),
  };
}

function buildUpkeep(name: string, upkeep: Written<'upkeep'>, context: Context): Upkeep {
  const { report, id } = context;
  const path = ['upkeep', name];
  const written = (Array.isArray(upkeep.every) ? upkeep.every : [upkeep.every]).map(String);
  const isHours = (text: string) => /\bh$/.test(text.trim());
  const hours = written.findIndex(isHours);
  const calendar = written.findIndex((text) => !isHours(text));
  const at = (index: number): Place['path'] =>
    Array.isArray(upkeep.every) ? [...path, 'every', index] : [...path, 'every'];
  const second = written.findIndex((text, index) => index > 0 && isHours(text) === isHours(written[0] ?? ''));
  if (second >= 0) report(m.intervalTwice(), at(second));
  if (hours >= 0 && upkeep.meter === undefined) report(m.missingField('meter', 'engine.hours'), path);
  const { title: _title, ...named } = base(name, undefined, 'upkeep', context);
  return {
    ...named,
    what: upkeep.what,
    every: calendar < 0 ? null : intervalOf(written[calendar], at(calendar), report),
    everyHours: hours < 0 ? null : quantityOf(written[hours] ?? '', 'time', at(hours), report),
    meter:
      upkeep.meter === undefined ? null : upkeep.meter.includes('.') ? upkeep.meter : `${id}.${upkeep.meter}`,
    everyWritten: written.join(' or '),
    counts: upkeep.counts ?? 'from-done',
    safety: upkeep.safety ?? false,
    hazards: upkeep.hazards ?? [],
  };
}
