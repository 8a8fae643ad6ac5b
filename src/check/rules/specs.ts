import * as m from '../messages.js';
import type { Claim, Person, Spec } from '../model.js';
import { findRef, type Names } from '../names.js';
import { collector, type Problem, type Report } from '../problem.js';
import { findLoop } from './loop.js';

/** Specs: the point that proves one exists and measures the same kind, and what it needs can be had at all. */
export function checkSpecs(names: Names): readonly Problem[] {
  return [...names.systems.values()].flatMap((system) => {
    const { problems, report } = collector(system.file);
    for (const spec of system.specs.values()) {
      checkPoint(spec, names, report);
      checkNeeds(spec, names.people, report);
    }
    return problems;
  });
}

function checkPoint(spec: Spec, names: Names, report: Report): void {
  if (spec.point === null) return;
  const path = [...spec.place.path, 'point'];
  // Inside its own system a name stands alone, so it is looked for, and told of, by its full name.
  const point = findRef(names, 'point', spec.point, path, (said, at) => report(said, at));
  if (point === null) return;
  const kind = kindOfClaim(spec.claim);
  if (kind !== point.kind) {
    const stated = kind === null ? 'a text' : `of the kind ${kind}`;
    report(
      m.wrongKind(
        `\`${spec.ref}\` is ${stated}, but its point \`${point.ref}\` measures ${point.kind}.`,
        'Name a point of the same kind, or correct the value.',
      ),
      path,
    );
  }
}

function kindOfClaim(claim: Claim): string | null {
  return claim.type === 'quantity' ? claim.quantity.kind : null;
}

function checkNeeds(spec: Spec, people: ReadonlyMap<string, Person>, report: Report): void {
  const path = [...spec.place.path, 'needs'];
  if (spec.needs === 'witnessed' && ![...people.values()].some((person) => person.thirdParty)) {
    report(
      m.needsNeverMet(
        `\`${spec.ref}\` has to be witnessed, but nobody in book.yaml is a third party.`,
        'Mark the surveyor, yard or laboratory with `third-party: true`, or lower `needs`.',
      ),
      path,
    );
  }
}

/** Meters by which upkeep is counted: declared, here or in another system. */
export function checkUpkeepMeters(names: Names): readonly Problem[] {
  return [...names.systems.values()].flatMap((system) => {
    const { problems, report } = collector(system.file);
    for (const upkeep of system.upkeep.values()) {
      if (upkeep.meter !== null)
        findRef(names, 'meter', upkeep.meter, [...upkeep.place.path, 'meter'], report);
    }
    return problems;
  });
}

/** Derived values that rest on themselves. */
export function checkDerivedLoops(names: Names): readonly Problem[] {
  const next = (ref: string) => names.derived.get(ref)?.uses.filter((used) => names.derived.has(used)) ?? [];
  return findLoop([...names.derived.keys()], next).map((loop) => {
    const place = names.derived.get(loop[0] ?? '')?.place ?? { file: '', path: [] };
    return { ...m.cycleRestsOn(loop), at: { file: place.file, path: [...place.path, 'from'] } };
  });
}
