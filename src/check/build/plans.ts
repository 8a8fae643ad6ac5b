import type { PowerPlanFile } from '../../../schemas/power-plan.js';
import type { WeightsPlanFile } from '../../../schemas/weights-plan.js';
import type { Kind } from '../../quantity/index.js';
import { parseQuantity } from '../../quantity/index.js';
import * as m from '../messages.js';
import type { Place } from '../model.js';
import { findSystem, findValueName, type Names } from '../names.js';
import { nearest } from '../nearest.js';
import { collector, type Problem, type Report } from '../problem.js';
import { readFormula } from './formula.js';
import { dayOf, intervalOf, quantityOf } from './values.js';

/** Checks of the plans: every value is of the kind it has to be, and every name leads somewhere. */

interface Context {
  readonly names: Names;
  readonly report: Report;
}

/** A value, or a formula over the book. */
function planValue(
  written: string | number | undefined,
  kind: Kind,
  path: Place['path'],
  { names, report }: Context,
): void {
  if (written === undefined) return;
  const number = typeof written === 'number' || parseQuantity(written).ok;
  if (number || (/^[-+−]?\s*[\d.]/.test(written) && !RECKONS.test(written)))
    quantityOf(written, kind, path, report);
  else readFormula(written, kind, null, names, path, report);
}

/** What a formula has and a value has not: a sign of multiplication, a bracket, a name, a sum. */
const RECKONS = /[*(]|[a-z]\.[a-z]|\s[-+/]\s/;

function planQuantity(
  written: string | number | undefined,
  kind: Kind,
  path: Place['path'],
  { report }: Context,
): void {
  if (written !== undefined) quantityOf(written, kind, path, report);
}

function common(
  of: { readonly system?: string | undefined; readonly 'rests-on'?: readonly string[] | undefined },
  path: Place['path'],
  { names, report }: Context,
): void {
  if (of.system !== undefined) findSystem(names, of.system, [...path, 'system'], report);
  for (const [index, ref] of (of['rests-on'] ?? []).entries())
    findValueName(names, ref, [...path, 'rests-on', index], report);
}

function named(
  sort: string,
  name: string,
  known: readonly string[],
  path: Place['path'],
  { report }: Context,
  part: 'key' | 'value' = 'value',
): void {
  if (!known.includes(name)) report(m.planName(sort, name, nearest(name, known)), path, { part });
}

/** Checks `plans/power.yaml`. */
export function checkPowerPlan(plan: PowerPlanFile, file: string, names: Names): readonly Problem[] {
  const { problems, report } = collector(file);
  const context: Context = { names, report };
  const sources = Object.keys(plan.sources ?? {});
  const stores = Object.keys(plan.stores ?? {});
  const cases = Object.keys(plan.cases);
  intervalOf(plan.review, ['review'], report);
  for (const [id, one] of Object.entries(plan.cases)) {
    planQuantity(one.days, 'time', ['cases', id, 'days'], context);
    planQuantity(one['charge-to'], 'ratio', ['cases', id, 'charge-to'], context);
    for (const [index, source] of (one.without ?? []).entries())
      named('source', source, sources, ['cases', id, 'without', index], context);
  }
  for (const [id, source] of Object.entries(plan.sources ?? {}))
    checkSource(source, ['sources', id], stores, cases, context);
  for (const [id, store] of Object.entries(plan.stores ?? {})) checkStore(store, ['stores', id], context);
  for (const [id, load] of Object.entries(plan.loads ?? {})) {
    const path = ['loads', id];
    common(load, path, context);
    named('source or store', load.from, [...sources, ...stores], [...path, 'from'], context);
    planValue(load.running, 'power', [...path, 'running'], context);
    planValue(load.starting, 'power', [...path, 'starting'], context);
    planQuantity(load['power-factor'], 'ratio', [...path, 'power-factor'], context);
    checkHours(load.uses, [...path, 'uses'], cases, context);
  }
  return problems;
}

function checkHours(
  uses: PlanLoad['uses'],
  path: Place['path'],
  cases: readonly string[],
  context: Context,
): void {
  for (const [use, of] of Object.entries(uses)) {
    named('case', use, cases, [...path, use], context, 'key');
    planQuantity(of.hours, 'time', [...path, use, 'hours'], context);
  }
}

type PlanLoad = NonNullable<PowerPlanFile['loads']>[string];
type Source = NonNullable<PowerPlanFile['sources']>[string];
type Store = NonNullable<PowerPlanFile['stores']>[string];

function checkSource(
  source: Source,
  path: Place['path'],
  stores: readonly string[],
  cases: readonly string[],
  context: Context,
): void {
  common(source, path, context);
  planValue(source.continuous, 'power', [...path, 'continuous'], context);
  planValue(source.apparent, 'apparent-power', [...path, 'apparent'], context);
  planValue(source['short-time']?.power, 'power', [...path, 'short-time', 'power'], context);
  planQuantity(source['short-time']?.for, 'time', [...path, 'short-time', 'for'], context);
  planQuantity(source.derate, 'ratio', [...path, 'derate'], context);
  planQuantity(source.efficiency, 'ratio', [...path, 'efficiency'], context);
  planValue(source.fuel, 'volume-flow', [...path, 'fuel'], context);
  checkHours(source.runs ?? {}, [...path, 'runs'], cases, context);
  for (const [index, store] of (source.fills ?? []).entries())
    named('store', store, stores, [...path, 'fills', index], context);
  if (source.drains !== undefined) named('store', source.drains, stores, [...path, 'drains'], context);
}

function checkStore(store: Store, path: Place['path'], context: Context): void {
  common(store, path, context);
  planValue(store.capacity, 'charge', [...path, 'capacity'], context);
  planQuantity(store.voltage, 'voltage', [...path, 'voltage'], context);
  planQuantity(store.usable, 'ratio', [...path, 'usable'], context);
  planQuantity(store['charging-voltage'], 'voltage', [...path, 'charging-voltage'], context);
  planQuantity(store['charge-efficiency'], 'ratio', [...path, 'charge-efficiency'], context);
  for (const [index, step] of (store.acceptance ?? []).entries()) {
    planQuantity(step.at, 'ratio', [...path, 'acceptance', index, 'at'], context);
    planValue(step.current, 'current', [...path, 'acceptance', index, 'current'], context);
  }
}

const HYDROSTATIC_KINDS = {
  length: 'length',
  'aft-mark': 'length',
  displacement: 'mass',
  'draught-fwd': 'length',
  'draught-aft': 'length',
  tpc: 'immersion',
  mctc: 'trim-moment',
  lcf: 'length',
  lcg: 'length',
  kg: 'length',
  gm: 'length',
} as const satisfies Partial<Record<keyof NonNullable<WeightsPlanFile['hydrostatics']>, Kind>>;

/** Checks `plans/weights.yaml`. */
export function checkWeightsPlan(plan: WeightsPlanFile, file: string, names: Names): readonly Problem[] {
  const { problems, report } = collector(file);
  const context: Context = { names, report };
  const water = plan.hydrostatics;
  if (water !== undefined) {
    const path = ['hydrostatics'];
    common({ 'rests-on': water['rests-on'] }, path, context);
    dayOf(water.on, [...path, 'on'], report);
    for (const [field, kind] of Object.entries(HYDROSTATIC_KINDS)) {
      planQuantity(water[field as keyof typeof HYDROSTATIC_KINDS], kind, [...path, field], context);
    }
    planQuantity(water.valid['mass-change'], 'ratio', [...path, 'valid', 'mass-change'], context);
    planQuantity(water.valid['trim-change'], 'length', [...path, 'valid', 'trim-change'], context);
    planQuantity(water.valid.heel, 'angle', [...path, 'valid', 'heel'], context);
  }
  for (const [id, weight] of Object.entries(plan.weights ?? {})) {
    const path = ['weights', id];
    common(weight, path, context);
    dayOf(weight.since, [...path, 'since'], report);
    planQuantity(weight.mass, 'mass', [...path, 'mass'], context);
    for (const [axis, value] of weight.at.entries())
      planQuantity(value, 'length', [...path, 'at', axis], context);
  }
  return problems;
}
