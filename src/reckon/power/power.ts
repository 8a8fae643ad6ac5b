import type { PowerPlanFile } from '../../../schemas/power-plan.js';
import type { CheckedBook } from '../../check/model.js';
import { planReader } from '../plan-values.js';
import { exactly, figureOf, larger, quotient, restsOf, sumOf, type Uncertain } from '../uncertain.js';
import type { Values } from '../values.js';
import { cutsOf, type Span } from './day.js';
import { type Filling, fillingOf, ownTime } from './filling.js';
import type { LoadCase, PowerCase, PowerReckoning } from './model.js';
import {
  type Plan,
  type PlanCase,
  type PlanLoad,
  type PlanSource,
  readPowerPlan,
  runsIn,
  useOf,
} from './plan.js';
import { energyOf, energyOfAll, profileOf, type Unknown, type Working } from './profile.js';
import { type Duty, fuelOf, sourceCase } from './source-case.js';
import { type StoreOutcome, storeCase } from './store-case.js';
import { CONVENTIONS, type Telling, worstFirst, worstVerdict } from './words.js';

/**
 * Reckons the power plan: whether each case works, and why.
 *
 * @param book the book as it stood on the day; what an audience does not see is not in it.
 * @param values the values in force on that day, or supposed ones.
 * @returns null for a book without a power plan.
 */
export function reckonPower(book: CheckedBook, values: Values): PowerReckoning | null {
  const file = book.plans.power;
  return file === null ? null : reckonPowerPlan(file, book, values);
}

function reckonPowerPlan(file: PowerPlanFile, book: CheckedBook, values: Values): PowerReckoning {
  const plan = readPowerPlan(file, planReader(book.systems, values, 'exact'));
  const telling: Telling = { values, display: book.display };
  return {
    title: plan.title,
    conventions: CONVENTIONS,
    cases: plan.cases.map((one) => caseOf(plan, one, telling)),
  };
}

/** What goes on in one case. */
interface Scene {
  readonly plan: Plan;
  readonly one: PlanCase;
  readonly working: readonly Working[];
  readonly unknown: readonly Unknown[];
  /** Pieces of the day in which nothing changes. */
  readonly pieces: readonly Span[];
}

function caseOf(plan: Plan, one: PlanCase, telling: Telling): PowerCase {
  const scene = sceneOf(plan, one);
  const stores = plan.stores.map((store) => storeOf(scene, store, telling));
  const duties = plan.sources.map((source) => dutyOf(scene, source, stores));
  const sources = duties.map((duty) => sourceCase(duty, scene.pieces, telling));
  const reasons = worstFirst([...sources, ...stores].flatMap((found) => found.reasons));
  const { values } = telling;
  const fuels = duties.filter(({ absent }) => !absent).flatMap((duty) => fuelOf(duty) ?? []);
  return {
    id: one.id,
    title: one.title,
    about: one.about,
    days: one.days && figureOf(one.days, 'd', values),
    verdict: worstVerdict(reasons.map(({ verdict }) => verdict)),
    reasons,
    assumes: assumptions(scene),
    profile: profileOf(scene.working, scene.pieces, true, values),
    energy: figureOf(energyOfAll(scene.working), 'Wh', values),
    loads: [...scene.working, ...scene.unknown].map((found) => loadCase(found, values)),
    sources: sources.map(({ result }) => result),
    stores: stores.map(({ result }) => result),
    fuel: fuels.length === 0 ? null : figureOf(sumOf('volume', fuels), 'L', values),
    restsOn: restsOf(
      reasons.flatMap(({ restsOn }) => restsOn.map(({ ref }) => ref)),
      values,
    ),
  };
}

/** Sorts the loads of a case into those that are known and those that are not, and cuts the day. */
function sceneOf(plan: Plan, one: PlanCase): Scene {
  const working: Working[] = [];
  const unknown: Unknown[] = [];
  for (const load of plan.loads) {
    const use = useIn(plan, one, load);
    if (use === undefined || use.hours.si <= 0) continue;
    const gaps = use.gap === null ? load.gaps : [...load.gaps, use.gap];
    const { running: active, apparent } = load;
    if (active === null || apparent === null || gaps.length > 0) unknown.push({ load, use, gaps });
    else working.push({ load, use, active, apparent });
  }
  const spans = [...working, ...unknown].flatMap(({ use }) => use.spans);
  const runs = plan.sources.flatMap((source) => runsIn(source, one.id).spans);
  return { plan, one, working, unknown, pieces: cutsOf([...spans, ...runs]) };
}

/** A load that may run at any time runs when its source does. */
function useIn(plan: Plan, one: PlanCase, load: PlanLoad) {
  const use = load.uses.get(one.id);
  const source = plan.sources.find(({ id }) => id === load.from);
  if (use === undefined || use.declared || source === undefined) return use;
  return useOf(use.hours, runsIn(source, one.id).spans, false, load.title);
}

const fedBy =
  (id: string) =>
  ({ load }: { readonly load: PlanLoad }): boolean =>
    load.from === id;

function isThere({ one }: Scene, source: PlanSource): boolean {
  return !one.without.has(source.id);
}

/** A store with what draws on it, directly and through sources, and what charges it. */
function storeOf(scene: Scene, store: Plan['stores'][number], telling: Telling): StoreOutcome {
  const { plan, one, working, unknown, pieces } = scene;
  const through = plan.sources.filter((source) => source.drains === store.id && isThere(scene, source));
  const drawn = [
    ...working.filter(fedBy(store.id)),
    ...through.flatMap((source) =>
      working.filter(fedBy(source.id)).map((found) => ({
        ...found,
        active: quotient('power', found.active, source.efficiency),
      })),
    ),
  ];
  const feeds = [store.id, ...through.map(({ id }) => id)];
  const chargers = plan.sources.filter((source) => source.fills.includes(store.id) && isThere(scene, source));
  const fillings = chargers.map((source) => chargerOf(scene, source));
  return storeCase(
    {
      store,
      one,
      drawn,
      unknown: unknown.filter(({ load }) => feeds.includes(load.from)).map(({ load }) => load),
      fillings: fillings.filter((filling) => filling !== null),
      unrated: chargers.filter((_, n) => fillings[n] === null),
    },
    pieces,
    telling,
  );
}

/** What a source can do for stores; null where it cannot be told. */
function chargerOf({ working, unknown, pieces, one }: Scene, source: PlanSource): Filling | null {
  const untold =
    source.gaps.length > 0 || unknown.some(fedBy(source.id)) || runsIn(source, one.id).gap !== null;
  return untold ? null : fillingOf(source, working.filter(fedBy(source.id)), pieces, one);
}

function dutyOf(scene: Scene, source: PlanSource, stores: readonly StoreOutcome[]): Duty {
  const working = scene.working.filter(fedBy(source.id));
  const runs = runsIn(source, scene.one.id);
  const own = ownTime(working, scene.pieces);
  const charging = stores.flatMap(({ seconds }) => seconds.get(source.id) ?? []);
  const absent = !isThere(scene, source);
  return {
    source,
    absent,
    working,
    unknown: scene.unknown.filter(fedBy(source.id)),
    runs,
    own,
    gaps: runs.gap === null ? [] : [runs.gap],
    seconds: absent || source.drains !== null ? null : larger(own, allOf(charging)),
  };
}

function allOf(times: readonly Uncertain<'time'>[]): Uncertain<'time'> {
  return times.length === 0 ? exactly('time', 0) : sumOf('time', times);
}

function loadCase(found: Working | Unknown, values: Values): LoadCase {
  const { load, use } = found;
  const { running, starting, apparent } = load;
  return {
    id: load.id,
    title: load.title,
    system: load.system,
    from: load.from,
    hours: figureOf(use.hours, 'h', values),
    spans: use.spans,
    declared: use.declared,
    running: running && figureOf(running, 'W', values),
    starting: starting && figureOf(starting, 'W', values),
    apparent: apparent && figureOf(apparent, 'VA', values),
    energy: running && figureOf(energyOf({ active: running, use }), 'Wh', values),
    shed: load.shed,
  };
}

/** What is taken for granted in a case since the plan does not say it. */
function assumptions(scene: Scene): readonly string[] {
  const { plan, working } = scene;
  const sources = plan.sources.filter((source) => isThere(scene, source));
  const feeding = (source: PlanSource) => working.some(fedBy(source.id));
  const lossless = sources.filter(
    (source) => source.drains !== null && !source.efficiencyStated && feeding(source),
  );
  const bare = sources
    .filter((source) => source.apparent !== 'unlimited')
    .flatMap((source) => working.filter(fedBy(source.id)))
    .filter(({ load }) => !load.factorStated)
    .map(({ load }) => load.title);
  const shared = sources.filter((source) => source.fills.length > 1);
  return [
    ...plan.stores.flatMap((store) => store.assumes),
    ...lossless.map((source) => `${source.title} loses nothing.`),
    ...bare.map((title) => `${title} has a power factor of 1.`),
    ...shared.map((source) => `${source.title} charges each of its stores as if it were the only one.`),
  ];
}
