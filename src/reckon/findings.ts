import type { CheckedBook, Claim, Hazard, Uncertainty } from '../check/model.js';
import { printQuantity, type Quantity } from '../quantity/index.js';
import { addInterval } from './calendar.js';
import type { Exposure } from './exposure.js';
import { type FittedSince, fittedAfter, lackOf, type Thing } from './fitted-since.js';
import { dangersInUse, type FindingRule, GRADES, type Grade, gradeBy } from './grading.js';
import { instrumentCaveat } from './instruments.js';
import { printMeasured } from './measured.js';
import type {
  DecisionState,
  ItemState,
  PartState,
  RequirementResult,
  SpecState,
  TestState,
  Timeline,
} from './model.js';
import type { Dependent } from './reliance.js';
import { limitsTold } from './timelines.js';
import type { UpkeepState } from './upkeep.js';

/** Why something is found: a fact of the record, and the rule by which it is graded. */
export interface Ground {
  readonly rule: FindingRule;
  readonly grade: Grade;
  readonly about: { readonly sort: 'spec' | 'point' | 'test' | 'upkeep' | 'item'; readonly id: string };
  /** What it is about, in the words of the book. */
  readonly title: string;
  /** The evidence in a sentence; days in it are `YYYY-MM-DD`. */
  readonly says: string;
  /** Day and entry of the evidence; null where it is that nothing was ever done. */
  readonly date: string | null;
  readonly entry: string | null;
  /** Dangers of the system, or of the test or upkeep, that raised the grade. */
  readonly raisedBy: readonly Hazard[];
  /** Parts of the system that were fitted after the evidence; null where there are none, or where that is no matter. */
  readonly fittedSince: FittedSince | null;
}

/** Something to be settled, told once whatever number of facts show it. */
export interface Finding {
  readonly grade: Grade;
  readonly system: string;
  /** The one that decides the grade first. */
  readonly grounds: readonly [Ground, ...Ground[]];
}

/** What findings are gathered from: of each state as much as they look at. */
export interface FindingFacts {
  readonly asOf: string;
  readonly book: Pick<CheckedBook, 'systems' | 'display' | 'instruments'>;
  readonly specs: ReadonlyMap<string, Pick<SpecState, 'spec' | 'standing' | 'deciding' | 'because'>>;
  readonly tests: ReadonlyMap<string, Pick<TestState, 'test' | 'last'>>;
  readonly timelines: ReadonlyMap<string, Pick<Timeline, 'point' | 'last'>>;
  /** That for safety, at least. */
  readonly upkeep: ReadonlyMap<string, UpkeepState>;
  readonly items: ReadonlyMap<string, ItemState>;
  readonly parts: ReadonlyMap<string, Pick<PartState, 'now' | 'moves'>>;
  readonly decisions: ReadonlyMap<string, Pick<DecisionState, 'undoneBy'>>;
  /** Of the specs that are contradicted, at least. */
  readonly exposures: readonly Pick<Exposure, 'spec' | 'dependents'>[];
}

type FittedAfter = ReturnType<typeof fittedAfter>;

/** A ground before it is put together with those of the same fact. */
interface Fact extends Ground {
  readonly system: string;
  /** Points and specs that it speaks of: facts that share one are one finding. */
  readonly speaksOf: readonly string[];
}

/**
 * What a surveyor would list of a book, graded by the rules of `grading.ts`: tests that failed, limits that are
 * crossed, specs that are contradicted, upkeep and work that safety hangs on, open defects, and checks out of
 * date where that is dangerous. Facts that speak of the same point or spec are one finding, which takes the
 * highest of their grades; work that rests on such a point or spec is told with it.
 *
 * @returns the most pressing first, then in the order of the systems, then the newest first.
 */
export function findings(facts: FindingFacts): readonly Finding[] {
  const order = [...facts.book.systems.keys()];
  const fitted = fittedAfter(facts.parts);
  return together([
    ...failedTests(facts, fitted),
    ...crossedLimits(facts, fitted),
    ...falseSpecs(facts, fitted),
    ...overdueUpkeep(facts),
    ...lapsedChecks(facts),
    ...openWork(facts),
  ]).sort(
    (a, b) =>
      GRADES.indexOf(a.grade) - GRADES.indexOf(b.grade) ||
      order.indexOf(a.system) - order.indexOf(b.system) ||
      compare(b.grounds[0].date ?? '', a.grounds[0].date ?? '') ||
      compare(a.grounds[0].about.id, b.grounds[0].about.id),
  );
}

function together(facts: readonly Fact[]): Finding[] {
  const groups: Fact[][] = [];
  const groupOf = new Map<string, Fact[]>();
  for (const fact of facts) {
    const known = fact.speaksOf.find((ref) => groupOf.has(ref));
    const group = (known === undefined ? undefined : groupOf.get(known)) ?? [];
    if (group.length === 0) groups.push(group);
    group.push(fact);
    // Work that rests on several things is told with the first of them and does not make them one.
    for (const ref of fact.speaksOf)
      if (!groupOf.has(ref) && fact.about.sort !== 'item') groupOf.set(ref, group);
  }
  return groups.map((group) => {
    const [first, ...rest] = [...group].sort((a, b) => GRADES.indexOf(a.grade) - GRADES.indexOf(b.grade));
    const decides = first as Fact;
    return {
      grade: decides.grade,
      system: decides.system,
      grounds: [groundOf(decides), ...rest.map(groundOf)],
    };
  });
}

function groundOf({ system: _, speaksOf: __, ...ground }: Fact): Ground {
  return ground;
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function dangers({ book }: FindingFacts, system: string, more: readonly Hazard[] = []): readonly Hazard[] {
  return dangersInUse([...(book.systems.get(system)?.hazards ?? []), ...more]);
}

/** What a point, a spec or a test is about, by its words. */
function thing(
  { book }: FindingFacts,
  { system, name, title }: { readonly system: string; readonly name: string; readonly title: string },
): Thing {
  return { system, called: [name, title, system, book.systems.get(system)?.title ?? ''] };
}

function failedTests(facts: FindingFacts, fitted: FittedAfter): Fact[] {
  return [...facts.tests.values()].flatMap(({ test, last }): Fact[] => {
    if (last?.outcome !== 'fail') return [];
    const failed = last.results.filter(({ outcome }) => outcome === 'fail');
    const raisedBy = dangers(facts, test.system, test.hazards);
    const points = test.requires.flatMap((required) =>
      required.type === 'band' && required.point !== null && failed.some(({ name }) => name === required.name)
        ? [required.point]
        : [],
    );
    return [
      {
        rule: 'failed-test',
        grade: gradeBy('failed-test', raisedBy),
        about: { sort: 'test', id: test.ref },
        title: test.title,
        says: `Failed on ${last.run.date}: ${failed.map((one) => missed(facts, one)).join('; ')}${against(facts, last.run)}.`,
        date: last.run.date,
        entry: last.run.entry,
        raisedBy,
        fittedSince: fitted(thing(facts, test), last.run.date, 'tested'),
        system: test.system,
        speaksOf: points,
      },
    ];
  });
}

function missed(facts: FindingFacts, { name, required, value, uncertainty }: RequirementResult): string {
  const read = value === null ? 'nothing' : found(facts, value, uncertainty);
  return `${name.replaceAll('-', ' ')} ${read}, required ${required.replaceAll('>=', '≥').replaceAll('<=', '≤')}`;
}

function shown({ book }: FindingFacts, claim: Claim): string {
  return claim.type === 'text' ? `“${claim.text}”` : printQuantity(claim.quantity, book.display);
}

/** What was found, with the ± by which it was judged. */
function found({ book }: FindingFacts, claim: Claim, uncertainty: Uncertainty): string {
  return claim.type === 'text' ? `“${claim.text}”` : printMeasured(claim.quantity, uncertainty, book.display);
}

/** What is against the instrument by which it is found, to go behind the value. */
function against(
  { book }: FindingFacts,
  taken: { readonly with: string | null; readonly date: string },
): string {
  const caveat = instrumentCaveat(book.instruments, taken);
  return caveat === null ? '' : `, ${caveat}`;
}

function crossedLimits(facts: FindingFacts, fitted: FittedAfter): Fact[] {
  return [...facts.timelines.values()].flatMap(({ point, last }): Fact[] => {
    if (last?.limit !== 'outside') return [];
    const { quantity, uncertainty, date, entry } = last.reading;
    const raisedBy = dangers(facts, point.system);
    const print = (value: Quantity) => printQuantity(value, facts.book.display);
    return [
      {
        rule: 'limit-crossed',
        grade: gradeBy('limit-crossed', raisedBy),
        about: { sort: 'point', id: point.ref },
        title: point.title,
        says: `${printMeasured(quantity, uncertainty, facts.book.display)} on ${date}${against(facts, last.reading)}; it should be ${limitsTold(point, print).join(' and ')}.`,
        date,
        entry,
        raisedBy,
        fittedSince: fitted(thing(facts, point), date, 'measured'),
        system: point.system,
        speaksOf: [point.ref],
      },
    ];
  });
}

function falseSpecs(facts: FindingFacts, fitted: FittedAfter): Fact[] {
  const exposed = new Map(facts.exposures.map(({ spec, dependents }) => [spec, dependents]));
  return [...facts.specs.values()].flatMap(({ spec, standing, deciding }): Fact[] => {
    if (standing !== 'contradicted' || deciding === null) return [];
    const rule = spec.means === 'about' ? 'false-claim' : 'false-limit';
    const rests = (exposed.get(spec.ref) ?? []).some((dependent) => isStanding(dependent, facts));
    const raisedBy = dangers(facts, spec.system);
    const stated = `${spec.means === 'about' ? '' : `${spec.means.replace('-', ' ')} `}${shown(facts, spec.claim)}`;
    return [
      {
        rule,
        grade: gradeBy(rule, raisedBy, rule === 'false-claim' && rests),
        about: { sort: 'spec', id: spec.ref },
        title: spec.title,
        says: `Stated ${stated}; ${deciding.basis} on ${deciding.date}: ${found(facts, deciding.value, deciding.uncertainty)}${against(facts, deciding)}.`,
        date: deciding.date,
        entry: deciding.entry,
        raisedBy,
        fittedSince: fitted(thing(facts, spec), deciding.date, lackOf(deciding.basis)),
        system: spec.system,
        speaksOf: spec.point === null ? [spec.ref] : [spec.ref, spec.point],
      },
    ];
  });
}

/** Whether something that rests on a spec still counts: a job that is done and a decision taken back do not. */
function isStanding({ sort, id }: Dependent, { items, decisions, parts }: FindingFacts): boolean {
  if (sort === 'item') return items.get(id)?.status !== 'done';
  if (sort === 'decision') return decisions.get(id)?.undoneBy === null;
  if (sort === 'part') return ['ordered', 'ashore', 'fitted'].includes(parts.get(id)?.now ?? '');
  return true;
}

function overdueUpkeep(facts: FindingFacts): Fact[] {
  return [...facts.upkeep.values()].flatMap((state): Fact[] => {
    const { upkeep, done, because } = state;
    if (!upkeep.safety || !(state.overdueByDate || state.overdueByHours)) return [];
    const raisedBy = dangers(facts, upkeep.system, upkeep.hazards);
    return [
      {
        rule: 'safety-upkeep',
        grade: gradeBy('safety-upkeep', raisedBy),
        about: { sort: 'upkeep', id: upkeep.ref },
        title: upkeep.what,
        says: because,
        date: done[0]?.date ?? null,
        entry: done[0]?.entry ?? null,
        raisedBy: [],
        fittedSince: null,
        system: upkeep.system,
        speaksOf: [],
      },
    ];
  });
}

/** Checks and tests out of date in systems that can hurt somebody in use; a test that failed is told already. */
function lapsedChecks(facts: FindingFacts): Fact[] {
  const specs = [...facts.specs.values()].flatMap(({ spec, standing, deciding, because }): Fact[] => {
    const raisedBy = dangers(facts, spec.system);
    if (standing !== 'lapsed' || raisedBy.length === 0) return [];
    return [
      {
        rule: 'lapsed',
        grade: gradeBy('lapsed', raisedBy),
        about: { sort: 'spec', id: spec.ref },
        title: spec.title,
        says: because,
        date: deciding?.date ?? null,
        entry: deciding?.entry ?? null,
        raisedBy,
        fittedSince: null,
        system: spec.system,
        speaksOf: spec.point === null ? [spec.ref] : [spec.ref, spec.point],
      },
    ];
  });
  const tests = [...facts.tests.values()].flatMap(({ test, last }): Fact[] => {
    const raisedBy = dangers(facts, test.system, test.hazards);
    if (raisedBy.length === 0 || test.againEvery === null || last === null || last.outcome === 'fail')
      return [];
    const due = addInterval(last.run.date, test.againEvery);
    if (due >= facts.asOf) return [];
    return [
      {
        rule: 'lapsed',
        grade: gradeBy('lapsed', raisedBy),
        about: { sort: 'test', id: test.ref },
        title: test.title,
        says: `Last done on ${last.run.date}; it was due again on ${due}.`,
        date: last.run.date,
        entry: last.run.entry,
        raisedBy,
        fittedSince: null,
        system: test.system,
        speaksOf: test.requires.flatMap((one) =>
          one.type === 'band' && one.point !== null ? [one.point] : [],
        ),
      },
    ];
  });
  return [...specs, ...tests];
}

function openWork(facts: FindingFacts): Fact[] {
  return [...facts.items.values()].flatMap(({ opened, status, overdue }): Fact[] => {
    if (status === 'done') return [];
    const rule = opened.safety ? 'safety-item' : opened.defect ? 'defect' : overdue ? 'overdue-item' : null;
    if (rule === null) return [];
    const raisedBy = rule === 'defect' ? dangers(facts, opened.system) : [];
    const by = opened.by === null ? '' : `, to be done by ${opened.by}`;
    return [
      {
        rule,
        grade: gradeBy(rule, raisedBy),
        about: { sort: 'item', id: opened.id },
        title: opened.what,
        says: `Open since ${opened.date}${by}; ${status}.`,
        date: opened.date,
        entry: opened.entry,
        raisedBy,
        fittedSince: null,
        system: opened.system,
        speaksOf: opened.restsOn,
      },
    ];
  });
}
