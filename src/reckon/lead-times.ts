import type { PartMove } from '../check/model.js';
import { addDays, daysBetween } from './calendar.js';
import type { PartState } from './model.js';
import { quantile } from './quantile.js';

/** How long a supplier takes, from order to arrival. */
export interface LeadTime {
  readonly supplier: string;
  /** Deliveries on record. */
  readonly count: number;
  /** Days; null under three deliveries, which tell nothing. */
  readonly median: number | null;
  readonly ninety: number | null;
  /** Deliveries that came after their due date, of those that had one. */
  readonly late: number;
  readonly promised: number;
}

/** Fewest deliveries from which a lead time is told. */
export const ENOUGH_DELIVERIES = 3;

/** One delivery: a part that was ordered and came. */
interface Delivery {
  readonly days: number;
  /** Whether it came later than promised; null where nothing was. */
  readonly late: boolean | null;
}

/** Lead times by supplier: median and 90th percentile (type 7), with the count; most deliveries first. */
export function leadTimes(parts: Iterable<PartState>): readonly LeadTime[] {
  const bySupplier = new Map<string, Delivery[]>();
  for (const part of parts) {
    for (const [supplier, delivery] of deliveries(part)) {
      const list = bySupplier.get(supplier);
      if (list === undefined) bySupplier.set(supplier, [delivery]);
      else list.push(delivery);
    }
  }
  return [...bySupplier]
    .map(([supplier, came]) => leadTime(supplier, came))
    .sort((a, b) => b.count - a.count || (a.supplier < b.supplier ? -1 : 1));
}

/** Every delivery of a part, by supplier: one that is ordered again under the same name comes again. */
function* deliveries({ moves, supplier: known }: PartState): Generator<readonly [string, Delivery]> {
  let order: PartMove | null = null;
  for (const move of moves) {
    if (move.move === 'ordered') order = move;
    if (move.move !== 'arrived' || order === null) continue;
    const supplier = order.supplier ?? move.supplier ?? known;
    const due = move.due ?? order.due;
    const days = daysBetween(order.date, move.date);
    if (supplier !== null) yield [supplier, { days, late: due === null ? null : move.date > due }];
    order = null;
  }
}

function leadTime(supplier: string, came: readonly Delivery[]): LeadTime {
  const days = came.map((delivery) => delivery.days);
  const enough = days.length >= ENOUGH_DELIVERIES;
  return {
    supplier,
    count: days.length,
    median: enough ? quantile(days, 0.5) : null,
    ninety: enough ? quantile(days, 0.9) : null,
    promised: came.filter(({ late }) => late !== null).length,
    late: came.filter(({ late }) => late === true).length,
  };
}

/** When a part on order can be expected: a range of days, and why. */
export interface Arrival {
  readonly part: string;
  readonly earliest: string;
  readonly latest: string;
  readonly because: string;
}

/**
 * When a part on order will come: between the day it is due (or, where the supplier's record says so, its
 * median lead time) and the supplier's 90th percentile; never before the day asked about. A part of which
 * nothing tells has no arrival.
 */
export function arrivalOf(part: PartState, lead: LeadTime | undefined, asOf: string): Arrival | null {
  if (part.now !== 'ordered' || part.ordered === null) return null;
  const notBefore = (day: string) => (day < asOf ? asOf : day);
  const median = lead?.median == null ? null : addDays(part.ordered, Math.round(lead.median));
  const ninety = lead?.ninety == null ? null : addDays(part.ordered, Math.round(lead.ninety));
  const first = part.due ?? median;
  if (first === null) return null;
  const earliest = notBefore(first);
  const late = notBefore(ninety === null || ninety < earliest ? earliest : ninety);
  const promise = part.due === null ? '' : `promised for ${part.due}`;
  const record =
    lead?.median == null
      ? ''
      : `${lead.supplier} takes ${Math.round(lead.median)} days in the middle and up to ${Math.round(lead.ninety ?? lead.median)} (${lead.count} deliveries)`;
  return {
    part: part.id,
    earliest,
    latest: late,
    because: [promise, record].filter((text) => text !== '').join('; '),
  };
}
