import { Parts } from '../../../site/templates/parts.js';
import { printQuantity } from '../../quantity/index.js';
import type { PartPlace, PartState } from '../../reckon/model.js';
import { type Link, type Links, paths } from '../links.js';
import { makePage } from '../make-page.js';
import type { Page } from '../page.js';
import type { Site } from '../site-context.js';
import { showMoney } from '../values.js';
import { MOVE_WORD } from '../words.js';

/** A part as a row. */
export interface PartRow {
  readonly id: string;
  readonly part: Link;
  readonly system: Link;
  readonly now: PartPlace;
  readonly since: string;
  readonly due: string | null;
  readonly late: boolean;
  readonly supplier: string | null;
  readonly leadDays: number | null;
  /** Days between the day that was promised and the one on which it came; null where it was in time. */
  readonly daysLate: number | null;
  readonly costs: readonly string[];
}

/** A part with all that happened to it. */
export interface PartDetail extends PartRow {
  readonly serial: string | null;
  readonly quantity: number | null;
  readonly mass: string | null;
  readonly restsOn: readonly Link[];
  readonly moves: readonly {
    readonly date: string;
    readonly move: string;
    readonly note: string | null;
    readonly entry: Link;
  }[];
}

/** All parts: what is on its way, then all by system. */
export interface PartsView {
  readonly onOrder: readonly PartRow[];
  readonly groups: readonly { readonly system: Link; readonly parts: readonly PartDetail[] }[];
  readonly total: number;
}

/** Makes the page of parts. */
export function partsPage(site: Site): Page {
  const links = site.top;
  const bySystem = new Map<string, PartState[]>();
  for (const part of site.reckoning.parts.values()) {
    const group = bySystem.get(part.system) ?? [];
    group.push(part);
    bySystem.set(part.system, group);
  }
  const systems = [...site.reckoning.book.systems.keys(), ...bySystem.keys()];
  const view = (): PartsView => ({
    onOrder: onOrder(site).map((part) => partRow(links, part)),
    groups: [...new Set(systems)]
      .filter((system) => bySystem.has(system))
      .map((system) => ({
        system: links.system(system),
        parts: (bySystem.get(system) ?? []).map((part) => partDetail(site, links, part)),
      })),
    total: site.reckoning.parts.size,
  });
  return makePage(site, { path: paths.parts, title: 'Parts', section: 'parts', template: Parts, view });
}

/** What is ordered and not here: late first, then by the day it is due. */
export function onOrder({ reckoning }: Site): PartState[] {
  const due = (part: PartState) => part.due ?? '9999';
  return [...reckoning.parts.values()]
    .filter((part) => part.now === 'ordered')
    .sort((a, b) => Number(b.late) - Number(a.late) || (due(a) < due(b) ? -1 : 1));
}

/** One part, with links as seen from a page. */
export function partRow(links: Links, part: PartState): PartRow {
  return {
    id: part.id,
    part: links.part(part.id),
    system: links.system(part.system),
    now: part.now,
    since: part.since,
    due: part.due,
    late: part.late,
    supplier: part.supplier,
    leadDays: part.leadDays,
    daysLate: part.cameLateDays,
    costs: part.costs.map(showMoney),
  };
}

/** One part in full, with links as seen from a page. */
export function partDetail(site: Site, links: Links, part: PartState): PartDetail {
  const mass = part.moves.findLast((move) => move.mass !== null)?.mass ?? null;
  return {
    ...partRow(links, part),
    serial: part.serial,
    quantity: part.moves.findLast((move) => move.quantity !== null)?.quantity ?? null,
    mass: mass === null ? null : printQuantity(mass, site.display),
    restsOn: part.restsOn.map(links.anything),
    moves: part.moves.map(({ date, move, note, entry }) => {
      return { date, move: MOVE_WORD[move], note, entry: links.entry(entry) };
    }),
  };
}
