import { substitute } from '../../quantity/index.js';
import type { System } from '../model.js';
import { findValueName, type Names } from '../names.js';
import { collector, type Problem } from '../problem.js';
import { fullName, readFormula } from './formula.js';

/**
 * Second pass over the systems, when all names are known: formulas are read and specs held against points
 * of other systems.
 *
 * @returns the systems with the `uses` of every derived value filled in.
 */
export function linkSystems(names: Names): {
  readonly systems: ReadonlyMap<string, System>;
  readonly problems: readonly Problem[];
} {
  const problems: Problem[] = [];
  const systems = new Map<string, System>();
  for (const system of names.systems.values()) {
    const { problems: found, report } = collector(system.file);
    const derived = new Map(
      [...system.derived].map(([name, value]) => {
        const path = [...value.place.path, 'from'];
        const local = readFormula(value.from, value.kind, system.id, names, path, report);
        for (const [index, { between }] of value.correlated.entries()) {
          for (const [side, ref] of between.entries())
            findValueName(names, ref, [...value.place.path, 'correlated', index, 'between', side], report);
        }
        const formula = local === null ? null : substitute(local, (used) => fullName(used, system.id));
        return [name, { ...value, formula, uses: formula?.names ?? [] }] as const;
      }),
    );
    systems.set(system.id, { ...system, derived });
    problems.push(...found);
  }
  return { systems, problems };
}
