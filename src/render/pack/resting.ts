import type { Standing } from '../../reckon/model.js';
import type { Link } from '../links.js';
import type { Site } from '../site-context.js';
import { specRow } from '../spec-row.js';
import { type Branch, shownDependent } from '../stakes.js';

/** What rests on specs that are not verified, worst first: what a claim that falls would take with it. */

export interface RestingRow {
  readonly spec: Link;
  readonly system: Link;
  readonly standing: Standing;
  readonly stated: string;
  /** How far from it still agrees; null for a text. */
  readonly band: string | null;
  /** What was found in its place; null where nothing was. */
  readonly found: string | null;
  /** Everything that rests on it, nearest first. */
  readonly dependents: readonly Omit<Branch, 'below'>[];
  /** Money and hours, as far as they are shown to this reader. */
  readonly stake: readonly string[];
  readonly next: string;
}

/** A row for each spec that is not verified and on which something rests. */
export function restingRows(site: Site): readonly RestingRow[] {
  const { reckoning, top: links, stakes } = site;
  return reckoning.exposures.flatMap(({ spec, dependents, next }): RestingRow[] => {
    const state = reckoning.specs.get(spec);
    if (state === undefined || dependents.length === 0) return [];
    const row = specRow(site, links, state);
    const stake = stakes.get(spec)?.stake;
    return [
      {
        spec: row.spec,
        system: row.system,
        standing: state.standing,
        stated: row.stated,
        band: row.band,
        found: row.found?.value.text ?? null,
        dependents: dependents.map((dependent) => shownDependent(site, links, dependent)),
        stake: [...(stake?.money ?? []), stake?.hours ?? null].filter((part) => part !== null),
        next,
      },
    ];
  });
}
